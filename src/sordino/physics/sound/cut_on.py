"""Where the first cross mode of a duct starts to travel."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array
from sordino.physics.sound.customary import SPEED_OF_SOUND

FIRST_ROOT = 1.8411837813406593
"""First zero of J1'."""


def cut_on_round(diameter: ArrayLike, c: float = SPEED_OF_SOUND) -> Array:
    """Cut-on frequency of the first mode of a round duct, 1.841 c / (pi d) = 0.586 c / d, Hz; diameter in
    m."""
    return FIRST_ROOT * c / (np.pi * np.asarray(diameter, float))


def cut_on_rectangular(longest_side: ArrayLike, c: float = SPEED_OF_SOUND) -> Array:
    """Cut-on frequency of the first mode of a rectangular duct, c / (2 a), Hz; longest side a in m."""
    return c / (2.0 * np.asarray(longest_side, float))
