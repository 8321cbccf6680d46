"""Octave bands 31.5 Hz to 8 kHz and the arithmetic of levels.

Band arrays have the nine octaves on their last axis. A level that nobody has data for is NaN, printed as
"not assessed"; it stays NaN through every sum it enters.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[Any]
Bands = NDArray[Any]
"""Nine octave bands on the last axis, dB unless said otherwise."""

OCTAVES: Bands = np.array([31.5, 63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0])
"""Nominal midbands in Hz, the names the bands go by."""

CENTRES: Bands = 1000.0 * 10.0 ** (0.3 * np.arange(-5, 4))
"""Exact base-ten midbands in Hz (IEC 61260-1:2014, G = 10^0.3)."""

COUNT = 9
SILENCE = -200.0
"""Stands for no sound at all where minus infinity would spoil the arithmetic, dB."""

LINES_PER_BAND = 9
LINES: Array = (CENTRES[:, None] * 10.0 ** (0.3 * ((np.arange(LINES_PER_BAND) + 0.5) / LINES_PER_BAND - 0.5))).ravel()
"""Frequencies, evenly spaced on a log scale inside the bands, at which wave methods are evaluated, Hz."""


def name(band: int) -> str:
    """The name of a band by its index, as `250 Hz` or `4 kHz`."""
    hertz = OCTAVES[band]
    return f"{hertz:g} Hz" if hertz < 1000 else f"{hertz / 1000:g} kHz"


def energy_sum(levels: ArrayLike, axis: int = 0) -> Array:
    """The level of several sounds together, 10 lg of the sum of 10^(L/10), along `axis`."""
    powers = 10.0 ** (np.asarray(levels, dtype=float) / 10.0)
    return 10.0 * np.log10(np.maximum(powers.sum(axis=axis), 1e-20))


def add(first: ArrayLike, second: ArrayLike) -> Array:
    """The level of two sounds together, elementwise with broadcasting."""
    powers = 10.0 ** (np.asarray(first, dtype=float) / 10.0) + 10.0 ** (np.asarray(second, dtype=float) / 10.0)
    return 10.0 * np.log10(np.maximum(powers, 1e-20))


def band_sum(lines: Array) -> Array:
    """Sum of a quantity given at LINES over each band: (..., 81) -> (..., 9)."""
    return lines.reshape(*lines.shape[:-1], COUNT, LINES_PER_BAND).sum(axis=-1)


def at_lines(bands: ArrayLike) -> Array:
    """Nine band values (9,) held over the LINES (81,) of each band; a band with no data takes its neighbour's."""
    values = np.asarray(bands, dtype=float)
    known = np.isfinite(values)
    if known.all():
        return np.repeat(values, LINES_PER_BAND)
    return np.repeat(np.interp(np.arange(COUNT), np.arange(COUNT)[known], values[known]), LINES_PER_BAND)


def octave(values: ArrayLike) -> Bands:
    """Nine bands from eight (63 Hz up, 31.5 Hz not assessed), seven (63 Hz to 4 kHz) or nine values."""
    given = np.asarray(values, dtype=float)
    if given.shape[-1] == COUNT:
        return given
    pad = np.full((*given.shape[:-1], 1), np.nan)
    if given.shape[-1] == COUNT - 1:
        return np.concatenate([pad, given], axis=-1)
    if given.shape[-1] == COUNT - 2:
        return np.concatenate([pad, given, pad], axis=-1)
    raise ValueError(f"expected 7, 8 or 9 band values, got {given.shape[-1]}")
