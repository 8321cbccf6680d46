"""Holes for the ducts."""

from __future__ import annotations

import pytest

from built import built
from sordino.elements.box_clash import Clash

DOUBLE = '[{ board = "plywood", thickness = "18 mm" }, { board = "MDF", thickness = "12 mm" }]'


def test_a_hole_is_as_wide_as_its_duct_and_the_room_round_it() -> None:
    """125 mm and 2 mm all round; in the middle of an end of 250 x 250 mm."""
    kit = built("straight", shell=DOUBLE)
    for mouth in kit.openings:
        layers = [part for part in kit.panels if part.face == mouth.face]
        assert [part.level for part in layers] == [0, 1]
        for part in layers:
            (hole,) = part.holes
            assert hole.diameter == pytest.approx(129.0)
            assert hole.centre == pytest.approx((part.size[0] / 2.0, part.size[1] / 2.0))


def test_no_other_board_has_a_hole() -> None:
    kit = built("labyrinth")
    faces = {mouth.face for mouth in kit.openings}
    assert {part.face for part in kit.parts if part.holes} == faces


def test_two_mouths_in_one_face_are_two_holes() -> None:
    kit = built("labyrinth")
    (left,) = [part for part in kit.panels if part.face == "left"]
    assert [hole.label for hole in left.holes] == ["inlet", "outlet"]
    assert left.mass == pytest.approx(600e-9 * (300 * 420 - 2 * 3.14159265 * 64.5**2) * 18.0, rel=1e-6)


def test_a_duct_against_a_wall_has_what_room_there_is() -> None:
    """126 mm wide inside for a duct of 125: half a millimetre each side."""
    kit = built("sideways", width='"126 mm"', outlet='{ face = "floor", along = "400 mm" }')
    assert kit.openings[0].clearance == pytest.approx(0.5)
    assert kit.openings[0].tight
    assert kit.openings[1].hole[0] == pytest.approx(126.0)


def test_a_duct_that_meets_the_slope_beside_it_is_refused() -> None:
    with pytest.raises(Clash, match="outlet runs into the wall beside it"):
        built("roof", outlet='{ face = "front", along = "600 mm", across = "320 mm" }')
