"""A box's field: brackets that borrow a basis are as right as brackets solved alone; boxes solved together as alone."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from boxed import boxed
from sordino.assess import boxes
from sordino.assess.assessment import INDOOR_HUMIDITY, INDOOR_TEMPERATURE
from sordino.assess.boxes import field_of, with_fields
from sordino.cache import SETTING
from sordino.elements.box_field import (
    CASES,
    FINE,
    BoxField,
    box_field,
    cell_size,
    filling,
    from_plain,
    medium_of,
    plain,
)
from sordino.elements.box_layout import layout
from sordino.elements.built_box import BuiltBox, octave_of
from sordino.physics.air.properties import Air, air_at
from sordino.physics.wave.operator import operator
from sordino.physics.wave.solve import sweep
from sordino.physics.wave.twoport import transmission_loss
from sordino.plan.statement import Plan

COARSE = 0.06


def built(plan: Plan) -> BuiltBox:
    return next(part for run in plan.run.values() for part in run.parts if isinstance(part, BuiltBox))


def indoor() -> Air:
    return air_at(INDOOR_TEMPERATURE, INDOOR_HUMIDITY, 0.0)


@pytest.fixture(name="forgetful")
def _forgetful(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Nothing is known in memory, and what is found goes to a store of its own."""
    monkeypatch.setenv(SETTING, str(tmp_path))
    monkeypatch.setattr(boxes, "_memory", {})
    return tmp_path


@pytest.mark.parametrize("name", ["labyrinth", "serpentine"])
def test_every_bracket_is_that_of_the_direct_sweep(name: str) -> None:
    box, air = built(boxed(name)), indoor()
    found = box_field(box.build, box.section, air, COARSE)
    of = operator(layout(box.build, box.section).prism, cell_size(box.build, COARSE))
    some = slice(None, None, 6)
    for case, losses in zip(CASES, found.losses, strict=True):
        full = sweep(of, filling(box.build, case), found.frequency[some], medium_of(air))
        exact = transmission_loss(full)
        assert np.abs(losses[some] - exact)[exact < 60.0].max() < 0.1, case.name


def test_a_field_survives_being_kept() -> None:
    box = built(boxed("straight"))
    found = box_field(box.build, box.section, indoor(), COARSE, cases=CASES[:2])
    again = from_plain(plain(found))
    assert np.array_equal(again.pole, found.pole)
    assert np.array_equal(again.losses, found.losses)
    assert again.faces.keys() == found.faces.keys()


@pytest.mark.parametrize("cores", [1, 2])
def test_boxes_solved_side_by_side_are_those_solved_alone(
    cores: int, forgetful: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two boxes in one plan, on one core and on two; both are in memory and in the store afterwards."""
    monkeypatch.setattr(boxes, "_cores", lambda: cores)
    one, other = boxed("straight"), boxed("straight", length='"0.6 m"')
    both = one.model_copy(update={"run": {"one": one.run["way"], "other": other.run["way"]}})
    solved = with_fields(both, indoor())
    fields = [part.solved for run in solved.run.values() for part in run.parts if isinstance(part, BuiltBox)]
    assert len(boxes._memory) == 2
    assert (forgetful / "results.sqlite").exists()
    for plan, found in zip((one, other), fields, strict=True):
        box = built(plan)
        alone: BoxField = box_field(box.build, box.section, indoor())
        assert np.allclose(found.losses, alone.losses, atol=1e-6)
        assert field_of(box.build, box.section, indoor()) is found


@pytest.mark.parametrize("name", ["labyrinth", "serpentine", "straight"])
def test_the_quick_grid_states_its_error(name: str) -> None:
    """In every octave the distance to cells half the size is within what is stated and a quarter of a decibel."""
    box, air = built(boxed(name)), indoor()
    quick = box_field(box.build, box.section, air)
    fine = box_field(box.build, box.section, air, FINE, cases=CASES[:2])
    true = octave_of(np.abs(quick.loss - fine.loss))
    assert (true <= octave_of(quick.grid) + 0.25).all()
    assert np.isnan(fine.grid).all()


def test_the_grid_is_part_of_the_spread() -> None:
    box = built(with_fields(boxed("straight"), indoor()))
    (spread,) = (box.own_spread() or {}).values()
    low, high = box.solved.range
    assert (spread >= octave_of((high - low) / 2.0 + box.solved.grid) - 1e-9).all()
    assert (box.solved.grid > 0.0).all()
