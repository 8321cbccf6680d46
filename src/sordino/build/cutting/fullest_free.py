"""The most valuable way to split one sheet, with no limit to how often a blank is cut: exact.

F(x, y) = max of one blank, F(a, y) + F(x - a, y) over upright cuts and F(x, b) + F(x, y - b) over level ones
(Gilmore & Gomory 1966), on the sums of the blanks' sides only (Herz 1972; Christofides & Whitlock 1977).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.build.cutting.blanks import EMPTY, Blank, Block, beside
from sordino.build.cutting.points import sums


@dataclass(frozen=True, kw_only=True, eq=False)
class Splits:
    """The table F over sums of sides, and how each best is got."""

    xs: Array
    ys: Array
    blanks: tuple[Blank, ...]
    best: Array
    own: Array
    """The number of the blank, twice, plus one if turned, that is best alone; -1 where none is."""

    @property
    def value(self) -> float:
        """Of the whole sheet."""
        return float(self.best[-1, -1])

    def block(self, i: int = -1, j: int = -1) -> Block:
        """How the best of a rectangle is cut; the whole sheet's if not told otherwise."""
        i, j = i % len(self.xs), j % len(self.ys)
        value = self.best[i, j]
        if value <= 0.0:
            return EMPTY
        alone = int(self.own[i, j])
        if alone >= 0 and self.blanks[alone // 2].value == value:
            return self._alone(alone)
        for a in range(1, i + 1):
            rest = int(np.searchsorted(self.xs, self.xs[i] - self.xs[a], "right")) - 1
            if self.best[a, j] + self.best[rest, j] == value and a < i:
                return beside(self.block(a, j), self.block(rest, j), "x")
        for b in range(1, j):
            rest = int(np.searchsorted(self.ys, self.ys[j] - self.ys[b], "right")) - 1
            if self.best[i, b] + self.best[i, rest] == value:
                return beside(self.block(i, b), self.block(i, rest), "y")
        # the best of a rectangle a little smaller
        return self.block(i - 1, j) if i > 0 and self.best[i - 1, j] == value else self.block(i, j - 1)

    def _alone(self, code: int) -> Block:
        blank, turned = self.blanks[code // 2], bool(code % 2)
        length, width = (blank.width, blank.length) if turned else (blank.length, blank.width)
        return Block(length=length, width=width, blank=code // 2, turned=turned)


def splits(blanks: tuple[Blank, ...], length: int, width: int, free: bool = True) -> Splits:
    """The table for a sheet; `free` lets every blank be cut as often as it fits, else the sums heed its count."""
    often = [10**9 if free else blank.count for blank in blanks]
    xs = sums([(way[0], n) for blank, n in zip(blanks, often, strict=True) for way in blank.ways], length)
    ys = sums([(way[1], n) for blank, n in zip(blanks, often, strict=True) for way in blank.ways], width)
    best, own = _alone(blanks, xs, ys)
    back_x, back_y = _rests(xs), _rests(ys)
    for i in range(len(xs)):
        row = best[i]
        if i > 0:
            np.maximum(row, best[i - 1], out=row)
            half = int(np.searchsorted(xs, xs[i] // 2, "right"))
            if half > 1:
                np.maximum(row, (best[1:half] + best[back_x[i][1:half]]).max(axis=0), out=row)
        _level(row, ys, back_y)
    return Splits(xs=xs, ys=ys, blanks=blanks, best=best, own=own)


def _level(row: Array, ys: Array, back: list[Array]) -> None:
    """Best over level cuts within one row, from low to high."""
    for j in range(1, len(ys)):
        half = int(np.searchsorted(ys, ys[j] // 2, "right"))
        most = max(row[j], row[j - 1])
        if half > 1:
            most = max(most, (row[1:half] + row[back[j][1:half]]).max())
        row[j] = most


def _rests(points: Array) -> list[Array]:
    """For each point and each one below it, which point the rest reaches."""
    return [np.searchsorted(points, point - points[: i + 1], "right") - 1 for i, point in enumerate(points)]


def _alone(blanks: tuple[Blank, ...], xs: Array, ys: Array) -> tuple[Array, Array]:
    best = np.zeros((len(xs), len(ys)))
    own = np.full(best.shape, -1)
    for number, blank in enumerate(blanks):
        for along, across, turned in blank.ways:
            i, j = int(np.searchsorted(xs, along)), int(np.searchsorted(ys, across))
            better = best[i:, j:] < blank.value
            best[i:, j:][better] = blank.value
            own[i:, j:][better] = 2 * number + turned
    return best, own
