"""The most valuable way to split one sheet when every blank has a count: exact, best first, within a limit of steps.

Blocks grow by setting two of them beside each other; a block's promise is its value and the most that the rest of the
sheet could hold were there no counts. The first whole sheet whose value reaches every open promise is the best
(Viswanathan & Bagchi 1993).
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from time import monotonic

import numpy as np

from sordino.bands import Array
from sordino.build.cutting.blanks import EMPTY, Blank, Block, Way, beside
from sordino.build.cutting.fullest_free import Splits, splits


@dataclass(frozen=True, kw_only=True, slots=True)
class Filled:
    """One sheet's best block, its value, and what no block can be worth more than."""

    block: Block
    value: float
    bound: float

    @property
    def proven(self) -> bool:
        """Whether nothing better exists."""
        return self.value >= self.bound - 1e-9


@dataclass(frozen=True, slots=True)
class _Grown:
    block: Block
    counts: tuple[int, ...]
    value: float


def fullest(blanks: tuple[Blank, ...], length: int, width: int, limit: float) -> Filled:
    """The best block found within `limit` seconds."""
    ends = monotonic() + limit
    table = splits(blanks, length, width, free=False)
    around = _around(table)
    best = _Grown(EMPTY, (0,) * len(blanks), 0.0)
    open_: list[tuple[float, int, _Grown]] = []
    order = 0
    for grown in _singles(blanks, length, width):
        heapq.heappush(open_, (-_promise(grown, table, around), order, grown))
        order += 1
    closed: list[_Grown] = []
    seen: set[tuple[int, int, tuple[int, ...]]] = set()
    while open_:
        promise, _, grown = heapq.heappop(open_)
        if -promise <= best.value + 1e-9:
            return Filled(block=best.block, value=best.value, bound=best.value)
        key = (grown.block.length, grown.block.width, grown.counts)
        if key in seen:
            continue
        seen.add(key)
        best = max(best, grown, key=lambda one: one.value)
        closed.append(grown)
        for joined in _joined(grown, closed, blanks, length, width):
            hope = _promise(joined, table, around)
            best = max(best, joined, key=lambda one: one.value)
            if hope > best.value + 1e-9:
                heapq.heappush(open_, (-hope, order, joined))
                order += 1
        if monotonic() > ends:
            return Filled(block=best.block, value=best.value, bound=max(best.value, -open_[0][0] if open_ else 0.0))
    return Filled(block=best.block, value=best.value, bound=best.value)


def _singles(blanks: tuple[Blank, ...], length: int, width: int) -> Iterator[_Grown]:
    for number, blank in enumerate(blanks):
        counts = tuple(int(index == number) for index in range(len(blanks)))
        for along, across, turned in blank.ways:
            if along <= length and across <= width and blank.count:
                block = Block(length=along, width=across, blank=number, turned=turned)
                yield _Grown(block, counts, blank.value)


def _joined(
    grown: _Grown, closed: list[_Grown], blanks: tuple[Blank, ...], length: int, width: int
) -> Iterator[_Grown]:
    ways: tuple[Way, Way] = ("x", "y")
    for other in closed:
        counts = tuple(a + b for a, b in zip(grown.counts, other.counts, strict=True))
        if any(count > blank.count for count, blank in zip(counts, blanks, strict=True)):
            continue
        for way in ways:
            block = beside(grown.block, other.block, way)
            if block.length <= length and block.width <= width:
                yield _Grown(block, counts, grown.value + other.value)


def _promise(grown: _Grown, table: Splits, around: Array) -> float:
    i = int(np.searchsorted(table.xs, grown.block.length))
    j = int(np.searchsorted(table.ys, grown.block.width))
    return grown.value + float(around[i, j])


def _around(table: Splits) -> Array:
    """The most that can lie round a block of given size in the lower left corner, without counts."""
    xs, ys, best = table.xs, table.ys, table.best
    around = np.zeros(best.shape)
    for i in reversed(range(len(xs))):
        right = np.searchsorted(xs, xs[i:] - xs[i], "right") - 1
        for j in reversed(range(len(ys))):
            above = np.searchsorted(ys, ys[j:] - ys[j], "right") - 1
            beside_ = (around[i:, j] + best[right, j]).max()
            over = (around[i, j:] + best[i, above]).max()
            around[i, j] = max(beside_, over)
    return around
