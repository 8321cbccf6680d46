"""Holes at their true size, tiled over as many pages as they take, to be laid on the board and cut round."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from sordino.build.part import Hole
from sordino.kinds import INCH
from sordino.report.drawing.measures import measure
from sordino.report.drawing.records import XY, Area, Clipped, Item, Ring, Sheet, Stroke, Text, rectangle
from sordino.units import System

LAP = 10.0
"""By which neighbouring tiles overlap, mm."""
SPARE = 6.0
"""Between the hole and the edge of what is tiled, mm."""
HEAD = 16.0
"""Room for the words of a tile, mm."""
AXIS = (6.0, 1.0, 1.0, 1.0)


def template(hole: Hole, serves: str, room: XY, units: System) -> tuple[Sheet, ...]:
    """The tiles of one hole, row by row from the upper left."""
    half = hole.half
    whole = (2.0 * (half[0] + SPARE), 2.0 * (half[1] + SPARE))
    net = (room[0], room[1] - HEAD)
    counts = tuple(max(ceil((side - LAP) / (tile - LAP)), 1) for side, tile in zip(whole, net, strict=True))
    tiles = []
    for row in range(counts[1]):
        for column in range(counts[0]):
            corner = (_start(column, counts[0], net[0]), _start(row, counts[1], net[1]))
            place = f"tile {row * counts[0] + column + 1} of {counts[0] * counts[1]}"
            if counts[0] * counts[1] > 1:
                place += f": row {row + 1}, column {column + 1}"
            tiles.append(_tile(hole, serves, place, corner, net, units))
    return tuple(tiles)


def _start(index: int, count: int, tile: float) -> float:
    """Where a tile begins, from the middle of the hole; all of them together lie about it."""
    spread = count * tile - (count - 1) * LAP
    return index * (tile - LAP) - spread / 2.0


def _tile(hole: Hole, serves: str, place: str, corner: XY, net: XY, units: System) -> Sheet:
    size = (
        f"Ø {measure(hole.diameter, units)}"
        if hole.diameter is not None
        else " x ".join(measure(side, units) for side in hole.whole) + (" ellipse" if hole.axes else "")
    )
    shift = (-corner[0], HEAD - corner[1])
    frame = rectangle(0.0, HEAD, net[0], HEAD + net[1])
    a, b = hole.half
    cross = (
        Stroke(points=_shifted(((-a - SPARE, 0.0), (a + SPARE, 0.0)), shift), width=0.2, dash=AXIS),
        Stroke(points=_shifted(((0.0, -b - SPARE), (0.0, b + SPARE)), shift), width=0.2, dash=AXIS),
    )
    outline = _outline(hole)
    line = Stroke(points=_shifted((*outline, outline[0]), shift), width=0.35)
    items: list[Item] = [
        Text(at=(0.0, 3.0), text=f"Hole {size}, {place}", size=2.8, bold=True),
        Text(at=(0.0, 6.4), text=serves, size=2.1),
        Stroke(points=(*frame, frame[0]), width=0.1, dash=(0.6, 1.2)),
        Clipped(within=(frame,), items=(line, *cross)),
        *_ruler(units),
    ]
    title = f"Template of a hole {size}, {place}"
    return Sheet(width=net[0], height=net[1] + HEAD, title=title, description=title, items=tuple(items))


def _outline(hole: Hole) -> Ring:
    from math import cos, pi, sin

    a, b = hole.half
    if not hole.rounded:
        return (-a, -b), (a, -b), (a, b), (-a, b)
    return tuple((a * cos(2.0 * pi * step / 180), b * sin(2.0 * pi * step / 180)) for step in range(180))


def _shifted(ring: Ring, by: XY) -> Ring:
    return tuple((x + by[0], y + by[1]) for x, y in ring)


def _ruler(units: System) -> Iterator[Item]:
    """A bar to be measured after printing."""
    long = 1e3 * 4.0 * INCH if units == "inch" else 100.0
    yield Area(rings=(rectangle(0.0, 10.5, long / 2.0, 12.5),), fill="#222222", stroke="#222222", width=0.1)
    yield Area(rings=(rectangle(long / 2.0, 10.5, long, 12.5),), fill="#ffffff", stroke="#222222", width=0.1)
    words = f"must measure {measure(long, units)}"
    yield Text(at=(long + 2.0, 12.3), text=words, size=2.2)
