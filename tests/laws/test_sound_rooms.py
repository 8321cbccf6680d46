"""Laws of rooms, panels and ratings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sordino.bands import COUNT, LINES
from sordino.physics.sound import modes
from sordino.physics.sound.leaf_waves import Leaf
from sordino.physics.sound.modes import modal_bands, modal_field
from sordino.physics.sound.panels import (
    band_loss,
    composite_loss,
    double_leaf_loss,
    field_mass_law,
    layered_leaf,
    leaf_loss,
    normal_mass_law,
)
from sordino.physics.sound.ratings import stc, weighted_reduction
from sordino.physics.sound.rooms import (
    direct_and_reverberant,
    room_constant,
)

masses = st.floats(2.0, 60.0)
criticals = st.floats(300.0, 8000.0)
room_sides = st.tuples(st.floats(1.5, 6.0), st.floats(1.5, 5.0), st.floats(2.0, 3.5))


@pytest.fixture
def many_modes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Enough modes for a sum to reach high frequencies."""
    monkeypatch.setattr(modes, "MOST_MODES", 24000)
    modes._modes.cache_clear()


@pytest.mark.usefixtures("many_modes")
@pytest.mark.parametrize(("sides", "area"), [((5.1, 4.2, 2.6), 0.5), ((6.3, 3.7, 2.9), 0.7)])
def test_the_modal_sum_becomes_diffuse(sides: tuple[float, float, float], area: float) -> None:
    """Over a third octave of a live room at 500 Hz and above, the mean is 4/A within 1 dB."""
    f = np.linspace(500.0, 630.0, 150)
    ours = modal_field(f, sides, area).mean
    modes._modes.cache_clear()
    assert not np.allclose(10.0 * np.log10(ours), 10.0 * np.log10(4.0 / area))
    assert abs(10.0 * np.log10(ours.mean() / (4.0 / area))) < 1.0


def test_seven_hundred_modes_are_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """Below the Schroeder frequency of a 60 m3 room, four times as many modes move no line by 0.2 dB."""
    f = np.geomspace(20.0, 178.0, 120)
    few = modal_field(f, (5.0, 4.0, 3.0), 20.0).mean
    monkeypatch.setattr(modes, "MOST_MODES", 2800)
    modes._modes.cache_clear()
    many = modal_field(f, (5.0, 4.0, 3.0), 20.0).mean
    modes._modes.cache_clear()
    np.testing.assert_allclose(10.0 * np.log10(few / many), 0.0, atol=0.2)


@given(room_sides, st.floats(3.0, 30.0))
@settings(max_examples=25)
def test_a_room_passes_into_the_diffuse_field(sides: tuple[float, float, float], area: float) -> None:
    """Far above the Schroeder frequency it is 4/A exactly; turning the room over changes no mean."""
    ours = modal_field(LINES, sides, area)
    np.testing.assert_allclose(ours.mean[-20:], 4.0 / area)
    np.testing.assert_allclose(modal_field(LINES, sides[::-1], area).mean, ours.mean, rtol=2e-4)
    assert (modal_bands(sides, np.full(COUNT, area)).spread >= 0.0).all()


@given(room_sides, st.floats(3.0, 20.0))
@settings(max_examples=25)
def test_a_duller_room_is_quieter_by_modes_too(sides: tuple[float, float, float], area: float) -> None:
    """Doubling the absorption never raises a band's mean."""
    dull, live = (modal_bands(sides, np.full(9, a)).mean for a in (2.0 * area, area))
    assert (dull <= live + 0.2).all()


@given(st.floats(0.3, 10.0), st.floats(5.0, 100.0), st.floats(0.02, 0.9), st.floats(0.02, 0.9))
def test_a_duller_room_is_quieter(distance: float, surface: float, first: float, second: float) -> None:
    """Level falls with absorption and distance and stays above the direct field."""
    dead, live = (
        direct_and_reverberant(distance, room_constant(surface, a)) for a in sorted((first, second), reverse=True)
    )
    direct = -10.0 * np.log10(4.0 * np.pi * distance**2)
    assert direct <= dead <= live + 1e-9


@given(st.lists(st.tuples(st.floats(0.01, 20.0), st.floats(0.0, 80.0)), min_size=1, max_size=6))
def test_a_composite_lies_between_its_parts(parts: list[tuple[float, float]]) -> None:
    """Between the least and the greatest loss, and equal parts give themselves."""
    areas, losses = np.array(parts).T
    ours = composite_loss(areas, losses)
    assert losses.min() - 1e-9 <= ours <= losses.max() + 1e-9
    np.testing.assert_allclose(composite_loss(areas, np.full_like(losses, 37.0)), 37.0)


@settings(max_examples=50, deadline=None)
@given(masses, criticals, st.floats(0.005, 0.2))
def test_a_single_leaf_beats_its_mass_only_above_coincidence(mass: float, critical: float, loss_factor: float) -> None:
    """Never negative, no jump though coincidence's flank is steep; below it, bending only takes from what mass gives.

    No direction loses more than the normal one, 10 lg(1 + (w m / 2 rho c)^2), of which the field law is what is left
    once that is over some 15 dB. Above coincidence stiffness may do better than mass (Cremer 1942: by f/fc).
    """
    f = np.geomspace(20.0, 12000.0, 3000)
    leaf = Leaf(surface_mass=mass, critical_frequency=critical, loss_factor=loss_factor)
    ours = leaf_loss(f, leaf)
    assert (ours >= 0.0).all()
    halfway = leaf_loss(np.sqrt(f[1:] * f[:-1]), leaf)
    assert (np.abs(halfway - (ours[1:] + ours[:-1]) / 2.0) < 0.08).all(), "a jump of twice that, or a spike"
    normal = 10.0 * np.log10(1.0 + (np.pi * f * mass / (1.204 * 343.2)) ** 2)
    below = f < 0.8 * critical
    assert (ours <= normal + 1e-9)[below].all()
    assert (ours <= field_mass_law(f, mass) + 1e-9)[below & (normal > 15.0)].all()


@given(masses)
def test_mass_laws_gain_six_decibels_for_a_doubling(mass: float) -> None:
    """Both, at 1 kHz."""
    for law in (normal_mass_law, field_mass_law):
        assert law(1000.0, 2.0 * mass) - law(1000.0, mass) == pytest.approx(6.02, abs=0.1)


@given(masses, criticals, masses, criticals, st.floats(0.03, 0.3), st.booleans())
def test_a_double_leaf_is_reciprocal(m1: float, fc1: float, m2: float, fc2: float, gap: float, filled: bool) -> None:
    """Alike both ways; fibre in the cavity and a missing bridge never harm above the empty cavity's resonance."""
    there = double_leaf_loss(LINES, m1, fc1, m2, fc2, gap, filled, stud_spacing=0.6)
    back = double_leaf_loss(LINES, m2, fc2, m1, fc1, gap, filled, stud_spacing=0.6)
    np.testing.assert_allclose(there, back)
    free = double_leaf_loss(LINES, m1, fc1, m2, fc2, gap, filled)
    assert (free >= there - 1e-9).all()
    above = LINES > 60.0 * np.sqrt((m1 + m2) / (m1 * m2 * gap))
    empty, stuffed = (double_leaf_loss(LINES, m1, fc1, m2, fc2, gap, x)[above] for x in (False, True))
    assert (stuffed >= empty - 1e-9).all()


def test_layers() -> None:
    """Two sheets screwed keep their critical frequency, glued halve it, damped lose more."""
    loose = layered_leaf([9.0, 9.0], [2500.0, 2500.0], [0.02, 0.02])
    assert (loose.surface_mass, loose.critical_frequency) == (18.0, 2500.0)
    assert layered_leaf([9.0, 9.0], [2500.0, 2500.0], [0.02, 0.02], glued=True).critical_frequency == 1250.0
    assert layered_leaf([9.0, 9.0], [2500.0, 2500.0], [0.02, 0.02], damped=True).loss_factor == 0.1


@given(st.lists(st.floats(0.0, 70.0), min_size=9, max_size=9))
def test_a_band_passes_its_mean_energy(losses: list[float]) -> None:
    """The loss of a band lies between those of its lines; a constant gives itself."""
    lines = np.repeat(losses, 9).reshape(9, 9).T.ravel()
    ours = band_loss(lines)
    assert (ours >= min(losses) - 1e-9).all()
    assert (ours <= max(losses) + 1e-9).all()


@given(st.lists(st.floats(10.0, 70.0), min_size=16, max_size=16), st.integers(1, 20))
def test_a_wall_better_by_whole_decibels_rates_so(losses: list[float], step: int) -> None:
    """STC and R_w move with the wall; C and C_tr stay."""
    whole = np.round(losses, 1)
    better = whole + step
    assert stc(better) == stc(whole) + step
    first, second = weighted_reduction(whole), weighted_reduction(better)
    assert (second.rw - first.rw, second.c, second.ctr) == (step, first.c, first.ctr)
