"""Parts and stock sheets as DXF (R2010, millimetres) for a machine that cuts them."""

from __future__ import annotations

import io
import sys
from contextlib import redirect_stdout
from typing import Any

from sordino.build.cutting.records import Layout
from sordino.build.part import Hole, Part
from sordino.elements.box_planes import Flat

LAYERS = {
    "OUTLINE": (7, "what is cut out, at the long points"),
    "HOLES": (1, "what is cut out of a part"),
    "INNER SIDE": (8, "the edge of the inner side where a bevel makes it differ"),
    "OUTER SIDE": (9, "the edge of the outer side where a bevel makes it differ"),
    "LABELS": (3, "names, not to be cut"),
    "STOCK": (5, "the sheet as it is bought"),
    "SAW CUTS": (6, "cuts from edge to edge, in the middle of the kerf"),
    "KEEP": (4, "offcuts worth keeping"),
}
"""Each layer with its colour and what lies on it."""
PART_LAYERS = ("OUTLINE", "HOLES", "INNER SIDE", "OUTER SIDE", "LABELS")
SAME = 0.001
"""Rings nearer than this are the same, mm."""


def part_dxf(part: Part) -> bytes:
    """One part, its lower left corner at the origin, seen from its outer side."""
    document, space = _begun(PART_LAYERS)
    _ring(space, part.outline, "OUTLINE")
    for name, ring in (("INNER SIDE", part.inner), ("OUTER SIDE", part.outer)):
        if _differ(ring, part.outline):
            _ring(space, ring, name)
    for hole in part.holes:
        _hole(space, hole)
    _label(space, part.label, (part.size[0] / 2.0, part.size[1] / 2.0), part.size)
    return _written(document)


def layout_dxf(layout: Layout) -> bytes:
    """One sheet of the stock with its parts, its lower left corner at the origin."""
    document, space = _begun(tuple(LAYERS))
    stock = layout.sheet
    _ring(space, _rectangle(0.0, 0.0, stock.length, stock.width), "STOCK")
    for one in layout.placed:
        _ring(space, one.outline, "OUTLINE")
        for hole in one.holes:
            _hole(space, hole)
        _label(space, one.label, (one.x + one.size[0] / 2.0, one.y + one.size[1] / 2.0), one.size)
    for cut in layout.cuts:
        space.add_line(cut.first, cut.last, dxfattribs={"layer": "SAW CUTS"})
    for rest in layout.offcuts:
        if rest.kept:
            _ring(space, _rectangle(rest.x, rest.y, rest.length, rest.width), "KEEP")
    return _written(document)


def _begun(layers: tuple[str, ...]) -> tuple[Any, Any]:
    with redirect_stdout(sys.stderr):  # it speaks of a cache that it can't write, and stdout may hold our JSON
        from ezdxf import units
        from ezdxf.filemanagement import new

    document = new("R2010", units=units.MM)
    for name in layers:
        colour, words = LAYERS[name]
        document.layers.add(name, color=colour).description = words
    return document, document.modelspace()


def _ring(space: Any, ring: tuple[Flat, ...], layer: str) -> None:
    space.add_lwpolyline(ring, close=True, dxfattribs={"layer": layer})


def _rectangle(x: float, y: float, length: float, width: float) -> tuple[Flat, ...]:
    return (x, y), (x + length, y), (x + length, y + width), (x, y + width)


def _hole(space: Any, hole: Hole) -> None:
    if hole.diameter is not None:
        space.add_circle(hole.centre, hole.diameter / 2.0, dxfattribs={"layer": "HOLES"})
        return
    (u, v), (a, b) = hole.centre, hole.half
    if hole.rounded:
        long = (a, 0.0) if a >= b else (0.0, b)
        space.add_ellipse(hole.centre, long, min(a, b) / max(a, b), dxfattribs={"layer": "HOLES"})
        return
    _ring(space, _rectangle(u - a, v - b, 2.0 * a, 2.0 * b), "HOLES")


def _label(space: Any, label: str, at: Flat, room: Flat) -> None:
    """In the middle of a part, as tall as it has room for."""
    from ezdxf.enums import TextEntityAlignment

    height = max(min(20.0, 0.9 * room[0] / len(label), 0.5 * room[1]), 1.0)
    text = space.add_text(label, height=height, dxfattribs={"layer": "LABELS"})
    text.set_placement(at, align=TextEntityAlignment.MIDDLE_CENTER)


def _differ(one: tuple[Flat, ...], other: tuple[Flat, ...]) -> bool:
    return len(one) != len(other) or any(
        abs(a - c) > SAME or abs(b - d) > SAME for (a, b), (c, d) in zip(one, other, strict=True)
    )


def _written(document: Any) -> bytes:
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")
