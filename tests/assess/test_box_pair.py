"""Two boxes in one run: four-poles multiplied as far as the field reaches, sums above."""

from __future__ import annotations

import numpy as np
import pytest

from boxed import BOXES, boxed
from small import FAN, ROOMS, written
from sordino.assess.box_answer import indoor_air
from sordino.assess.box_pair import BoxPair, box_pairs
from sordino.bands import CENTRES
from sordino.plan.statement import Plan


def two(apart: str = "0.3 m") -> Plan:
    first, second = (f'{{ is = "lined box", box = "{name}" }}' for name in ("one", "two"))
    parts = f'[{first}, {{ is = "metal duct", length = "{apart}" }}, {second}]'
    run = f'\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nin = "loft"\nsize = "125 mm"\nparts = {parts}\n'
    tables = f"\n[box.one]\n{BOXES['labyrinth']}\n[box.two]\n{BOXES['straight']}"
    return written(f"{ROOMS}{FAN}{run}{tables}")


def pair(plan: Plan) -> BoxPair:
    (found,) = box_pairs(plan, "one", indoor_air(plan))
    return found


@pytest.fixture(scope="module")
def near() -> BoxPair:
    return pair(two())


def test_a_box_alone_makes_no_pair() -> None:
    plan = boxed("labyrinth")
    assert box_pairs(plan, "labyrinth", indoor_air(plan)) == ()


def test_both_see_the_same_pair(near: BoxPair) -> None:
    plan = two()
    assert (near.first, near.second, near.run) == ("one", "two", "way")
    assert [each.first for each in box_pairs(plan, "two", indoor_air(plan))] == ["one"]
    assert near.apart == pytest.approx(0.3)


def test_above_the_field_losses_add(near: BoxPair) -> None:
    beyond = CENTRES / np.sqrt(2.0) > near.limit
    assert beyond.any()
    np.testing.assert_allclose(near.together[beyond], near.plain_sum[beyond], atol=2.0)


def test_below_it_they_do_not_simply_add(near: BoxPair) -> None:
    """Somewhere the wave between them makes a difference of decibels, and it depends on how far apart they stand."""
    below = CENTRES * np.sqrt(2.0) < near.limit
    far = pair(two("1.1 m"))
    assert np.abs(near.interaction[below]).max() > 1.0
    assert np.abs(far.interaction - near.interaction)[below].max() > 1.0


def test_a_pair_counts_for_no_more_than_its_passages(near: BoxPair) -> None:
    assert (near.counted <= near.together + 1e-9).all()
    assert (near.counted >= 0.0).all()
