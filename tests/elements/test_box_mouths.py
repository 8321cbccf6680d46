"""Where ducts may meet a box: a cure that is followed is a box that can be laid out."""

from __future__ import annotations

import re

import pytest

from boxed import boxed
from sordino.errors import PlanError

TWO = '{ face = "left", along = "%s" }'


def told(name: str, **changed: str) -> str:
    with pytest.raises(PlanError) as refused:
        boxed(name, **changed)
    return str(refused.value)


def test_mouths_that_overlap_are_told_apart() -> None:
    """Two ducts of 125 mm whose middles lie 50 mm apart on one face."""
    said = told("sideways", inlet=TWO % "150 mm", outlet=TWO % "200 mm")
    assert "overlap on the left" in said
    assert "at least 125 mm apart" in said
    boxed("sideways", inlet=TWO % "100 mm", outlet=TWO % "300 mm")


@pytest.mark.parametrize("along", ["20 mm", "195 mm", "390 mm"])
def test_the_place_that_is_named_can_be_taken(along: str) -> None:
    """Off the face below or above, or on the divider: the middle of the named stretch does."""
    said = told("labyrinth", inlet=TWO % along)
    low, high = (float(text) for text in re.findall(r"between ([\d.]+) mm and ([\d.]+) mm", said)[0])
    middle = (low + high) / 2.0
    outlet = TWO % ("110 mm" if middle > 200 else "315 mm")
    boxed("labyrinth", inlet=TWO % f"{middle:.0f} mm", outlet=outlet)


def test_a_slope_that_leaves_no_end_is_told() -> None:
    said = told("roof", left_slope='{ run = "0.2 m", drop = "0.44 m" }')
    assert "left" in said


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"left_slope": '{ run = "0.9 m", drop = "0.1 m" }'}, "longer or deeper than the box"),
        ({"faces": '{ "left slope" = [{ board = "plywood", thickness = "18 mm" }] }'}, "there is none"),
        ({"dividers": '[{ from = ["200 mm", "100 mm"], to = ["500 mm", "300 mm"] }]'}, "is a block"),
        ({"core": '"20 kg/m2"'}, "is no film"),
    ],
)
def test_what_is_no_box_is_refused(changed: dict[str, str], words: str) -> None:
    assert words in told("roof", **changed)
