"""The place of a box in a run, and the statement of the box that stands there."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from elements.made import made, refusal, with_box
from sordino.elements.box import Box
from sordino.elements.built_box import BuiltBox
from sordino.elements.lined_box import LinedBox
from sordino.errors import PlanError
from sordino.quantities import Size

LABYRINTH: dict[str, Any] = {
    "family": "labyrinth",
    "length": "1.2 m",
    "width": "0.6 m",
    "height": "0.62 m",
    "passes": 2,
}
STRAIGHT: dict[str, Any] = {"family": "straight", "length": "1.2 m", "width": "0.4 m", "height": "0.4 m", "passes": 1}


def test_a_place_is_called_by_its_box() -> None:
    """And nothing else can be stated there."""
    part = made("lined box", box="quiet")
    assert type(part) is LinedBox
    assert part.label() == "box quiet"
    assert "box" in refusal("lined box")


def test_the_plan_builds_the_box_into_its_place() -> None:
    """As stated, for the run's section."""
    part = with_box("160 mm", **LABYRINTH).run["way"].parts[0]
    assert isinstance(part, BuiltBox)
    assert part.label() == "box quiet"
    assert part.section == Size.circle(0.16)
    assert part.build == Box.model_validate(LABYRINTH)
    assert part.field is None


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        (STRAIGHT | {"passes": 2}, "one pass"),
        (LABYRINTH | {"passes": 0}, "passes"),
        (LABYRINTH | {"family": "maze"}, "family"),
        (LABYRINTH | {"shell": []}, "shell"),
        (LABYRINTH | {"family": "custom"}, "where its ducts join"),
        (LABYRINTH | {"linings": [{"face": "floor", "thickness": "50 mm"}]}, "lays out its own linings"),
        (LABYRINTH | {"shell": [{"damping": True}]}, "no board"),
        (LABYRINTH | {"length": "12 m"}, "no size for a box"),
    ],
)
def test_what_no_box_is(fields: dict[str, Any], words: str) -> None:
    """Two passes in a straight box, no pass, no such family, no shell, no mouths, two layouts, no board, a house."""
    with pytest.raises(ValidationError, match=words):
        Box.model_validate(fields)


def test_a_box_without_room_for_air_is_no_box() -> None:
    """200 mm high: two passes of 91 mm, less 100 mm of lining."""
    with pytest.raises(PlanError, match="passage"):
        with_box(**(LABYRINTH | {"height": "0.2 m"}))
