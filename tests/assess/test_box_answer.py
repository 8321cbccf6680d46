"""The numbers behind the answer on one box."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxed import boxed
from sordino.assess.box_answer import BoxAnswer, box_answer
from sordino.assess.box_loss import counted, depth_below, lowest_points, mean_loss
from sordino.bands import LINES
from sordino.elements.box_field import CASES, FINE, LIVE
from sordino.elements.built_box import default_ceiling


@pytest.fixture(scope="module")
def answer() -> BoxAnswer:
    return box_answer(boxed(), "labyrinth")


@pytest.fixture(scope="module")
def straight() -> BoxAnswer:
    return box_answer(boxed("straight"), "straight")


def test_ranges_hold_the_headline(answer: BoxAnswer) -> None:
    for found in (answer.thirds, answer.octaves):
        assert np.all(found.low <= found.loss + 1e-9)
        assert np.all(found.loss <= found.high + 1e-9)
    assert np.all(answer.counted_low <= answer.counted)
    assert np.all(answer.counted <= answer.counted_high)


def test_octaves_are_those_of_the_built_box(answer: BoxAnswer) -> None:
    """What `assess` counts with is what is told here."""
    assert answer.octaves.loss == pytest.approx(answer.built.attenuation(answer.air))
    assert answer.ceiling == pytest.approx(answer.built.ceiling())


def test_three_thirds_make_an_octave(answer: BoxAnswer) -> None:
    at_125 = answer.thirds.loss[3:6]
    assert mean_loss(at_125) == pytest.approx(float(answer.octaves.loss[2]))
    assert answer.thirds.centres[3:6] == pytest.approx([100.0, 125.9, 158.5], rel=1e-3)


def test_thirds_stop_at_the_field_limit(answer: BoxAnswer) -> None:
    highest = answer.thirds.centres[-1]
    assert highest * 10**0.05 <= LINES[LINES <= answer.validity.field_limit][-1] * 1.06
    assert answer.thirds.centres[0] == pytest.approx(50.1, abs=0.1)


def test_the_low_end_names_a_bracket_of_least_loss(answer: BoxAnswer) -> None:
    field = answer.built.field
    assert field is not None
    names = [case.name for case in CASES]
    for band in (1, 2, 3):
        losses = [mean_loss(case[band * 9 : band * 9 + 9]) for case in field.losses]
        assert losses[names.index(answer.octaves.lowest_case[band])] == min(losses)
    assert answer.octaves.lowest_case[-1] == ""


def test_two_ways_count_as_their_energy_sum() -> None:
    """Two equal ways lose 3 dB less together."""
    assert counted(np.full(9, 40.0), np.full(9, 40.0)) == pytest.approx(np.full(9, 40.0 - 10.0 * np.log10(2.0)))
    assert np.all(counted(np.full(9, 90.0), default_ceiling()) <= default_ceiling())


def test_a_chamber_dips_where_half_a_slowed_wave_fits(straight: BoxAnswer) -> None:
    """1.2 m: 143 Hz in free air, slower beside lining by sqrt(0.3^2 / 0.4^2) = 0.75 at the most (closed form)."""
    wide = box_answer(boxed("straight", length='"1.2 m"', width='"0.4 m"', height='"0.4 m"'), "straight")
    first = min(wide.dips, key=lambda dip: dip.frequency)
    assert 0.95 * 0.75 * 143.0 < first.frequency < 143.0
    assert (first.reason, first.halves) == ("inside length", 1)
    assert first.length == 1.2
    assert straight.dividers is None


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(0, 50), min_size=3, max_size=30, unique=True))
def test_dips_are_as_deep_as_another_library_finds(values: list[int]) -> None:
    """Prominences of scipy.signal.find_peaks, for spectra without equal neighbours."""
    from scipy.signal import find_peaks

    loss = np.array(values, float)
    places, told = find_peaks(-loss, prominence=0.0)
    assert lowest_points(loss) == places.tolist()
    assert [depth_below(loss, at) for at in places] == pytest.approx(told["prominences"])


def test_shares_of_the_faces_make_one(answer: BoxAnswer) -> None:
    assert np.sum([face.share for face in answer.faces], axis=0) == pytest.approx(np.ones(9))
    assert {face.face for face in answer.faces} == {"left", "right", "floor", "ceiling", "front", "back"}
    assert all(face.if_half >= -1e-9 for face in answer.faces if face.verdict == "may be light")


def test_a_face_that_is_made_light_is_told_heavy_again() -> None:
    """A sheet of 3 mm on one end of a box of 18 mm lets out most, and twice as much of it helps."""
    thin = '{ left = [{ board = "plywood", thickness = "3 mm" }] }'
    found = box_answer(boxed(faces=thin), "labyrinth")
    left = next(face for face in found.faces if face.face == "left")
    assert float(left.share[1]) > 0.9
    assert left.verdict == "must be heavy"


def test_pressure_lines_add_up_and_follow_the_mode(answer: BoxAnswer) -> None:
    assert answer.through.loss == pytest.approx(sum(answer.through.lines.values()))
    assert answer.through.loss == pytest.approx(answer.built.pressure_loss(answer.through.flow, answer.air))
    assert answer.through.velocity == pytest.approx(answer.through.flow / answer.through.free_area)


def test_the_fine_grid_moves_less_than_the_error_told(straight: BoxAnswer) -> None:
    fine = box_answer(boxed("straight"), "straight", size=FINE)
    assert fine.validity.cell < straight.validity.cell <= LIVE
    gap = np.abs(fine.octaves.loss - straight.octaves.loss)[1:5]
    assert np.all(gap <= straight.octaves.error[1:5] + 0.05)
