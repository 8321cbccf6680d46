"""Attenuation of non-metallic insulated flexible duct."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array, Bands, octave
from sordino.tables import table


def flexible_duct(diameter: ArrayLike, length: ArrayLike) -> Bands:
    """Insertion loss of a run of insulated flexible duct, dB; 31.5 Hz NaN (ASHRAE flexible duct table).

    Interpolated in diameter (0.1 to 0.4 m, held outside) and in length (m), in proportion to length below 0.9
    m and beyond 3.7 m. 8 kHz is not in the handbook: 4 kHz is held. The low bands hold breakout through the
    thin wall, which a duct inside a heavy box won't show: an upper bound at 63 and 125 Hz there.
    """
    diameters, lengths, seven = _grid()
    bore, run = np.broadcast_arrays(np.asarray(diameter, float) * 1000.0, np.maximum(np.asarray(length, float), 0))
    inside = np.clip(run, lengths[0], lengths[-1])
    i, u = _cell(diameters, np.clip(bore, diameters[0], diameters[-1]))
    j, v = _cell(lengths, inside)
    loss = (1 - u) * ((1 - v) * seven[i, j] + v * seven[i, j + 1])
    loss = loss + u * ((1 - v) * seven[i + 1, j] + v * seven[i + 1, j + 1])
    loss = loss * (run / inside)[..., None]
    return octave(np.concatenate([loss, loss[..., -1:]], axis=-1))


@cache
def _grid() -> tuple[Array, Array, Array]:
    """Diameters (mm), lengths (m) and losses (diameters, lengths, 7) of the table."""
    listed = table("sound/flexible_duct")
    diameters, lengths = (np.unique(listed.numbers(name)) for name in ("diameter", "length"))
    seven = listed.numbers(*listed.columns[2:]).reshape(diameters.size, lengths.size, 7)
    return diameters, lengths, seven


def _cell(grid: Array, value: Array) -> tuple[Array, Array]:
    """Index of the lower grid point and the fraction beyond it, the latter with an axis for the bands."""
    index = np.clip(np.searchsorted(grid, value, side="right") - 1, 0, grid.size - 2)
    return index, ((value - grid[index]) / (grid[index + 1] - grid[index]))[..., None]
