"""Where a profile lies on the paper."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sordino.report.drawing.records import XY, Ring


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """A profile in metres, z up, on paper in millimetres, y down: `left` and `lower` are where its origin lies."""

    left: float
    lower: float
    scale: float
    """Millimetres of paper for a metre."""

    def at(self, x: float, z: float) -> XY:
        """A point of the profile on paper."""
        return self.left + self.scale * x, self.lower - self.scale * z

    def ring(self, points: Ring) -> Ring:
        """Several points."""
        return tuple(self.at(x, z) for x, z in points)


def wrapped(text: str, letters: int) -> list[str]:
    """Lines of at most so many letters."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        lines = [*lines[:-1], longer] if len(longer) <= letters or not lines[-1] else [*lines, word]
    return lines


def length(points: Ring) -> float:
    """Length of a line."""
    return sum(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for a, b in pairwise(points))
