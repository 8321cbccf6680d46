"""Sound reduction of single and double panels, and of walls made of several parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import COUNT, LINES_PER_BAND, Array, Bands
from sordino.physics.sound.customary import DENSITY, SPEED_OF_SOUND
from sordino.physics.sound.leaf_waves import RHO_C, Sides, bending_stiffness, diffuse_transmission
from sordino.physics.sound.leaf_waves import Leaf as Leaf
from sordino.physics.sound.panel_radiation import radiation_efficiency_small

FIELD_CONSTANT = 47.0
AIR_SPRING, FIBRE_SPRING = 60.0, 51.0
"""Constants of the mass-air-mass resonance: air compressed adiabatically; fibre lets it exchange heat."""

EMPTY_PENALTY = 12.0
"""What a cavity without absorption costs above its resonance, dB; from three rows of measured panels."""

FIBRE_SPRING_LOSS = 0.1
"""Loss factor of a gap full of fibre as a spring, from the exchange of heat: 0.17 at the most (judgement)."""

DAMPED_LOSS_FACTOR = 0.1
"""Of two sheets with a viscoelastic layer between them; 0.1 to 0.3 is quoted."""


OPENING: Sides = (4.0, 3.0)
"""Of a laboratory wall whose size nobody states, m: common practice is 10 to 12 m2, no source."""


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


def leaf_loss(f: ArrayLike, leaf: Leaf, size: Sides | None = None) -> Array:
    """Loss of a single leaf in a diffuse field, dB, never negative (Cremer 1942, in the form of Davy 2009).

    Waves from all directions on a plate with mass, bending, damping, and if it has them shear and a stiffer grain.
    With a size (width, height in m) it radiates as a panel in a wall, has its first mode and passes sound by its own
    modes too; without, it is endless, the least that it can lose above its first mode. Frequencies in Hz of any shape.
    """
    hertz = np.asarray(f, float)
    return -10.0 * np.log10(diffuse_transmission(hertz.ravel(), leaf, size)).reshape(hertz.shape)


def panel_impedance(
    f: ArrayLike, surface_mass: float, bending_stiffness: float, loss_factor: float, width: float, height: float
) -> Array:
    """Pressure over velocity of a panel held at its edges and pushed all at once, Pa s/m, complex (e^jwt).

    j w m [1 - (f_1/f)^2 (1 + j eta)], f_1 = (pi/2) sqrt(B/m) (1/w^2 + 1/h^2) its first mode (Leissa 1969, simply
    supported): mass above it, stiffness below. Higher modes are left out; below the first mode the true panel is
    half as stiff again, so the answer lets more through. f in Hz of any shape, kg/m2, N m, m.
    """
    hertz = np.asarray(f, float)
    first = np.pi / 2.0 * np.sqrt(bending_stiffness / surface_mass) * (width**-2.0 + height**-2.0)
    return 2j * np.pi * hertz * surface_mass * (1.0 - (first / hertz) ** 2 * (1.0 + 1j * loss_factor))


def gap_spring(gap: float, filled: bool) -> complex:
    """Stiffness of the air between two leaves, (2 pi 60)^2/d, Pa/m; 51 and a loss factor if filled, as
    `mass_air_mass`."""
    constant = FIBRE_SPRING if filled else AIR_SPRING
    return (2.0 * np.pi * constant) ** 2 / gap * complex(1.0, FIBRE_SPRING_LOSS if filled else 0.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Pushed:
    """Leaves that sound pushes all at once, for an outer velocity of 1 m/s: what it takes on the inside, per Hz."""

    pressure: Array
    """On the innermost leaf, Pa."""
    velocity: Array
    """Of the innermost leaf, m/s."""
    radiation: Array
    """Efficiency of the outermost."""

    def share(self, load: ArrayLike = 0.0) -> Array:
        """Power let out over <p^2> S/(rho c), p the pressure if the leaves did not move: (rho c)^2 s / |p + R v|^2.

        The load R (Pa s/m) is how hard it is to move the air inside: without it a panel in resonance would let out
        more than there is.
        """
        moved = self.pressure + np.asarray(load, float) * self.velocity
        return RHO_C**2 * self.radiation / np.abs(moved) ** 2


def pushed(f: ArrayLike, leaves: Sequence[Leaf], springs: Sequence[complex], size: Sides) -> Pushed:
    """Leaves held at their edges and pushed all at once, good while the wave is long against them.

    From the outermost, which moves with v = 1 m/s against its own radiation rho c s, inward: p' = p + Z v' across a
    leaf (`panel_impedance`), v' = v + j w p/K across a gap. f in Hz of any shape; leaves from the inside outward, a
    spring (Pa/m) between each two; s the radiation efficiency of a panel that moves in phase.
    """
    hertz = np.asarray(f, float)
    s = radiation_efficiency_small(hertz, *size)
    v: Array = np.ones_like(hertz) + 0j
    p: Array = RHO_C * s + _own(hertz, leaves[-1], size)
    for leaf, spring in zip(reversed(leaves[:-1]), reversed(springs), strict=True):
        v = v + 2j * np.pi * hertz * p / spring
        p = p + _own(hertz, leaf, size) * v
    return Pushed(pressure=p, velocity=v, radiation=s)


def _own(f: Array, leaf: Leaf, size: Sides) -> Array:
    return panel_impedance(f, leaf.surface_mass, bending_stiffness(leaf), leaf.loss_factor, *size)


def mass_air_mass(m1: float, m2: float, gap: float, filled: bool) -> float:
    """Resonance of two leaves on the air between them, 60 sqrt[(m1 + m2)/(m1 m2 d)] Hz; 51 if filled with
    fibre."""
    constant = FIBRE_SPRING if filled else AIR_SPRING
    return float(constant * np.sqrt((m1 + m2) / (m1 * m2 * gap)))


def leaf_loss_sharp(f: ArrayLike, surface_mass: float, critical: float, loss_factor: float) -> Array:
    """Loss of one leaf as a part of a double one, dB (Sharp 1978, whose double leaf is built on it).

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
    resilient: bool = False,
) -> Array:
    """Loss of two leaves with an air gap (m), dB (Sharp 1978, with an empty cavity by judgement).

    Mass law of both together below the mass-air-mass resonance; R1 + R2 + 20 lg(f d) - 29 above it, to R1 +
    R2 + 6 from 55/d. An empty cavity costs 12 dB of that, but not below the mass law. Studs at a spacing (m)
    bound it as `bridging` says. Expect 6 dB either way.
    """
    hertz = np.asarray(f, float)
    together = field_mass_law(hertz, m1 + m2)
    leaves = leaf_loss_sharp(hertz, m1, fc1, loss_factor) + leaf_loss_sharp(hertz, m2, fc2, loss_factor)
    apart = leaves + np.minimum(20.0 * np.log10(hertz * gap) - 29.0, 6.0)
    if not filled:
        apart = np.maximum(apart - EMPTY_PENALTY, np.minimum(apart, together))
    if stud_spacing is not None:
        share = max(m1, m2) / (m1 + m2)
        apart = np.minimum(apart, together + max(bridging(max(fc1, fc2), share, stud_spacing, resilient), 0.0))
    return np.where(hertz < mass_air_mass(m1, m2, gap, filled), together, np.maximum(apart, 0.0))


def bridging(critical: float, share: float, spacing: float, resilient: bool) -> float:
    """What two leaves joined by studs gain over the mass law of both at most, dB (Sharp 1978, recalled).

    10 lg(b f_c) + 20 lg[m1/(m1 + m2)] - 18 for rigid studs at a spacing b (m); 20 lg(b f_c) + 20 lg[m1/(m1 + m2)]
    - 45 where resilient mounts b apart hold one leaf, as points. f_c the higher of the two, m1 the heavier leaf.
    """
    product = spacing * critical
    lines = 10.0 * np.log10(product) - 18.0
    points = 20.0 * np.log10(product) - 45.0
    return float((max(lines, points) if resilient else lines) + 20.0 * np.log10(share))


def layered_leaf(
    masses: ArrayLike,
    critical_frequencies: ArrayLike,
    loss_factors: ArrayLike,
    glued: bool = False,
    damped: bool = False,
    shear_frequencies: ArrayLike = np.inf,
    diagonals: ArrayLike = 1.0,
    in_reveal: bool = False,
) -> Leaf:
    """Several sheets as one leaf: masses add; so do the bending stiffnesses m/f_c^2 of screwed or damped sheets.

    Two alike keep their critical frequency so. Rigidly glued sheets bend as one, 1/f_c = sum of 1/f_ci (two alike
    halve it), and 1/f_s too. A damping compound between them raises the loss factor to 0.1 at least. Loss factor
    by mass; shear and grain by bending stiffness.
    """
    mass, critical = np.asarray(masses, float), np.asarray(critical_frequencies, float)
    shear = np.broadcast_to(np.asarray(shear_frequencies, float), mass.shape)
    stiffness = mass / critical**2
    share = stiffness / stiffness.sum()
    loss = float(np.average(np.asarray(loss_factors, float), weights=mass))
    return Leaf(
        surface_mass=float(mass.sum()),
        critical_frequency=float(1.0 / (1.0 / critical).sum() if glued else np.sqrt(mass.sum() / stiffness.sum())),
        loss_factor=max(loss, DAMPED_LOSS_FACTOR) if damped else loss,
        shear_frequency=float(_inverse((1.0 / shear).sum() if glued else np.sqrt((share / shear**2).sum()))),
        diagonal=float((share * np.asarray(diagonals, float)).sum()),
        in_reveal=in_reveal,
    )


def _inverse(value: float) -> float:
    return 1.0 / value if value > 0.0 else np.inf


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
