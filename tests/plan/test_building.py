"""The table `[build]`."""

from __future__ import annotations

import pytest

from boxed import plan_text
from small import written
from sordino.errors import PlanError


def test_it_has_defaults() -> None:
    building = written(plan_text("straight")).build
    assert (building.clearance, building.tolerance, building.stick) == (0.002, 0.001, 0.025)


def test_it_is_read_in_any_unit() -> None:
    text = '\n[build]\nclearance = "1/8 in"\nstick = "1.5 in"\naccess = { straight = "floor" }\n'
    building = written(plan_text("straight") + text).build
    assert building.clearance == pytest.approx(0.003175)
    assert building.stick == pytest.approx(0.0381)
    assert building.access == {"straight": "floor"}


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('clearance = "30 mm"', "is no fit but a gap"),
        ('stick = "5 mm"', "is none to screw into"),
        ('screws = "2 m"', "hold no joint tight"),
        ('access = { nowhere = "floor" }', "there is no box 'nowhere'"),
        ('access = { straight = "top" }', "top"),
    ],
)
def test_what_cannot_be_built_is_refused(line: str, said: str) -> None:
    with pytest.raises(PlanError) as refused:
        written(f"{plan_text('straight')}\n[build]\n{line}\n")
    assert said in str(refused.value)
