"""The sizes of a view: of the inside and of the outside, under it and at its right."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.report.drawing.measures import LETTERS, ROW, figure, level, standing
from sordino.report.drawing.records import XY, Item, Text
from sordino.report.drawing.view import View
from sordino.units import System

Extent = tuple[float, float, float, float]


def view_sizes(inside: XY, size: Extent, view: View, clear: XY, units: System) -> Iterator[Item]:
    """The nearer line is the inside's; `clear` is the room that ducts take at the right and below, mm."""
    base = view.at(0.0, size[1])[1]
    y = base + LETTERS + 2.6 + ROW + clear[1]
    for row, (a, b) in enumerate(((0.0, inside[0]), (size[0], size[2]))):
        ends = (view.at(a, 0.0)[0], base + 1.0), (view.at(b, 0.0)[0], base + 1.0)
        yield from level(*ends, y + row * ROW, figure(b - a, units))
    side = view.at(size[2], 0.0)[0]
    x = side + LETTERS + 2.2 + ROW + clear[0]
    yield from _heights(((0.0, inside[1]), (size[1], size[3])), side + 1.0, x, view, units)


def _heights(spans: tuple[XY, XY], side: float, x: float, view: View, units: System) -> Iterator[Item]:
    """Both figures along their lines, or beyond them where a line is too short."""
    drawn = [
        list(
            standing(
                (side, view.at(0.0, a)[1]),
                (side, view.at(0.0, b)[1]),
                x + row * (ROW + 0.6),
                figure(b - a, units),
            )
        )
        for row, (a, b) in enumerate(spans)
    ]
    short = any(
        Text(at=(0.0, 0.0), text=figure(b - a, units), size=LETTERS).length > view.scale * (b - a) for a, b in spans
    )
    for row, (items, (a, b)) in enumerate(zip(drawn, spans, strict=True)):
        yield from (item for item in items if not (short and isinstance(item, Text)))
        if short:
            at = (x + ROW + 2.6, view.at(0.0, (a + b) / 2.0)[1] + (row * 1.4 - 0.2) * LETTERS)
            yield Text(at=at, text=figure(b - a, units), size=LETTERS)
