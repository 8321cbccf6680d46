"""A box as built beside the box as drawn."""

from __future__ import annotations

import pytest

from boxed import boxed
from sordino.assess.box_answer import indoor_air, standing
from sordino.search.box_compared import BoxChange
from sordino.search.departures import ALL, departures

FLOW = 0.03


def departed(**changed: str) -> tuple[BoxChange, ...]:
    drawn, as_built = boxed("labyrinth"), boxed("labyrinth", **changed)
    air, box = indoor_air(drawn), standing(as_built, "labyrinth").built.build
    return departures(standing(drawn, "labyrinth").built, box, air, FLOW)


def test_the_same_box_departs_in_nothing() -> None:
    assert departed() == ()


def test_one_departure_stands_alone() -> None:
    """Half a lining takes less, and lets the air through more easily."""
    (lining,) = departed(lining='"15 mm"')
    assert lining.words == "lining 15 mm for 25 mm"
    assert lining.loss is not None
    assert lining.loss[3:5].sum() < 0.0
    assert lining.mass < 0.0


def test_several_departures_are_told_alone_and_together() -> None:
    found = departed(length='"560 mm"', lining='"20 mm"', fill='{ density = "20 kg/m3" }')
    assert [change.words for change in found] == [
        "inside length 560 mm for 600 mm",
        "lining 20 mm for 25 mm",
        "fibre of 20.0 kg/m3 for 12.0 kg/m3",
        ALL,
    ]
    assert found[0].outside == pytest.approx((-0.04, 0.0, 0.0))


def test_a_departure_that_can_not_be_laid_out_alone_says_why() -> None:
    """A thicker lining fits the higher box that was built, but not the box as drawn."""
    lining = next(each for each in departed(height='"600 mm"', lining='"110 mm"') if each.words.startswith("lining"))
    assert lining.counted is None
    assert "passage of 0 mm" in lining.clash
