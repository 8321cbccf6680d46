"""DXF read again by a library: the same polygons, holes and labels, in millimetres, on layers of known names."""

from __future__ import annotations

import io
from collections import Counter
from typing import Any

import pytest
from ezdxf import units as dxf_units
from ezdxf.filemanagement import read as read_dxf

from booked import book, example
from boxed import BOXES
from sordino.build.part import Hole, Part
from sordino.elements.box_planes import Flat
from sordino.report.book.material import Material
from sordino.report.drawing.dxf import LAYERS, layout_dxf, part_dxf

NEAR = 1e-6


@pytest.fixture(params=["mill-loft.toml", *BOXES])
def made(request: pytest.FixtureRequest) -> Material:
    return example(request.param) if request.param.endswith(".toml") else book(request.param)


def read(data: bytes) -> Any:
    document = read_dxf(io.StringIO(data.decode("utf-8")))
    assert document.dxfversion == "AC1024", "R2010"
    assert document.units == dxf_units.MM
    assert not document.audit().errors
    assert {layer.dxf.name for layer in document.layers} <= {*LAYERS, "0", "Defpoints"}
    return document.modelspace()


def rings(space: Any, layer: str) -> list[tuple[Flat, ...]]:
    found = [line for line in space.query("LWPOLYLINE") if line.dxf.layer == layer]
    assert all(line.closed for line in found)
    return [tuple((x, y) for x, y in line.get_points("xy")) for line in found]


def circles(space: Any) -> list[tuple[float, float, float]]:
    return sorted((one.dxf.center.x, one.dxf.center.y, 2.0 * one.dxf.radius) for one in space.query("CIRCLE"))


def near(one: tuple[Flat, ...], other: tuple[Flat, ...]) -> bool:
    return len(one) == len(other) and all(
        abs(a - c) < NEAR and abs(b - d) < NEAR for (a, b), (c, d) in zip(one, other, strict=True)
    )


def alike(one: list[tuple[float, float, float]], other: list[tuple[float, float, float]]) -> bool:
    return len(one) == len(other) and all(a == pytest.approx(b, abs=NEAR) for a, b in zip(one, other, strict=True))


def round_holes(holes: tuple[Hole, ...]) -> list[tuple[float, float, float]]:
    return sorted((*hole.centre, hole.diameter) for hole in holes if hole.diameter is not None)


def test_a_part_comes_back_as_it_is(made: Material) -> None:
    for one in made.boxes:
        for part in one.kit.parts:
            space = read(part_dxf(part))
            (outline,) = rings(space, "OUTLINE")
            assert near(outline, part.outline)
            assert alike(circles(space), round_holes(part.holes))
            assert [text.dxf.text for text in space.query("TEXT")] == [part.label]
            _both_sides(space, part)


def _both_sides(space: Any, part: Part) -> None:
    for layer, ring in (("INNER SIDE", part.inner), ("OUTER SIDE", part.outer)):
        drawn = rings(space, layer)
        assert len(drawn) <= 1
        assert near(drawn[0] if drawn else part.outline, ring) or near(ring, part.outline)
    if part.bevelled:
        assert rings(space, "INNER SIDE") or rings(space, "OUTER SIDE")


def test_a_sheet_comes_back_with_its_parts_and_cuts(made: Material) -> None:
    for layout in made.cutting.layouts:
        space = read(layout_dxf(layout))
        (stock,) = rings(space, "STOCK")
        assert (max(x for x, _ in stock), max(y for _, y in stock)) == (layout.sheet.length, layout.sheet.width)
        outlines = rings(space, "OUTLINE")
        assert len(outlines) == len(layout.placed)
        for drawn, one in zip(outlines, layout.placed, strict=True):
            assert near(drawn, one.outline)
        assert alike(circles(space), sorted(each for one in layout.placed for each in round_holes(one.holes)))
        assert Counter(text.dxf.text for text in space.query("TEXT")) == Counter(one.label for one in layout.placed)
        assert len(space.query("LINE")) == len(layout.cuts)


def test_a_square_hole_comes_back_as_a_ring() -> None:
    part = book("labyrinth").boxes[0].kit.parts[0]
    hole = Hole(label="inlet", centre=(100.0, 80.0), sides=(60.0, 40.0))
    (ring,) = rings(read(part_dxf(part.cut_through((hole,)))), "HOLES")
    assert ring == ((70.0, 60.0), (130.0, 60.0), (130.0, 100.0), (70.0, 100.0))
