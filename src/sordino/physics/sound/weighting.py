"""A weighting and the A-weighted level of a band spectrum."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import OCTAVES, SILENCE, Array

F1, F2, F3, F4 = 20.598997, 107.65265, 737.86223, 12194.217
"""Poles of the weighting, Hz (IEC 61672-1 Annex E, unrounded)."""

AT_1000 = 2.000
"""Gain that brings it to 0 dB at 1 kHz."""


def a_weighting(f: ArrayLike) -> Array:
    """A weighting at frequencies in Hz, dB (IEC 61672-1:2013 Annex E)."""
    s = np.asarray(f, float) ** 2
    poles = (s + F1**2) * np.sqrt((s + F2**2) * (s + F3**2)) * (s + F4**2)
    return 20.0 * np.log10(F4**2 * s**2 / poles) + AT_1000


def a_level(levels: ArrayLike) -> Array:
    """A-weighted level of nine bands on the last axis, dB(A); bands not assessed are left out."""
    weighted = np.asarray(levels, float) + a_weighting(OCTAVES)
    known = np.where(np.isnan(weighted), SILENCE, weighted)
    return 10.0 * np.log10((10.0 ** (known / 10.0)).sum(axis=-1))
