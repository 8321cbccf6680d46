"""The order of elimination: halves first, the plane between them last, again and again (nested
dissection)."""

from __future__ import annotations

import numpy as np

from sordino.bands import Array

LEAST = 20
"""Pieces of this many unknowns are not parted further."""


def dissected(places: Array) -> Array:
    """An order of unknowns at grid places (n, 3) that keeps the factors of a grid operator sparse (George,
    1973)."""
    return np.concatenate(_parts(places, np.arange(len(places))))


def _parts(places: Array, rows: Array) -> list[Array]:
    here = places[rows]
    extent = here.max(axis=0) - here.min(axis=0)
    axis = int(np.argmax(extent))
    if len(rows) <= LEAST or extent[axis] < 2:
        return [rows]
    along = here[:, axis]
    plane = int(np.clip(np.median(along), along.min() + 1, along.max() - 1))
    sides = [rows[along < plane], rows[along > plane]]
    return [part for side in sides if len(side) for part in _parts(places, side)] + [rows[along == plane]]
