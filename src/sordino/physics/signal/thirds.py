"""One-third octave bands 25 Hz to 10 kHz: three to each of the nine octaves, 27 on the last axis."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import COUNT, Array, Bands

NOMINAL: Array = np.array(
    [
        *(25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800),
        *(1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000),
    ]
)
"""Nominal midbands in Hz, the names the bands go by."""

CENTRES: Array = 1000.0 * 10.0 ** (np.arange(-16, 11) / 10.0)
"""Exact base-ten midbands in Hz (IEC 61260-1:2014, G = 10^0.3)."""

THIRDS = 27
HALF = 10.0**0.05
"""Upper edge of a one-third octave over its midband."""

EDGES: Array = np.append(CENTRES / HALF, CENTRES[-1] * HALF)
"""The 28 edges, Hz."""

WIDTHS: Array = np.diff(EDGES)
"""Bandwidths, Hz."""


def nearest(frequency: float) -> int:
    """The index of the one-third octave whose midband lies nearest to a frequency in Hz."""
    return int(np.argmin(np.abs(np.log(CENTRES / frequency))))


def octave_energy(energies: ArrayLike) -> Bands:
    """Energies of octaves from those of their thirds: (..., 27) -> (..., 9); NaN where a third is not known."""
    each = np.asarray(energies, float)
    return each.reshape(*each.shape[:-1], COUNT, 3).sum(axis=-1)
