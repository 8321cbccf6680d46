"""What no layout can beat: the linear programme over all through-cut patterns, by generating patterns as they pay.

For any prices of the blanks, the most valuable pattern V of each kind of sheet proves that the sheets to buy cost at
least t (prices . demand - sum V over sheets on hand) with t the least cost / V among those to buy (Farley 1990). With
no more patterns that pay, this is the programme's optimum (Gilmore & Gomory 1965).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from time import monotonic

import numpy as np

from sordino.bands import Array
from sordino.build.cutting.blanks import Blank
from sordino.build.cutting.fullest_free import splits
from sordino.build.cutting.points import sums
from sordino.build.cutting.solver import covering_prices
from sordino.build.cutting.stock import Kind, Used

FINEST, MOST = 1, 260
TURNS = 300
"""Raster of a bound in units of blanks, the most places of cuts along a side, and the most turns that add patterns."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bound:
    """The least that sheets to buy can cost, and the patterns met on the way, which can be cut where `exact`."""

    cost: float
    patterns: tuple[Used, ...]
    exact: bool
    converged: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Priced:
    """The most valuable pattern of one kind of sheet at some prices."""

    used: Used
    value: float


def bound(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], start: tuple[Used, ...], ends: float) -> Bound:
    """The bound as far as it could be raised until `ends`; `start` are patterns that cut every blank."""
    unit = _unit(blanks, kinds)
    small, rasters = _rastered(blanks, kinds, unit)

    def priced(prices: Array) -> list[Priced]:
        return [_priced(small, prices, index, raster) for index, raster in enumerate(rasters)]

    return raised(blanks, kinds, start, ends, priced, exact=unit == FINEST)


def raised(
    blanks: tuple[Blank, ...],
    kinds: tuple[Kind, ...],
    start: tuple[Used, ...],
    ends: float,
    priced: Callable[[Array], list[Priced]],
    exact: bool,
) -> Bound:
    """Pattern after pattern that pays is added, until none does or the time is over."""
    demand = np.array([float(blank.count) for blank in blanks])
    columns, prices = list(start), np.array([float(blank.area) for blank in blanks])
    best, converged = 0.0, False
    for turn in range(TURNS):
        fresh = priced(prices)
        best = max(best, _lower(fresh, kinds, float(prices @ demand)))
        known = {(used.kind, tuple(sorted(used.block.held))) for used in columns}
        new = [one.used for one in fresh if one.used.block.length]
        new = [used for used in new if (used.kind, tuple(sorted(used.block.held))) not in known]
        columns += new
        dual = covering_prices(
            pattern_costs(columns, kinds), pattern_counts(columns, blanks), demand, pattern_limits(columns, kinds)
        )
        if dual is None:  # what is on hand doesn't suffice with the patterns so far, and nothing can be bought
            break
        converged = best >= dual.cost - 1e-7 * max(dual.cost, 1.0)
        if converged or monotonic() > ends or (turn > 0 and not new):
            break
        prices = np.maximum(dual.prices[: len(blanks)], 0.0)
    return Bound(cost=best, patterns=tuple(columns), exact=exact, converged=converged)


def _lower(fresh: list[Priced], kinds: tuple[Kind, ...], whole: float) -> float:
    """What follows from the most valuable pattern of each kind, all blanks being worth `whole`."""
    rates = [kind.cost / max(one.value, 1e-12) for one, kind in zip(fresh, kinds, strict=True) if kind.count is None]
    owned = sum(one.value * kind.count for one, kind in zip(fresh, kinds, strict=True) if kind.count is not None)
    return min(rates) * (whole - owned) if rates else 0.0


def _priced(small: tuple[Blank, ...], prices: Array, index: int, raster: tuple[int, int]) -> Priced:
    valued = tuple(replace(blank, value=float(price)) for blank, price in zip(small, prices, strict=True))
    table = splits(valued, *raster, free=False)
    return Priced(used=Used(kind=index, block=table.block()), value=table.value)


def _unit(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...]) -> int:
    """The finest raster on which no side has too many places for cuts."""
    for unit in (1, 2, 5, 10, 20, 50, 100, 200):
        small, rasters = _rastered(blanks, kinds, unit)
        if all(
            len(sums([(way[axis], b.count) for b in small for way in b.ways], sides[axis])) <= MOST
            for sides in rasters
            for axis in (0, 1)
        ):
            return unit
    return 500


def _rastered(
    blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], unit: int
) -> tuple[tuple[Blank, ...], tuple[tuple[int, int], ...]]:
    """Blanks and sheets rounded down: whatever could be cut still can, so the bound stays one."""
    small = tuple(replace(b, length=max(b.length // unit, 1), width=max(b.width // unit, 1)) for b in blanks)
    return small, tuple((kind.length // unit, kind.width // unit) for kind in kinds)


def pattern_costs(columns: list[Used], kinds: tuple[Kind, ...]) -> Array:
    """What each pattern's sheet costs; nothing of those on hand."""
    return np.array([0.0 if kinds[used.kind].count is not None else kinds[used.kind].cost for used in columns])


def pattern_counts(columns: list[Used], blanks: tuple[Blank, ...]) -> Array:
    """How often each blank, one a row, is in each pattern."""
    counts = np.zeros((len(blanks), len(columns)))
    for place, used in enumerate(columns):
        for number in used.block.held:
            counts[number, place] += 1.0
    return counts


def pattern_limits(columns: list[Used], kinds: tuple[Kind, ...]) -> Array:
    """One row for each kind on hand: which columns use it, and how many there are."""
    rows = [
        [*(float(used.kind == index) for used in columns), float(kind.count)]
        for index, kind in enumerate(kinds)
        if kind.count is not None
    ]
    return np.array(rows) if rows else np.zeros((0, len(columns) + 1))
