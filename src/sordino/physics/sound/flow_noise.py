"""Sound power that moving air makes at bends, junctions, dampers, grilles and open ends, dB re 1 pW.

All at exact midbands, all nine bands; velocities in m/s, areas in m2. Still air is silent.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import CENTRES, SILENCE, Array, Bands
from sordino.physics.sound.customary import DENSITY

SHIFT_TO_SI = 23.2
"""-107 dB of the formula in ft and ft/min, for m and m/s."""

SHARP_RADIUS = 0.13
"""Radius of a take-off's corner over its diameter, from which rounding gains nothing more."""

SLOWEST, FASTEST = 0.5, 5.0
"""Ratio of main to branch velocity outside which the junction's characteristic is held."""

PEAK_PER_VELOCITY = 160.0
"""Frequency of a grille's strongest noise over its velocity, Hz/(m/s)."""


def bend_noise(
    velocity: ArrayLike, area: ArrayLike, height: ArrayLike, vanes: tuple[int, float] | None = None
) -> Bands:
    """Sound power of a bend: K + 10 lg f + 50 lg U + 10 lg S + 10 lg D + 23.2 (+ 10 lg n with n vanes).

    K = -9.22 - 16.48 lg St - 5.05 lg^2 St without vanes and D the height in m; K = -47.5 - 7.69 (lg St)^2.5
    with vanes (count, chord in m) and D their chord; St = f D / U (Bullock; Reynolds). With vanes it reads
    some dB low, for the velocity between them is higher than U. Below St = 1 with vanes K is held.
    """
    count, length = (1, height) if vanes is None else vanes
    speed, section, chord = (np.asarray(x, float)[..., None] for x in (velocity, area, length))
    lg = _log_strouhal(chord, speed)
    k = _characteristic(lg, np.ones(1)) if vanes is None else -47.5 - 7.69 * np.maximum(lg, 0.0) ** 2.5
    return _aeolian(k, speed, section, chord) + 10.0 * np.log10(count)


def junction_noise(
    velocity: ArrayLike,
    area: ArrayLike,
    diameter: ArrayLike,
    main_velocity: ArrayLike,
    radius_ratio: float = 0.0,
    turbulent: bool = False,
) -> Bands:
    """Sound power that a take-off sends into its branch (Reynolds & Bledsoe 1991).

    As a bend of the branch's velocity, area and diameter, with K_J of the velocity ratio m = U_main /
    U_branch (held below 0.5 and above 5), plus (1 - r/0.13)(6.793 - 1.86 lg St) for a corner of radius r
    diameters, plus -1.667 + 1.8 m - 0.133 m^2 where a bend or damper stirs the air within five diameters
    upstream.
    """
    speed, section, bore, main = (np.asarray(x, float)[..., None] for x in (velocity, area, diameter, main_velocity))
    m = np.clip(main / np.maximum(speed, 1e-9), SLOWEST, FASTEST)
    lg = _log_strouhal(bore, speed)
    sharp = max(1.0 - radius_ratio / SHARP_RADIUS, 0.0) * np.maximum(6.793 - 1.86 * lg, 0.0)
    stirred = np.maximum(-1.667 + 1.8 * m - 0.133 * m**2, 0.0) if turbulent else 0.0
    return _aeolian(_characteristic(lg, m) + sharp + stirred, speed, section, bore)


def duct_noise(velocity: ArrayLike, area: ArrayLike) -> Bands:
    """Sound power of air in a straight duct: 7 + 50 lg U + 10 lg S overall, octaves lower by 2 + 26 lg(1.14 +
    0.02 f/U) (VDI 2081)."""
    speed = _moving(velocity)
    overall = 7.0 + 50.0 * np.log10(speed) + 10.0 * np.log10(np.asarray(area, float)[..., None])
    return np.maximum(overall - 2.0 - 26.0 * np.log10(1.14 + 0.02 * CENTRES / speed), SILENCE)


def grille_noise(velocity: ArrayLike, area: ArrayLike, pressure_loss: ArrayLike, density: float = DENSITY) -> Bands:
    """Sound power of a grille: 10 + 10 lg S + 30 lg xi + 60 lg U, octaves about a peak at 160 U Hz (Beranek).

    Face velocity U, face area S, xi = pressure loss (Pa) over rho U^2 / 2; an octave A bands below the peak
    stands at -5.82 - 0.15 A - 1.13 A^2. A skewed flexible neck adds 12 to 15 dB that are not in here.
    """
    speed = _moving(velocity)
    loss = np.maximum(np.asarray(pressure_loss, float)[..., None], 1e-12)
    xi = loss / (0.5 * density * speed**2)
    overall = 10.0 + 10.0 * np.log10(np.asarray(area, float)[..., None] * xi**3 * speed**6)
    below = np.log10(PEAK_PER_VELOCITY * speed / CENTRES) / 0.3
    return np.maximum(overall - 5.82 - 0.15 * below - 1.13 * below**2, SILENCE)


def damper_noise(velocity: ArrayLike, area: ArrayLike, pressure_loss: ArrayLike, density: float = DENSITY) -> Bands:
    """Sound power of a damper in a duct: that of a grille with the duct's velocity and area and its pressure
    loss.

    Both are obstacles whose fluctuating drag radiates as loss^3 S (Gordon 1968). The constant is the
    grille's, at the loud side for an obstacle inside a long duct: our judgement, no source for it.
    """
    return grille_noise(velocity, area, pressure_loss, density)


OPEN_LOSS = 0.3
"""Velocity heads of the grille whose noise stands for that of a bare end; 16 dB under a whole one (judgement)."""


def open_end_noise(velocity: ArrayLike, area: ArrayLike) -> Bands:
    """Sound power of air leaving or entering a plain open duct end: a grille that loses OPEN_LOSS velocity heads.

    Judgement: the edge is all that is left to make noise when grille and damper are gone, which is known to save more
    than 10 dB at mid frequency (textbook); the jet's own noise, as U^8, is negligible below 15 m/s.
    """
    speed = np.asarray(velocity, float)
    return grille_noise(speed, area, OPEN_LOSS * 0.5 * DENSITY * speed**2)


def _characteristic(lg: Array, m: Array) -> Array:
    """K_J of a junction against lg St and velocity ratio; m = 1 is a bend. Held below its crest."""
    a, b, c = -21.61 + 12.388 * m**0.673, -16.482 * m**-0.303, -5.047 * m**-0.254
    crest = np.maximum(lg, -b / (2.0 * c))
    return a + b * crest + c * crest**2


def _aeolian(k: Array, speed: Array, section: Array, length: Array) -> Bands:
    """K + 10 lg f + 50 lg U + 10 lg S + 10 lg D + 23.2, no less than silence."""
    power = CENTRES * np.maximum(speed, 1e-4) ** 5 * section * length
    return np.maximum(k + 10.0 * np.log10(power) + SHIFT_TO_SI, SILENCE)


def _log_strouhal(length: Array, speed: Array) -> Array:
    return np.log10(CENTRES * length / np.maximum(speed, 1e-4))


def _moving(velocity: ArrayLike) -> Array:
    """Velocity with an axis for the bands, never quite nil."""
    return np.maximum(np.asarray(velocity, float), 1e-4)[..., None]
