"""Screws of one box, from the distances at which they stand, by length."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import ceil

from sordino.build.kit import Kit
from sordino.build.part import Part, Stick
from sordino.build.rules import rule
from sordino.build.seams import perimeter, seams
from sordino.tables import table

MM = 1e3


def screws(kit: Kit) -> dict[float, int]:
    """How many of each length, mm, without spares."""
    found: Counter[float] = Counter()
    for length, count in _screws(kit):
        found[length] += count
    return dict(sorted(found.items()))


def in_row(length: float, apart: float) -> int:
    """Screws along a joint, one at each end and none farther apart."""
    return ceil(length / apart - 1e-9) + 1


def long_enough(least: float) -> float:
    """The shortest screw sold that is as long, or the longest there is."""
    sold = table("build/screw").numbers("length")
    fitting = sold[sold >= least - 1e-6]
    return float(fitting.min() if len(fitting) else sold.max())


def _screws(kit: Kit) -> Iterator[tuple[float, int]]:
    """Along every joint, through sticks into both boards, round and over every outer layer."""
    apart, bite = MM * kit.building.screws, rule("bite")
    labels = {part.label: part for part in kit.parts}
    for seam in seams(kit.parts):
        thick = max(labels[seam.first].thickness, labels[seam.second].thickness)
        yield long_enough(bite * thick), in_row(seam.length, apart)
    for stick in kit.sticks:
        for name in dict.fromkeys(stick.joins):
            yield long_enough(_through(kit, stick, name)), in_row(stick.length, apart)
    for part in kit.panels:
        if part.level > 0:
            yield long_enough(bite * part.thickness), _over(part, apart)


def _through(kit: Kit, stick: Stick, name: str) -> float:
    """Through the board and most of the stick."""
    board = next((part for part in kit.parts if part.face == name and part.level == stick.level), None)
    return (board.thickness if board is not None else 0.0) + 0.8 * min(stick.size)


def _over(part: Part, apart: float) -> int:
    """All round an outer layer, and over its field."""
    field = rule("field")
    inner = [max(side - 2.0 * field, 0.0) / field for side in part.size]
    return ceil(perimeter(part) / apart) + (ceil(inner[0]) + 1) * (ceil(inner[1]) + 1) * (min(part.size) > field)
