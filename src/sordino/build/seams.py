"""Where boards meet: every joint that wants a bead and screws, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from sordino.build.part import Part


@dataclass(frozen=True, kw_only=True, slots=True)
class Seam:
    """The joint of two boards, by their labels."""

    first: str
    second: str
    length: float


def seams(parts: tuple[Part, ...]) -> tuple[Seam, ...]:
    """Each joint of boards once: of panels in one layer, of dividers with the innermost one and with each other."""
    found: dict[tuple[str, str], float] = {}
    for part in parts:
        for other, length in _met(part, parts):
            pair = (part.label, other.label) if part.label < other.label else (other.label, part.label)
            found[pair] = min(found.get(pair, length), length)
    return tuple(Seam(first=first, second=second, length=length) for (first, second), length in found.items())


def _met(part: Part, parts: tuple[Part, ...]) -> Iterator[tuple[Part, float]]:
    corners = (*part.outline, part.outline[0])
    for index, edge in enumerate(part.edges):
        (a, b), (c, d) = corners[index], corners[index + 1]
        for other in parts:
            level = other.level if other.kind == "divider" else part.level if part.kind == "panel" else 0
            if other.face == edge.meets and other.level == level:
                yield other, hypot(c - a, d - b)


def perimeter(part: Part) -> float:
    """All round a board, mm."""
    ring = part.outline
    return sum(hypot(c - a, d - b) for (a, b), (c, d) in zip(ring, (*ring[1:], ring[0]), strict=True))
