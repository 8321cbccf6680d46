"""How sure a level is: half-widths by cause, carried to the result to first order.

A cause (one input, one method) moves every contribution it touches together; different causes are independent.
All half-widths are meant as nine-in-ten ranges.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from sordino.bands import Array, Bands, energy_sum
from sordino.tables import table

Spread = dict[str, Bands]
"""Half-width in dB per octave, by cause."""


@cache
def half_width(key: str) -> Bands:
    """Row of the scatter table, dB, shape (9,), read-only."""
    known = table("sound/scatter")
    row = known.row("key", key)
    widths = np.array([float(row[column]) for column in known.columns[1:10]])
    widths.setflags(write=False)
    return widths


def joined(*spreads: Spread) -> Spread:
    """Several spreads as one; a cause named twice adds up, since it errs the same way each time."""
    whole: Spread = {}
    for spread in spreads:
        for cause, width in spread.items():
            whole[cause] = whole[cause] + width if cause in whole else width
    return whole


@dataclass(frozen=True, kw_only=True, slots=True)
class Ranged:
    """A single figure with its range and the cause that widens it most."""

    value: float
    low: float
    high: float
    widest: str

    @property
    def half(self) -> float:
        """Half of the range."""
        return (self.high - self.low) / 2.0


def ranged(
    levels: Sequence[Bands], spreads: Sequence[Spread], figure: Callable[[Array], Array], floor: float = -np.inf
) -> Ranged:
    """A figure of the sum of several levels (NC, dBA), moved by each cause in turn, roots of squares summed.

    `figure` takes (..., 9) to (...).
    """
    base = float(figure(energy_sum(levels)))
    causes, moved = moves(levels, spreads)
    up = np.maximum(figure(moved[0]) - base, 0.0)
    down = np.maximum(base - figure(moved[1]), 0.0)
    widest = causes[int(np.argmax(up + down))] if causes and (up + down).max() > 0.0 else ""
    low, high = base - np.sqrt((down**2).sum()), base + np.sqrt((up**2).sum())
    return Ranged(value=base, low=max(float(low), floor), high=float(high), widest=widest)


def band_range(levels: Sequence[Bands], spreads: Sequence[Spread]) -> tuple[Bands, Bands]:
    """Lower and upper half-width of the sum in each band, dB."""
    base = energy_sum(levels)
    _, moved = moves(levels, spreads)
    return np.sqrt(((base - moved[1]) ** 2).sum(axis=0)), np.sqrt(((moved[0] - base) ** 2).sum(axis=0))


def moves(levels: Sequence[Bands], spreads: Sequence[Spread]) -> tuple[tuple[str, ...], Array]:
    """All causes, and the sum with each of them moved up and down by its half-width: shape (2, causes, 9)."""
    causes = tuple(sorted({cause for spread in spreads for cause in spread}))
    shifts = np.zeros((len(causes), len(levels), 9))
    for place, spread in enumerate(spreads):
        for cause, width in spread.items():
            shifts[causes.index(cause), place] = width
    whole = np.asarray(levels)
    return causes, np.stack([energy_sum(whole + shifts, axis=1), energy_sum(whole - shifts, axis=1)])
