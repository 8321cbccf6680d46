"""Which way past a box rules, and how unsure the whole is."""

from __future__ import annotations

import numpy as np
import pytest

from boxed import boxed
from sordino.assess.box_answer import BoxAnswer, box_answer
from sordino.assess.box_loss import CASING, PASSAGE, SEALING, counted, ruling

LEVEL = np.full(9, 40.0)


@pytest.fixture(scope="module")
def answer() -> BoxAnswer:
    return box_answer(boxed("labyrinth"), "labyrinth", size=0.08)


def test_the_way_that_loses_least_rules() -> None:
    """Band by band; a band without data rules nowhere."""
    loss = np.array([np.nan, 10.0, 20.0, 30.0, 39.0, 41.0, 60.0, 60.0, 30.0])
    casing = np.array([30.0, 10.1, 19.0, 30.0, 45.0, 45.0, 45.0, 39.0, 60.0])
    rules = ruling(loss, casing, LEVEL)
    assert rules == (CASING, PASSAGE, CASING, PASSAGE, PASSAGE, SEALING, SEALING, CASING, PASSAGE)


def test_the_answer_names_it(answer: BoxAnswer) -> None:
    """As the losses that stand in its tables have it; whatever more comes round than through is not the passage's."""
    for band, way in enumerate(answer.rulers):
        losses = {PASSAGE: answer.octaves.loss, CASING: answer.casing, SEALING: answer.default_ceiling}
        assert losses[way][band] == min(each[band] for each in losses.values())
    for band in range(1, 9):
        if answer.rulers[band] != PASSAGE:
            assert band in answer.ruled


def test_what_is_counted_is_the_energy_sum_of_all_ways(answer: BoxAnswer) -> None:
    """Nothing is left out, nothing twice."""
    ways = (answer.octaves.loss, answer.casing, answer.default_ceiling)
    whole = -10.0 * np.log10(np.sum([10.0 ** (-way / 10.0) for way in ways], axis=0))
    np.testing.assert_allclose(answer.counted, whole)
    np.testing.assert_allclose(answer.ceiling, counted(answer.casing, answer.default_ceiling))


def test_a_weak_casing_widens_the_range() -> None:
    """A casing of thin MDF, of which no spectrum is published, may take far less than told; plywood is surer."""
    shells = ('[{ board = "MDF", thickness = "6 mm" }]', '[{ board = "plywood", thickness = "25 mm" }]')
    thin, thick = (box_answer(boxed("labyrinth", shell=shell), "labyrinth", size=0.08) for shell in shells)
    for found in (thin, thick):
        assert np.all(found.counted_low <= found.counted)
        assert np.all(found.counted <= found.counted_high)
        assert np.all(found.counted_low >= 0.0)
    assert thin.casing[1] < thick.casing[1] - 10.0
    gaps = [float((found.counted - found.counted_low)[2]) for found in (thin, thick)]
    assert gaps[0] > gaps[1]
