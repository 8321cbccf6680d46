"""Plenums and expansion chambers."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array
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
