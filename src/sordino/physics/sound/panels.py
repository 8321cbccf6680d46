"""Sound reduction of single and double panels, and of walls made of several parts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import COUNT, LINES_PER_BAND, Array, Bands
from sordino.physics.sound.customary import DENSITY, SPEED_OF_SOUND

POISSON = 0.3
FIELD_CONSTANT = 47.0
AIR_SPRING, FIBRE_SPRING = 60.0, 51.0
"""Constants of the mass-air-mass resonance: air compressed adiabatically; fibre lets it exchange heat."""

EMPTY_PENALTY = 12.0
"""What a cavity without absorption costs above its resonance, dB; from three rows of measured panels."""

DAMPED_LOSS_FACTOR = 0.1
"""Of two sheets with a viscoelastic layer between them; 0.1 to 0.3 is quoted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Leaf:
    """A leaf as sound sees it: surface mass kg/m2, critical frequency Hz, loss factor."""

    surface_mass: float
    critical_frequency: float
    loss_factor: float


def normal_mass_law(
    f: ArrayLike, surface_mass: ArrayLike, density: float = DENSITY, c: float = SPEED_OF_SOUND
) -> Array:
    """Loss of a limp sheet at normal incidence, 10 lg[1 + (pi f m / rho c)^2], dB; f in Hz, mass in kg/m2."""
    ratio = np.pi * np.asarray(f, float) * np.asarray(surface_mass, float) / (density * c)
    return 10.0 * np.log10(1.0 + ratio**2)


def field_mass_law(f: ArrayLike, surface_mass: ArrayLike) -> Array:
    """Loss of a limp sheet in a diffuse field, 20 lg(m f) - 47, dB, never negative."""
    product = np.asarray(f, float) * np.asarray(surface_mass, float)
    return np.maximum(20.0 * np.log10(np.maximum(product, 1e-9)) - FIELD_CONSTANT, 0.0)


def critical_frequency(
    thickness: ArrayLike, surface_mass: ArrayLike, modulus: ArrayLike, c: float = SPEED_OF_SOUND
) -> Array:
    """Where bending waves travel as fast as sound, c^2/(2 pi) sqrt(m / B), Hz; B = E h^3 / 12(1 - 0.3^2)."""
    stiffness = np.asarray(modulus, float) * np.asarray(thickness, float) ** 3 / (12.0 * (1.0 - POISSON**2))
    return c**2 / (2.0 * np.pi) * np.sqrt(np.asarray(surface_mass, float) / stiffness)


def single_leaf_loss(f: ArrayLike, surface_mass: float, critical: float, loss_factor: float) -> Array:
    """Loss of a single leaf in a diffuse field, dB (Sharp 1978).

    Field mass law to half the critical frequency, 20 lg(f_c m) + 10 lg eta - 45 at it, a straight line
    between, 9 dB an octave beyond until it meets the mass law. Frequencies in Hz of any shape.
    """
    hertz = np.asarray(f, float)
    mass = field_mass_law(hertz, surface_mass)
    dip = 20.0 * np.log10(critical * surface_mass) + 10.0 * np.log10(loss_factor) - 45.0
    edge = field_mass_law(critical / 2.0, surface_mass)
    fall = edge + (dip - edge) * np.log2(2.0 * hertz / critical)
    rise = dip + 30.0 * np.log10(hertz / critical)
    beyond = np.where(hertz < critical, fall, rise)
    return np.where(hertz <= critical / 2.0, mass, np.maximum(np.minimum(mass, beyond), 0.0))


def mass_air_mass(m1: float, m2: float, gap: float, filled: bool) -> float:
    """Resonance of two leaves on the air between them, 60 sqrt[(m1 + m2)/(m1 m2 d)] Hz; 51 if filled with
    fibre."""
    constant = FIBRE_SPRING if filled else AIR_SPRING
    return float(constant * np.sqrt((m1 + m2) / (m1 * m2 * gap)))


def double_leaf_loss(
    f: ArrayLike,
    m1: float,
    fc1: float,
    m2: float,
    fc2: float,
    gap: float,
    filled: bool,
    loss_factor: float = 0.02,
    stud_spacing: float | None = None,
) -> Array:
    """Loss of two leaves with an air gap (m), dB (Sharp 1978, with an empty cavity by judgement).

    Mass law of both together below the mass-air-mass resonance; R1 + R2 + 20 lg(f d) - 29 above it, to R1 +
    R2 + 6 from 55/d. An empty cavity costs 12 dB of that, but not below the mass law. Rigid studs at a
    spacing (m) bound it at the mass law plus 10 lg(b f_c) + 20 lg[m1/(m1 + m2)] - 18. Expect 6 dB either way.
    """
    hertz = np.asarray(f, float)
    together = field_mass_law(hertz, m1 + m2)
    leaves = single_leaf_loss(hertz, m1, fc1, loss_factor) + single_leaf_loss(hertz, m2, fc2, loss_factor)
    apart = leaves + np.minimum(20.0 * np.log10(hertz * gap) - 29.0, 6.0)
    if not filled:
        apart = np.maximum(apart - EMPTY_PENALTY, np.minimum(apart, together))
    if stud_spacing is not None:
        heavier, critical = max(m1, m2), max(fc1, fc2)
        bridge = 10.0 * np.log10(stud_spacing * critical) + 20.0 * np.log10(heavier / (m1 + m2)) - 18.0
        apart = np.minimum(apart, together + bridge)
    return np.where(hertz < mass_air_mass(m1, m2, gap, filled), together, np.maximum(apart, 0.0))


def layered_leaf(
    masses: ArrayLike,
    critical_frequencies: ArrayLike,
    loss_factors: ArrayLike,
    glued: bool = False,
    damped: bool = False,
) -> Leaf:
    """Several sheets as one leaf: masses add; screwed or damped sheets keep the lowest critical frequency of
    any.

    Rigidly glued sheets bend as one, 1/f_c = sum of 1/f_ci (two alike halve it). A damping compound between
    them raises the loss factor to 0.1 at least.
    """
    mass, critical = np.asarray(masses, float), np.asarray(critical_frequencies, float)
    loss = float(np.average(np.asarray(loss_factors, float), weights=mass))
    return Leaf(
        surface_mass=float(mass.sum()),
        critical_frequency=float(1.0 / (1.0 / critical).sum() if glued else critical.min()),
        loss_factor=max(loss, DAMPED_LOSS_FACTOR) if damped else loss,
    )


def composite_loss(areas: ArrayLike, losses: ArrayLike) -> Array:
    """Loss of a wall of several parts, -10 lg(sum S tau / sum S), dB; parts on the first axis of both."""
    sizes = np.asarray(areas, float)
    passed = np.tensordot(sizes, 10.0 ** (-np.asarray(losses, float) / 10.0), axes=1)
    return -10.0 * np.log10(passed / sizes.sum())


def band_loss(losses: Array) -> Bands:
    """Loss over each band from losses at `bands.LINES`, the mean transmitted energy: (..., 81) -> (..., 9),
    dB."""
    passed = 10.0 ** (-losses / 10.0)
    mean = passed.reshape(*passed.shape[:-1], COUNT, LINES_PER_BAND).mean(axis=-1)
    return -10.0 * np.log10(mean)
