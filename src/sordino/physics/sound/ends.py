"""What the open end of a duct reflects, radiates and takes in.

The plane wave only, time factor e^{+jwt}. Frequencies (Hz) and areas (m2) broadcast against each other.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array
from sordino.physics.sound.customary import DENSITY, SPEED_OF_SOUND

FACTOR_FREE, FACTOR_FLUSH = 1.0, 0.7
CORRECTION_FREE, CORRECTION_FLUSH = 0.61, 0.85
"""Length beyond the end at which a long wave turns, in radii (Levine & Schwinger; Rayleigh)."""


def end_reflection(f: ArrayLike, area: ArrayLike, flush: bool, c: float = SPEED_OF_SOUND) -> Array:
    """Loss at an open duct end, 10 lg[1 + (k c / (pi f D))^2], dB; k = 0.7 flush in a wall, 1.0 free (ASHRAE
    2011).

    D = sqrt(4 A / pi). Holds for a straight run of 3 to 5 D before the end and no grille on it.
    """
    return 10.0 * np.log10(1.0 + _ratio(f, area, FACTOR_FLUSH if flush else FACTOR_FREE, c) ** 2)


def reflection_factor(f: ArrayLike, area: ArrayLike, flush: bool, c: float = SPEED_OF_SOUND) -> Array:
    """Complex pressure reflection at an open end seen from the duct: -|R| exp(-2 j k delta).

    |R|^2 = 1 - 10^(-ERL/10); delta = 0.85 a flush, 0.61 a free, a the radius of the same area.
    """
    x = _ratio(f, area, FACTOR_FLUSH if flush else FACTOR_FREE, c)
    delta = (CORRECTION_FLUSH if flush else CORRECTION_FREE) * np.sqrt(np.asarray(area, float) / np.pi)
    k = 2.0 * np.pi * np.asarray(f, float) / c
    return -x / np.sqrt(1.0 + x**2) * np.exp(-2j * k * delta)


def radiation_impedance(
    f: ArrayLike, area: ArrayLike, flush: bool, density: float = DENSITY, c: float = SPEED_OF_SOUND
) -> Array:
    """Acoustic impedance p/U of an open end, rho c/S (1 + R)/(1 - R), Pa s/m3; its real part is positive."""
    r = reflection_factor(f, area, flush, c)
    return density * c / np.asarray(area, float) * (1.0 + r) / (1.0 - r)


def capture_area(f: ArrayLike, area: ArrayLike, flush: bool, c: float = SPEED_OF_SOUND) -> Array:
    """Area A with which an open end takes power in from a diffuse field, Lw = Lp + 10 lg A, m2.

    The plane mode takes (1 - |R|^2) lambda^2 / (4 pi), which is 2 S flush and S free at low frequency; all
    modes together take S/4. The larger of the two is used: they cross within 6.5 % of a round duct's cut-on, so
    there is no jump.
    """
    opening = np.asarray(area, float)
    wavelength = c / np.asarray(f, float)
    passed = 1.0 / (1.0 + _ratio(f, area, FACTOR_FLUSH if flush else FACTOR_FREE, c) ** 2)
    return np.maximum(passed * wavelength**2 / (4.0 * np.pi), opening / 4.0)


def _ratio(f: ArrayLike, area: ArrayLike, factor: float, c: float) -> Array:
    """k c / (pi f D)."""
    diameter = np.sqrt(4.0 * np.asarray(area, float) / np.pi)
    return factor * c / (np.pi * np.asarray(f, float) * diameter)
