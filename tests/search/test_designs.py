"""A search for a box within given sizes: what it finds does what is wanted, and a miss names what holds it."""

from __future__ import annotations

import numpy as np
import pytest

from boxed import boxed
from sordino.assess.box_answer import indoor_air, standing
from sordino.elements.built_box import BuiltBox
from sordino.plan.statement import Plan
from sordino.search.designs import Search, Wanted, asked, search

FLOW = 0.03


def found(wanted: Wanted, name: str = "labyrinth") -> Search:
    plan: Plan = boxed(name)
    return search(built(plan, name), wanted, indoor_air(plan), FLOW)


def built(plan: Plan, name: str) -> BuiltBox:
    return standing(plan, name).built


@pytest.fixture(scope="module")
def easy() -> Search:
    return found(Wanted(loss=asked({3: 5.0, 4: 10.0})))


def test_what_it_finds_does_what_is_wanted(easy: Search) -> None:
    """Every design found loses at least what was asked, and the lightest comes first."""
    assert easy.found
    for design in easy.found:
        assert (np.round(design.counted[[3, 4]]) >= [5.0, 10.0]).all()
    masses = [design.mass for design in easy.found]
    assert masses == sorted(masses)


def test_all_keep_the_inside_sizes(easy: Search) -> None:
    box = built(boxed("labyrinth"), "labyrinth").build
    for design in (*easy.found, *easy.nearest):
        made = design.built.build
        assert (made.length, made.width, made.height) == (box.length, box.width, box.height)


def test_what_can_not_be_laid_out_is_counted_with_its_reason(easy: Search) -> None:
    assert easy.clashes
    assert easy.tried == len(easy.found) + len(easy.nearest) + sum(easy.clashes.values())


def test_too_much_asked_is_a_miss_that_names_the_band_and_the_side() -> None:
    """No box of this size takes 60 dB at 63 Hz: the band binds, and larger boxes were tried."""
    miss = found(Wanted(loss=asked({1: 60.0})))
    assert not miss.found
    nearest = miss.nearest[0]
    assert nearest.binding == 1
    assert nearest.miss == min(each.miss for each in miss.nearest)
    assert miss.larger
    assert not any(each.meets for each in miss.larger.values())


def test_pressure_alone_can_bind() -> None:
    """A loss that any box has, and a pressure that none keeps to."""
    miss = found(Wanted(loss=asked({4: 1.0}), pressure=0.001))
    assert not miss.found
    assert miss.nearest[0].binding is None
    assert miss.nearest[0].over > 0.0


def test_more_asked_never_finds_more(easy: Search) -> None:
    harder = found(Wanted(loss=asked({3: 12.0, 4: 20.0})))
    assert len(harder.found) <= len(easy.found)
