"""Ducts at a slant on paper: along their own direction in the section, as ellipses on boards and in DXF."""

from __future__ import annotations

import io
from math import cos, radians, sin

import pytest
from ezdxf.filemanagement import read as read_dxf

from boxed import boxed
from built import built
from sordino.elements.built_box import BuiltBox
from sordino.plan.statement import Plan
from sordino.report.drawing import section
from sordino.report.drawing.boards import board_sheets
from sordino.report.drawing.bodies import hole_ring
from sordino.report.drawing.dxf import part_dxf
from sordino.report.drawing.records import Sheet, Text
from sordino.report.drawing.templates import template
from sordino.report.drawing.views import mouth_size

INLET = '{ face = "left", along = "125 mm", slant = "35 deg" }'
OUTLET = '{ face = "right slope", along = "180 mm", slant = "20 deg" }'


def part_of(plan: Plan) -> BuiltBox:
    return next(part for run in plan.run.values() for part in run.parts if isinstance(part, BuiltBox))


def test_the_section_shows_the_way_a_duct_goes() -> None:
    """Up and out of the left at 35 degrees; through the slope, which lies back 33.7, at 13.7 from upright."""
    box = part_of(boxed("roof", inlet=INLET, outlet=OUTLET))
    inlet, outlet = section.openings(box.build, box.layout.prism)
    assert inlet is not None
    assert outlet is not None
    assert inlet.outward == pytest.approx((-cos(radians(35)), sin(radians(35))))
    assert outlet.outward == pytest.approx((sin(radians(13.690)), cos(radians(13.690))), abs=1e-5)
    assert inlet.second[1] - inlet.first[1] == pytest.approx(0.125 / cos(radians(35)))
    assert inlet.depth == pytest.approx(0.018 / cos(radians(35)))


def test_boards_templates_and_dxf_bear_the_ellipse() -> None:
    kit = built("roof", inlet=INLET, outlet=OUTLET)
    part = next(one for one in kit.parts if one.face == "left")
    (hole,) = part.holes
    long, short = hole.whole
    ring = hole_ring(part, 0, 360)
    assert max(u for u, _ in ring) - min(u for u, _ in ring) == pytest.approx(long)
    assert max(v for _, v in ring) - min(v for _, v in ring) == pytest.approx(short)
    (drawn,) = read_dxf(io.StringIO(part_dxf(part).decode())).modelspace().query("ELLIPSE")
    assert 2.0 * drawn.dxf.major_axis.magnitude == pytest.approx(long)
    assert drawn.dxf.ratio == pytest.approx(short / long)
    assert tuple(drawn.dxf.center)[:2] == pytest.approx(hole.centre)
    assert all("ellipse" in sheet.title for sheet in template(hole, "", (180.0, 240.0), "metric"))
    words = " ".join(
        item.text for sheet in board_sheets(kit.parts, (180.0, 240.0), "", "metric") for item in texts(sheet)
    )
    assert "ellipse" in words


def texts(sheet: Sheet) -> list[Text]:
    return [item for item in sheet.items if isinstance(item, Text)]


def test_views_say_how_far_off_square() -> None:
    kit = built("roof", inlet=INLET)
    assert mouth_size(kit.openings[0], "metric") == "Ø 125, 35° off square"
    assert mouth_size(kit.openings[1], "metric") == "Ø 125"
