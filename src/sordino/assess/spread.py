"""How sure a level is: half-widths by cause, carried to the result to first order.

A cause (one input, one method) moves every contribution it touches together; different causes are independent.
All half-widths are meant as nine-in-ten ranges.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from sordino.bands import Bands, energy_sum
from sordino.tables import table

Spread = dict[str, Bands]
"""Half-width in dB per octave, by cause."""


@cache
def half_width(key: str) -> Bands:
    """Row of the scatter table, dB, shape (9,)."""
    known = table("sound/scatter")
    row = known.row("key", key)
    return np.array([float(row[column]) for column in known.columns[1:10]])


def joined(*spreads: Spread) -> Spread:
    """Several spreads as one; a cause named twice adds up, since it errs the same way each time."""
    whole: Spread = {}
    for spread in spreads:
        for cause, width in spread.items():
            whole[cause] = whole.get(cause, np.zeros(9)) + width
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
    levels: Sequence[Bands],
    spreads: Sequence[Spread],
    figure: Callable[[Bands], float],
    floor: float = -np.inf,
) -> Ranged:
    """A figure of the sum of several levels (NC, dBA), moved by each cause in turn, roots of squares summed."""
    base = figure(energy_sum(levels))
    up, down, widest = 0.0, 0.0, ("", 0.0)
    for cause in sorted({key for spread in spreads for key in spread}):
        moves = [spread.get(cause, np.zeros(9)) for spread in spreads]
        more = figure(energy_sum(np.add(levels, moves))) - base
        less = base - figure(energy_sum(np.subtract(levels, moves)))
        up, down = up + more**2, down + less**2
        widest = max(widest, (cause, more + less), key=lambda pair: pair[1])
    return Ranged(value=base, low=max(base - np.sqrt(down), floor), high=base + np.sqrt(up), widest=widest[0])


def band_range(levels: Sequence[Bands], spreads: Sequence[Spread]) -> tuple[Bands, Bands]:
    """Lower and upper half-width of the sum in each band, dB."""
    base = energy_sum(levels)
    up, down = np.zeros(9), np.zeros(9)
    for cause in {key for spread in spreads for key in spread}:
        moves = [spread.get(cause, np.zeros(9)) for spread in spreads]
        up += (energy_sum(np.add(levels, moves)) - base) ** 2
        down += (base - energy_sum(np.subtract(levels, moves))) ** 2
    return np.sqrt(down), np.sqrt(up)
