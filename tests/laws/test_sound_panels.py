"""Laws of a leaf met by waves from everywhere, and of a panel pushed all at once."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sordino.bands import LINES, Array
from sordino.physics.sound.leaf_waves import Leaf, first_mode
from sordino.physics.sound.panel_radiation import (
    forced_radiation_efficiency,
    radiation_efficiency_small,
    resonant_radiation_efficiency,
)
from sordino.physics.sound.panels import (
    OPENING,
    bridging,
    layered_leaf,
    leaf_loss,
    normal_mass_law,
    panel_impedance,
)

RHO_C = 1.204 * 343.2
masses, criticals, losses = st.floats(2.0, 60.0), st.floats(400.0, 20000.0), st.floats(0.005, 0.2)
sides = st.floats(0.3, 4.0)
few = settings(max_examples=30, deadline=None)


def leaf(mass: float, critical: float, eta: float, shear: float = np.inf, diagonal: float = 1.0) -> Leaf:
    """A leaf by its numbers."""
    return Leaf(
        surface_mass=mass, critical_frequency=critical, loss_factor=eta, shear_frequency=shear, diagonal=diagonal
    )


def random_incidence(f: Array, mass: float) -> Array:
    """Loss of an endless limp sheet, closed form, dB."""
    a = np.pi * f * mass / RHO_C
    return -10.0 * np.log10(np.log(1.0 + a**2) / a**2)


@few
@given(masses, criticals, losses)
def test_an_endless_leaf_never_beats_its_mass_below_coincidence(mass: float, critical: float, eta: float) -> None:
    """Bending takes from the mass; never negative anywhere."""
    ours = leaf_loss(LINES, leaf(mass, critical, eta))
    assert (ours >= 0.0).all()
    below = critical > LINES
    assert (ours <= random_incidence(LINES, mass) + 0.05)[below].all()


@settings(max_examples=12, deadline=None)
@given(masses, criticals, losses, st.floats(1500.0, 1e5), st.floats(0.2, 1.0))
def test_the_places_of_the_quadrature_are_enough(
    mass: float, critical: float, eta: float, shear: float, r: float
) -> None:
    """Against a plain midpoint sum over 8,000 angles, one direction of the sheet, within 0.05 dB."""
    f = np.array([63.0, 500.0, 1600.0, 4000.0])
    angle = (np.arange(8000) + 0.5) / 8000 * np.pi / 2.0
    x = np.sin(angle) ** 2
    bend = (f[:, None] / critical) ** 2 * x**2 * (1.0 + 1j * eta) / (1.0 + (f[:, None] / shear) ** 2 * x)
    ratio = 1.0 + 2j * np.pi * f[:, None] * mass * (1.0 - bend) * np.cos(angle) / (2.0 * RHO_C)
    passed = (2.0 * np.sin(angle) * np.cos(angle) / np.abs(ratio) ** 2).sum(axis=1) * np.pi / 2.0 / 8000
    ours = leaf_loss(f, leaf(mass, critical, eta, shear))
    np.testing.assert_allclose(ours, -10.0 * np.log10(passed), atol=0.05)
    grained = leaf_loss(f, leaf(mass, critical, eta, shear, r))
    softest = leaf_loss(f, leaf(mass, critical / np.sqrt(r), eta, shear / np.sqrt(r)))
    assert (grained[0] - np.array([ours[0], softest[0]]) < 0.5).all()


@few
@given(masses, st.floats(1000.0, 20000.0), losses, sides, sides, st.floats(1.05, 3.0))
def test_a_heavier_panel_is_never_worse(
    mass: float, critical: float, eta: float, width: float, height: float, more: float
) -> None:
    """Stiffness as it was, from twice the first mode to half the critical frequency."""
    size = (width, height)
    light, heavy = leaf(mass, critical, eta), leaf(more * mass, np.sqrt(more) * critical, eta)
    f = LINES[(LINES > 2.0 * first_mode(light, size)) & (critical / 2.0 > LINES)]
    assert (leaf_loss(f, heavy, size) >= leaf_loss(f, light, size) - 1e-6).all()


@few
@given(masses, st.floats(400.0, 4000.0), losses, st.floats(1.2, 4.0), st.booleans())
def test_damping_never_harms_from_coincidence_up(
    mass: float, critical: float, eta: float, more: float, endless: bool
) -> None:
    """Endless or in a wall."""
    f, size = LINES[critical < LINES], None if endless else OPENING
    plain, damped = (leaf_loss(f, leaf(mass, critical, loss), size) for loss in (eta, more * eta))
    assert (damped >= plain - 0.05).all()


@few
@given(masses, criticals, losses)
def test_a_vast_panel_is_endless(mass: float, critical: float, eta: float) -> None:
    """A panel of kilometres loses what an endless one does within half a decibel, away from its coincidence."""
    f = LINES[(LINES > 100.0) & (np.abs(np.log2(LINES / critical)) > 0.3)]
    vast, endless = (leaf_loss(f, leaf(mass, critical, eta), size) for size in ((1e5, 1e5), None))
    np.testing.assert_allclose(vast, endless, atol=0.5)


def test_a_panel_small_against_the_wavelength_beats_its_mass() -> None:
    """At 100 Hz a limp 0.5 m panel radiates k^2 S/2 pi of a large one's: -10 lg(2 s) over the normal mass law."""
    mass, width = 10.0, 0.5
    s = float(radiation_efficiency_small(100.0, width, width))
    normal = 20.0 * np.log10(np.pi * 100.0 * mass / RHO_C)
    ours = float(leaf_loss(100.0, leaf(mass, 1e7, 0.01), (width, width)))
    assert ours == pytest.approx(normal - 10.0 * np.log10(2.0 * s), abs=0.3)


def test_any_shape_of_frequencies() -> None:
    """One number, a row and a block give the same losses."""
    board, size = leaf(10.0, 1100.0, 0.03, 1700.0, 0.3), (1.2, 0.6)
    block, row = leaf_loss(LINES.reshape(9, 9), board, size), leaf_loss(LINES, board, size)
    np.testing.assert_allclose(block.ravel(), row)
    assert float(leaf_loss(float(LINES[40]), board, size)) == row[40]


@given(masses, st.floats(10.0, 5000.0), losses, sides, sides)
def test_a_panel_pushed_all_at_once(mass: float, stiffness: float, eta: float, width: float, height: float) -> None:
    """Passive; a spring far below its first mode, a mass far above; stiffness of the spring falls with size."""
    first = np.pi / 2.0 * np.sqrt(stiffness / mass) * (width**-2 + height**-2)
    low, high = panel_impedance(first * np.array([1e-3, 1e3]), mass, stiffness, eta, width, height)
    assert low.real > 0.0 > low.imag
    assert high.imag == pytest.approx(2e3 * np.pi * first * mass, rel=1e-4)
    assert low.imag == pytest.approx(-((2.0 * np.pi * first) ** 2) * mass / (2e-3 * np.pi * first), rel=1e-4)
    larger = panel_impedance(first * 1e-3, mass, stiffness, eta, 1.1 * width, height)
    assert abs(larger) < abs(low)


@given(st.floats(20.0, 8000.0), sides, sides, st.floats(0.01, 0.999))
def test_radiation_efficiencies(f: float, width: float, height: float, ratio: float) -> None:
    """Small and resonant lie in 0..1, alike for a turned panel; forced meets the small one at normal incidence."""
    small = radiation_efficiency_small(f, width, height)
    for s in (small, resonant_radiation_efficiency(f, ratio, width, height)):
        assert 0.0 < s <= 1.0
    assert resonant_radiation_efficiency(f, ratio, height, width) == pytest.approx(
        resonant_radiation_efficiency(f, ratio, width, height)
    )
    assert forced_radiation_efficiency(f, 1.0, width, height) == pytest.approx(float(small))


def test_layers_of_unlike_sheets() -> None:
    """Lead between plywood lowers nothing but the mass; glue and shear add up; a resilient mount never joins more."""
    leaf = layered_leaf([3.0, 19.0, 3.0], [4000.0, 1e9, 4000.0], [0.03] * 3, damped=True, diagonals=[0.2, 1.0, 0.2])
    assert leaf.critical_frequency == pytest.approx(4000.0 * np.sqrt(25.0 / 6.0))
    assert leaf.diagonal == pytest.approx(0.2)
    glued = layered_leaf([9.0, 9.0], [2000.0, 2000.0], [0.02, 0.02], glued=True, shear_frequencies=[3000.0, 3000.0])
    assert (glued.critical_frequency, glued.shear_frequency) == (1000.0, 1500.0)
    assert layered_leaf([9.0], [2000.0], [0.02]).shear_frequency == np.inf
    for critical in (200.0, 2000.0, 8000.0):
        assert bridging(critical, 0.5, 0.6, True) >= bridging(critical, 0.5, 0.6, False)


def test_a_slab_at_normal_incidence_obeys_the_mass_law() -> None:
    """A limp 25 mm slab of 18.75 kg/m2, 63 to 500 Hz, within 0.1 dB; held at its edges it differs by its mode only."""
    f = LINES[(LINES > 44.0) & (LINES < 707.0)]
    law = normal_mass_law(f, 18.75)
    limp = panel_impedance(f, 18.75, 0.05, 0.02, 1.0, 0.8)
    np.testing.assert_allclose(20.0 * np.log10(np.abs(1.0 + limp / (2.0 * RHO_C))), law, atol=0.1)
    held = 20.0 * np.log10(np.abs(1.0 + panel_impedance(f, 18.75, 5000.0, 0.02, 1.0, 0.8) / (2.0 * RHO_C)))
    first = np.pi / 2.0 * np.sqrt(5000.0 / 18.75) * (1.0 + 0.8**-2)
    assert (np.abs(held - law)[f > 5.0 * first] < 0.5).all()
    assert np.abs(held - law)[np.abs(f - first) < 5.0].max() > 5.0
