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


def test_stock_prices_and_budget_are_read() -> None:
    """What is on hand, what the shop sells, what it costs and what may be spent."""
    text = (
        '\n[build]\nkerf = "1/8 in"\ntrim = "0 mm"\nkeep = "200 mm"\ngrain = false\nbudget = 900\ncurrency = "GBP"\n'
        '[[build.stock]]\nboard = "plywood"\nthickness = "18 mm"\nlength = "8 ft"\nwidth = "4 ft"\n'
        '[[build.stock]]\nboard = "plywood"\nlength = "900 mm"\nwidth = "600 mm"\ncount = 2\n'
        '[[build.bars]]\nlength = "3 m"\n'
        '[build.price]\n"acoustic sealant" = { low = 6, high = 8.5, dated = 2026-03-14 }\n'
    )
    building = written(plan_text("straight") + text).build
    assert (building.kerf, building.trim, building.keep) == pytest.approx((0.003175, 0.0, 0.2))
    assert [(one.thickness, one.count) for one in building.stock] == [(pytest.approx(0.018), None), (None, 2)]
    assert building.bars[0].length == 3.0
    assert building.price["acoustic sealant"].high == 8.5
    assert str(building.price["acoustic sealant"].dated) == "2026-03-14"
    assert (building.budget, building.currency, building.grain) == (900.0, "GBP", False)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[build]\nkerf = "30 mm"', "no saw cuts"),
        ('[build]\ntrim = "300 mm"', "more than an edge"),
        ('[build]\nseconds = "1 h"', "a search of"),
        ("[build.price]\nsealant = { low = 6, high = 5 }", "runs backwards"),
        ("[build.price]\nsealant = { low = -6 }", "greater than or equal to 0|-6"),
        ("[build]\nbudget = nan", "nan|finite|number"),
        ('[[build.stock]]\nboard = "plywod"\nlength = "1 m"\nwidth = "1 m"', "plywood"),
        ('[[build.stock]]\nboard = "plywood"\nlength = "1 m"\nwidth = "1 m"\ncount = 0', "count"),
        ('[build.price]\nsealant = { low = 6, dated = "soon" }', "soon"),
    ],
)
def test_stock_and_prices_that_cannot_be_are_refused(text: str, told: str) -> None:
    """With what was read and what would do."""
    with pytest.raises(PlanError, match=told):
        written(f"{plan_text('straight')}\n{text}\n")
