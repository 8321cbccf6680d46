"""The order of work."""

from __future__ import annotations

import pytest

from boxed import BOXES
from built import built
from sordino.build.steps import steps

HEAVY = '[{ board = "cement board", thickness = "90 mm" }]'
DOUBLE = '[{ board = "plywood", thickness = "18 mm" }, { damping = true }, { board = "MDF", thickness = "12 mm" }]'


@pytest.mark.parametrize("name", sorted(BOXES))
def test_each_part_is_named_in_the_work_of_its_step(name: str) -> None:
    for step in steps(built(name), "metric"):
        for label in step.parts:
            assert any(label in sentence.replace(":", " ").replace(",", " ").split() for sentence in step.work), label


def test_the_wall_opposite_the_opening_comes_first_and_the_lid_last() -> None:
    kit = built("labyrinth", shell=DOUBLE)
    placed = [one.piece for one in kit.order]
    assert placed[0].label == next(part.label for part in kit.panels if part.face == "back")
    assert [piece.label for piece in placed[-2:]] == [part.label for part in kit.lid]


def test_every_bead_is_laid_against_what_stands() -> None:
    """The back is screwed to nothing; the ceiling goes onto both ends and the back, which stand by then."""
    told = {step.title: step.work[0] for step in steps(built("straight"), "metric")}
    assert told["Set up the back"].startswith("A6 first")
    assert told["Set up the ceiling"].startswith("A4 against A1, A2 and A6:")
    assert "150 mm apart" in told["Set up the ceiling"]


def test_the_open_face_is_measured() -> None:
    """800 x 250 mm inside: diagonals of 838.2 mm."""
    checks = [check for step in steps(built("straight"), "metric") for check in step.checks]
    assert "both diagonals of the open front measure 838.2 mm inside" in checks


def test_compound_goes_under_the_board_that_has_it() -> None:
    told = [sentence for step in steps(built("straight", shell=DOUBLE), "metric") for sentence in step.work]
    assert sum("damping compound" in sentence for sentence in told) == 6


def test_what_can_hurt_is_said() -> None:
    """Heavy boards, dust, fibre, fire, lifting, cables; nothing promises to meet a code."""
    cautions = " ".join(caution for step in steps(built("plenum", shell=HEAVY), "metric") for caution in step.cautions)
    for word in ("two people", "over the head", "dust", "fibre", "building authority", "hoist", "cables", "engineer"):
        assert word in cautions
    assert "compliant" not in cautions


def test_photographs_are_asked_for_before_anything_is_covered() -> None:
    told = steps(built("labyrinth", shell=DOUBLE), "metric")
    covering = next(index for index, step in enumerate(told) if step.stage == "outer layers")
    assert any("inside joint" in wanted for step in told[:covering] for wanted in step.photographs)
    assert told[covering].photographs


def test_inches_are_told_in_inches() -> None:
    text = " ".join(sentence for step in steps(built("straight"), "inch") for sentence in (*step.work, *step.checks))
    assert " in " in text
    assert " mm" not in text
