"""Reading a loss coefficient between the rows of a published table."""

from __future__ import annotations

from bisect import bisect_right
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array
from sordino.tables import table

Value = Any
"""A float where every argument is a number, an array where one is an array."""


@cache
def columns(name: str, *wanted: str) -> tuple[Array, ...]:
    """Columns of a table as read-only arrays, kept after the first reading."""
    source = table(name)
    return tuple(source.numbers(column) for column in wanted)


def along(name: str, key: str, column: str, at: Value) -> Value:
    """`column` at the value `at` of the rising column `key`, straight between rows and held at the ends."""
    keys, values = columns(name, key, column)
    if not isinstance(at, float):
        return np.interp(at, keys, values)
    i, share = _place(keys, at)
    return (1 - share) * values.item(i) + share * values.item(i + 1)


@cache
def _grid(name: str) -> tuple[Array, Array, Array]:
    source = table(name)
    across = np.array([float(column) for column in source.columns[1:]])
    return source.numbers(source.columns[0]), across, source.numbers(*source.columns[1:])


def between(name: str, row: ArrayLike, column: ArrayLike) -> Value:
    """A two-way table (first column and header are the keys) read bilinearly and held at its edges."""
    rows, across, values = _grid(name)
    i, u = _place(rows, row)
    j, v = _place(across, column)
    low = (1 - v) * values[i, j] + v * values[i, j + 1]
    high = (1 - v) * values[i + 1, j] + v * values[i + 1, j + 1]
    return (1 - u) * low + u * high


def _place(keys: Array, at: ArrayLike) -> tuple[Value, Value]:
    if isinstance(at, float):
        low = min(max(bisect_right(keys, at) - 1, 0), keys.size - 2)
        left, right = keys.item(low), keys.item(low + 1)
        return low, min(max((at - left) / (right - left), 0.0), 1.0)
    held = np.clip(at, keys[0], keys[-1])
    index = np.clip(np.searchsorted(keys, held, side="right") - 1, 0, keys.size - 2)
    return index, (held - keys[index]) / (keys[index + 1] - keys[index])
