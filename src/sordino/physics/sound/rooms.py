"""Diffuse sound in rooms: reverberation, room constant, level from power."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array

SABINE = 0.161
"""24 ln 10 / c at 20 degC, s/m."""


def sabine_time(volume: ArrayLike, absorption_area: ArrayLike) -> Array:
    """Reverberation time 0.161 V / A, s; volume in m3, absorption area in m2."""
    return SABINE * np.asarray(volume, float) / np.asarray(absorption_area, float)


def room_constant(surface: ArrayLike, mean_absorption: ArrayLike) -> Array:
    """S a / (1 - a), m2; a mean absorption of 0.99 and above counts as 0.99."""
    a = np.minimum(np.asarray(mean_absorption, float), 0.99)
    return np.asarray(surface, float) * a / (1.0 - a)


def direct_and_reverberant(distance: ArrayLike, constant: ArrayLike, directivity: ArrayLike = 1.0) -> Array:
    """Lp - Lw = 10 lg[Q / (4 pi r^2) + 4 / R], dB; distance in m, room constant in m2, Q = 1 free, 2 wall, 4
    edge."""
    direct = np.asarray(directivity, float) / (4.0 * np.pi * np.asarray(distance, float) ** 2)
    return 10.0 * np.log10(direct + 4.0 / np.asarray(constant, float))


def schroeder_frequency(volume: ArrayLike, time: ArrayLike) -> Array:
    """2000 sqrt(T / V), Hz: below it single modes rule the room (Schroeder 1962)."""
    return 2000.0 * np.sqrt(np.asarray(time, float) / np.asarray(volume, float))


def diffuse_level_difference(loss: ArrayLike, area: ArrayLike, absorption_area: ArrayLike) -> Array:
    """Level difference between two diffuse rooms, R - 10 lg(S / A), dB; A that of the receiving room, m2."""
    return np.asarray(loss, float) - 10.0 * np.log10(np.asarray(area, float) / np.asarray(absorption_area, float))
