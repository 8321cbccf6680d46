"""Plenums and expansion chambers."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array
from sordino.physics.sound.customary import SPEED_OF_SOUND
from sordino.physics.sound.rooms import room_constant


def plenum_wells(
    outlet_area: ArrayLike, distance: ArrayLike, angle: ArrayLike, surface: ArrayLike, absorption: ArrayLike
) -> Array:
    """Loss of a lined plenum, -10 lg{S_o [cos(theta) / (2 pi r^2) + 1/R]}, dB, never negative (Wells 1958).

    Outlet area S_o in m2, distance r from inlet to outlet in m and its angle to the inlet's axis in rad,
    inner surface in m2 and its mean absorption. For wavelengths short beside the plenum; saturates at the
    direct term.
    """
    direct = np.maximum(np.cos(angle), 0.0) / (2.0 * np.pi * np.asarray(distance, float) ** 2)
    passed = np.asarray(outlet_area, float) * (direct + 1.0 / room_constant(surface, absorption))
    return np.maximum(-10.0 * np.log10(passed), 0.0)


def expansion_chamber(
    f: ArrayLike,
    area_ratio: ArrayLike,
    length: ArrayLike,
    attenuation_np: ArrayLike = 0.0,
    c: float = SPEED_OF_SOUND,
) -> Array:
    """Transmission loss of a chamber in a duct below the chamber's cut-on, dB (SMACNA 11.32).

    10 lg{[cosh(s/2) + M sinh(s/2)]^2 cos^2 kl + [sinh(s/2) + M cosh(s/2)]^2 sin^2 kl}, M = (m + 1/m)/2, m the
    chamber's area over the duct's, s the power attenuation of its lining along l in nepers (dB / 4.343).
    Without lining it is 10 lg[1 + (m - 1/m)^2 sin^2(kl) / 4]. Frequencies in Hz, length in m.
    """
    m = np.asarray(area_ratio, float)
    both, half = (m + 1.0 / m) / 2.0, np.asarray(attenuation_np, float) / 2.0
    kl = 2.0 * np.pi * np.asarray(f, float) * np.asarray(length, float) / c
    cosine = (np.cosh(half) + both * np.sinh(half)) * np.cos(kl)
    sine = (np.sinh(half) + both * np.cosh(half)) * np.sin(kl)
    return 10.0 * np.log10(cosine**2 + sine**2)
