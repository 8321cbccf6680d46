"""Sticks from bars: the same as boards from sheets with one side only, so every bound is exact and quick."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic

import numpy as np

from sordino.bands import Array
from sordino.build.cutting.blanks import EMPTY, Blank, Block, beside
from sordino.build.cutting.bound import Priced, raised
from sordino.build.cutting.fill import filled
from sordino.build.cutting.mix import mixed
from sordino.build.cutting.search import DUST, Found, area_bound, fewest_of, rounded_up, singles
from sordino.build.cutting.stock import Kind, Solution, Used, complete, cost, merit
from sordino.errors import OutOfRange

ROUNDS = 60


def searched_lines(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], limit: float) -> Found:
    """The best way to cut blanks of width 1 from kinds of width 1, within `limit` seconds."""
    ends = monotonic() + limit
    floor, proof = area_bound(blanks, kinds), "no more length than the sticks have"
    best = filled(blanks, kinds, ROUNDS, monotonic() + 0.3 * limit, floor)
    how = "sticks one after the other, in many orders"
    if best is None or cost(best, kinds) > floor + DUST:
        found = raised(blanks, kinds, singles(blanks, kinds), monotonic() + 0.4 * limit, _pricing(blanks, kinds), True)
        better = rounded_up(max(floor, found.cost), kinds)
        if better > floor + DUST:
            floor, proof = better, "the linear programme over all patterns"
        patterns = (*found.patterns, *(best or ()))
        other = _unless_met(blanks, kinds, best, patterns, floor, ends)
        if other is not None and (best is None or merit(other, kinds) < merit(best, kinds)):
            best, how = other, "the best choice among patterns"
    if best is None:
        raise OutOfRange("the sticks on hand don't suffice, and none is in the shop")
    alike = _alike(kinds)
    fewest = fewest_of(
        blanks,
        kinds,
        best,
        floor,
        lambda: raised(blanks, alike, singles(blanks, alike), ends, _pricing(blanks, alike), True).cost,
    )
    return Found(solution=best, cost_bound=floor, sheets_bound=fewest, method=f"{how}; bound: {proof}")


def _unless_met(
    blanks: tuple[Blank, ...],
    kinds: tuple[Kind, ...],
    best: Solution | None,
    patterns: tuple[Used, ...],
    floor: float,
    ends: float,
) -> Solution | None:
    if best is not None and cost(best, kinds) <= floor + DUST:
        return None
    found = mixed(blanks, kinds, patterns, max(ends - monotonic(), 0.1))
    return found if found is not None and complete(found, blanks) else None


def _alike(kinds: tuple[Kind, ...]) -> tuple[Kind, ...]:
    return tuple(Kind(length=kind.length, width=kind.width, count=None, cost=1.0) for kind in kinds)


def _pricing(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...]) -> Callable[[Array], list[Priced]]:
    return lambda prices: [best_bar(blanks, prices, index, kind.length) for index, kind in enumerate(kinds)]


def best_bar(blanks: tuple[Blank, ...], prices: Array, index: int, length: int) -> Priced:
    """The most valuable choice for one bar, each blank at most as often as it is wanted."""
    best = np.zeros(length + 1)
    taken: list[tuple[int, Array]] = []
    for number, blank in enumerate(blanks):
        for _ in range(min(blank.count, length // blank.length)):
            grown = best[: length + 1 - blank.length] + float(prices[number])
            better = np.zeros(length + 1, dtype=bool)
            better[blank.length :] = grown > best[blank.length :] + 1e-12
            if not better.any():
                break
            best[blank.length :] = np.where(better[blank.length :], grown, best[blank.length :])
            taken.append((number, better))
    return Priced(used=Used(kind=index, block=_traced(blanks, taken, length)), value=float(best[length]))


def _traced(blanks: tuple[Blank, ...], taken: list[tuple[int, Array]], length: int) -> Block:
    block, left = EMPTY, length
    for number, better in reversed(taken):
        if better[left]:
            one = Block(length=blanks[number].length, width=1, blank=number)
            block, left = beside(one, block, "x"), left - one.length
    return block
