"""Layouts of strips that are then crosscut, exact by whole-number programming (Lodi, Martello & Vigo 2004).

Every blank, each way it may lie, opens a strip of its own height or lies in one of a blank at least as high. Strips are
stacked on sheets. That is what a table saw does anyway; other layouts by through cuts may need less.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.build.cutting.blanks import EMPTY, Blank, Block, Way, beside
from sordino.build.cutting.solver import least
from sordino.build.cutting.stock import Kind, Solution, Used

MOST = 90
"""Blanks, counted each way they may lie, up to which this is tried."""


@dataclass(frozen=True, slots=True)
class _Way:
    """One blank as it may lie: along and across the strips."""

    blank: int
    piece: int
    along: int
    across: int
    turned: bool


@dataclass(frozen=True, slots=True)
class _Sheet:
    kind: int
    along: int
    across: int
    cost: float


def in_strips(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], most: int, way: Way, limit: float) -> Solution | None:
    """The cheapest layout of strips along `way` on up to `most` sheets of each kind; None if not found in time."""
    lying = _lying(blanks, way)
    sheets = _sheets(kinds, most, way)
    if len(lying) > MOST or not sheets:
        return None
    model = _Model(lying, sheets)
    found = least(model.cost, model.rows(), model.low, model.high, np.ones(len(model.cost)), limit)
    return None if found.values is None else _read(model, found.values, way)


def _lying(blanks: tuple[Blank, ...], way: Way) -> list[_Way]:
    """All single pieces, each way, from the highest strip down."""
    found, piece = [], 0
    for number, blank in enumerate(blanks):
        for _ in range(blank.count):
            for length, width, turned in blank.ways:
                sides = (length, width) if way == "x" else (width, length)
                found.append(_Way(number, piece, *sides, turned))
            piece += 1
    return sorted(found, key=lambda one: -one.across)


def _sheets(kinds: tuple[Kind, ...], most: int, way: Way) -> list[_Sheet]:
    return [
        _Sheet(index, *((kind.length, kind.width) if way == "x" else (kind.width, kind.length)), _price(kind))
        for index, kind in enumerate(kinds)
        for _ in range(most if kind.count is None else kind.count)
    ]


def _price(kind: Kind) -> float:
    return kind.cost if kind.count is None else 1e-6 * kind.area


class _Model:
    """Variables: which piece lies in whose strip, which strip on which sheet, which sheet is used."""

    def __init__(self, lying: list[_Way], sheets: list[_Sheet]) -> None:
        self.lying, self.sheets = lying, sheets
        longest = max(sheet.along for sheet in sheets)
        self.lies = [
            (i, j)
            for i, first in enumerate(lying)
            for j, other in enumerate(lying)
            if j == i or (j > i and other.piece != first.piece and first.along + other.along <= longest)
        ]
        self.strips = [
            (i, k)
            for i, first in enumerate(lying)
            for k, sheet in enumerate(sheets)
            if first.along <= sheet.along and first.across <= sheet.across
        ]
        self.first_strip = len(self.lies)
        self.first_sheet = self.first_strip + len(self.strips)
        self.cost = np.concatenate([np.zeros(self.first_sheet), [sheet.cost for sheet in sheets]])
        self.low, self.high = np.zeros(0), np.zeros(0)

    def rows(self) -> object:
        """The constraints; sets their limits, too."""
        from scipy.sparse import coo_matrix

        entries: list[tuple[int, int, float]] = []
        low: list[float] = []
        high: list[float] = []

        def row(terms: list[tuple[int, float]], least_: float, most: float) -> None:
            entries.extend((len(low), column, value) for column, value in terms)
            low.append(least_)
            high.append(most)

        self._pieces(row)
        self._lengths(row)
        self._heights(row)
        self.low, self.high = np.array(low), np.array(high)
        place, column, value = zip(*entries, strict=True)
        return coo_matrix((value, (place, column)), shape=(len(low), len(self.cost))).tocsr()

    def _pieces(self, row: object) -> None:
        """Each piece lies once; a strip is on one sheet if its first piece is there."""
        assert callable(row), "rows are added by a function"
        of_piece: dict[int, list[tuple[int, float]]] = {}
        for column, (_, j) in enumerate(self.lies):
            of_piece.setdefault(self.lying[j].piece, []).append((column, 1.0))
        for terms in of_piece.values():
            row(terms, 1.0, 1.0)
        own = {i: column for column, (i, j) in enumerate(self.lies) if i == j}
        on: dict[int, list[tuple[int, float]]] = {i: [] for i in own}
        for place, (i, _) in enumerate(self.strips):
            on[i].append((self.first_strip + place, 1.0))
        for i, column in own.items():
            row([*on[i], (column, -1.0)], 0.0, 0.0)

    def _lengths(self, row: object) -> None:
        """A strip is no longer than its sheet."""
        assert callable(row), "rows are added by a function"
        terms: dict[int, list[tuple[int, float]]] = {}
        for column, (i, j) in enumerate(self.lies):
            terms.setdefault(i, []).append((column, float(self.lying[j].along)))
        for place, (i, k) in enumerate(self.strips):
            terms[i].append((self.first_strip + place, -float(self.sheets[k].along)))
        for each in terms.values():
            row(each, -np.inf, 0.0)

    def _heights(self, row: object) -> None:
        """Strips on a sheet are no higher than it; of like sheets the first is used first."""
        assert callable(row), "rows are added by a function"
        terms: dict[int, list[tuple[int, float]]] = {k: [] for k in range(len(self.sheets))}
        for place, (i, k) in enumerate(self.strips):
            terms[k].append((self.first_strip + place, float(self.lying[i].across)))
        for k, each in terms.items():
            row([*each, (self.first_sheet + k, -float(self.sheets[k].across))], -np.inf, 0.0)
            if k > 0 and self.sheets[k - 1].kind == self.sheets[k].kind:
                row([(self.first_sheet + k - 1, 1.0), (self.first_sheet + k, -1.0)], 0.0, np.inf)


def _read(model: _Model, values: object, way: Way) -> Solution:
    taken = np.asarray(values) > 0.5
    strips: dict[int, Block] = {}
    for column, (i, j) in enumerate(model.lies):
        if taken[column]:
            strips[i] = beside(strips.get(i, EMPTY), _single(model.lying[j], way), way)
    stacks: dict[int, Block] = {}
    across: Way = "y" if way == "x" else "x"
    for place, (i, k) in enumerate(model.strips):
        if taken[model.first_strip + place]:
            stacks[k] = beside(stacks.get(k, EMPTY), strips[i], across)
    return tuple(Used(kind=model.sheets[k].kind, block=block) for k, block in sorted(stacks.items()))


def _single(one: _Way, way: Way) -> Block:
    length, width = (one.along, one.across) if way == "x" else (one.across, one.along)
    return Block(length=length, width=width, blank=one.blank, turned=one.turned)
