"""Pictures of every family: sound XML, nothing over anything else, all that was promised on them."""

from __future__ import annotations

import re
from itertools import combinations, pairwise
from xml.etree import ElementTree

import numpy as np
import pytest

from boxed import BOXES, boxed
from sordino.assess.box_answer import indoor_air, standing
from sordino.assess.box_picture import BoxPicture, box_picture
from sordino.report.drawing import palette, section
from sordino.report.drawing.box_sheet import box_sheet, caption_of, silent
from sordino.report.drawing.records import Area, Clipped, Ring, Sheet, Text, meet
from sordino.report.drawing.svg import svg
from sordino.report.drawing.view import View

AT = (80.0, 160.0, 320.0)
CASES = [(name, units) for name in BOXES for units in ("metric", "inch")]


@pytest.fixture(scope="module")
def pictures() -> dict[str, BoxPicture]:
    found = {}
    for name in BOXES:
        plan = boxed(name)
        built = standing(plan, name).built
        found[name] = box_picture(built.build, built.section, indoor_air(plan), AT)
    return found


@pytest.fixture(params=CASES, ids=lambda case: f"{case[0]}-{case[1]}")
def drawn(request: pytest.FixtureRequest, pictures: dict[str, BoxPicture]) -> tuple[str, str, BoxPicture, Sheet]:
    name, units = request.param
    return name, units, pictures[name], box_sheet(pictures[name], name, units)


def test_lettering_lies_on_the_sheet_and_on_no_other(drawn: tuple[str, str, BoxPicture, Sheet]) -> None:
    sheet = drawn[3]
    for text in sheet.texts:
        left, upper, right, lower = text.box
        assert left >= 0.0, text
        assert upper >= 0.0, text
        assert right <= sheet.width, text
        assert lower <= sheet.height, text
    for one, other in combinations(sheet.texts, 2):
        assert not meet(one.box, other.box), (one, other)


def test_it_is_xml_with_all_that_belongs_on_it(drawn: tuple[str, str, BoxPicture, Sheet]) -> None:
    name, units, picture, sheet = drawn
    root = ElementTree.fromstring(svg(sheet))
    words = " ".join(root.itertext())
    for wanted in ("inlet", "outlet", "Casing, from inside", "Level in dB re the wave", f"Box {name}"):
        assert wanted in words
    for seen in picture.slices:
        assert caption_of(seen) in words
    assert (" mm" in words) == (units == "metric")
    assert (" in" in words.replace("from in", "").replace(" inlet", "")) or units == "metric"
    assert root.attrib["width"].endswith("mm")
    assert "nan" not in svg(sheet)
    assert "inf" not in svg(sheet).replace("infinity", "")


def test_figures_lie_where_sound_is(drawn: tuple[str, str, BoxPicture, Sheet]) -> None:
    """Whole multiples of 3 dB on plates, some in every drawing."""
    figures = [text for text in drawn[3].texts if text.plate and text.text.lstrip("−").isdigit()]
    assert len(figures) >= 3
    assert all(int(text.text.replace("−", "-")) % 3 == 0 for text in figures)


def test_each_panel_has_areas_of_several_colours(drawn: tuple[str, str, BoxPicture, Sheet]) -> None:
    panels = [item for item in drawn[3].items if isinstance(item, Clipped) and len(item.items) > 3]
    assert len(panels) == len(AT)
    for panel in panels:
        assert len({item.fill for item in panel.items if isinstance(item, Area)}) >= 2
        assert {item.fill for item in panel.items if isinstance(item, Area)} <= {*palette.colours()}


def test_the_level_falls_by_what_the_box_takes(pictures: dict[str, BoxPicture]) -> None:
    """Into an endless outlet duct the level at the mouth is that of the wave which leaves: the loss, in level."""
    for seen in pictures["serpentine"].slices:
        near_outlet = seen.level[np.argmin(np.abs(seen.z - 0.3795)), 0]
        assert near_outlet == pytest.approx(-seen.loss, abs=3.0)


def luminance(colour: str) -> float:
    """Relative luminance of a colour, 0 to 1 (IEC 61966-2-1)."""
    parts = [int(colour[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_colours_go_one_way_from_dark_to_pale() -> None:
    light = [luminance(colour) for colour in palette.colours()]
    assert all(one > other for one, other in pairwise(light))
    assert min(light) > 0.05
    assert len(palette.colours()) == len(palette.edges()) + 1
    assert {high - low for low, high in pairwise(palette.edges())} == {palette.STEP}


def test_casing_layers_are_as_thick_as_stated(pictures: dict[str, BoxPicture]) -> None:
    roof = pictures["roof"]
    names = [name for name, _, _ in section.named_edges(roof.made.prism)]
    assert names == ["floor", "right", "right slope", "ceiling", "left"]
    outer = section.outer_corners(roof.box, roof.made.prism)
    assert outer[0] == pytest.approx((-0.018, -0.036))
    assert outer[1] == pytest.approx((0.718, -0.036))
    whole = sum(_area(layer.ring) for layer in section.casing(roof.box, roof.made.prism))
    inside = 0.7 * 0.45 - 0.3 * 0.2 / 2.0
    assert whole == pytest.approx(_area(outer) - inside, rel=1e-9)


def test_fibre_is_drawn_where_it_is(pictures: dict[str, BoxPicture]) -> None:
    """The middle section of the straight box holds 2 x 50 mm of fibre over 0.8 m."""
    rings = section.fibre(pictures["straight"].made.prism)
    assert sum(_area(ring) for ring in rings) == pytest.approx(2 * 0.05 * 0.8, rel=0.03)


def test_a_slope_and_a_divider_are_silent(pictures: dict[str, BoxPicture]) -> None:
    view = View(left=0.0, lower=450.0, scale=1000.0)
    strips = silent(pictures["roof"].slices[0], view)
    whole = sum((right - left) * (lower - upper) for left, upper, right, lower in strips)
    assert whole == pytest.approx(0.018e3 * 0.25e3 + 300.0 * 200.0 / 2.0, rel=0.05)


def test_lettering_is_escaped() -> None:
    text = Text(at=(1.0, 2.0), text='a < b & "c"')
    sheet = Sheet(width=50.0, height=10.0, title="<&>", description="x", items=(text,))
    root = ElementTree.fromstring(svg(sheet))
    assert 'a < b & "c"' in " ".join(root.itertext())


def _area(ring: Ring) -> float:
    corners = np.array(ring)
    x, z = corners.T
    return abs(float(np.dot(x, np.roll(z, 1)) - np.dot(z, np.roll(x, 1)))) / 2.0


def test_one_frequency_gets_one_wide_panel(pictures: dict[str, BoxPicture]) -> None:
    one = BoxPicture(
        box=pictures["roof"].box,
        section=pictures["roof"].section,
        made=pictures["roof"].made,
        slices=pictures["roof"].slices[:1],
    )
    words = svg(box_sheet(one, "roof", "metric"))
    assert len(re.findall(r"Hz: takes", words)) == 1
