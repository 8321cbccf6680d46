"""A quick layout: blanks one after the other into the rest where they fit best, over many orders drawn by lot."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from time import monotonic

from sordino.build.cutting.blanks import Blank, Way
from sordino.build.cutting.slots import Slot, block_of
from sordino.build.cutting.stock import Kind, Solution, Used, merit

MEASURES: tuple[Callable[[Blank], float], ...] = (
    lambda blank: blank.area,
    lambda blank: max(blank.length, blank.width),
    lambda blank: blank.width,
    lambda blank: blank.length,
    lambda blank: blank.length + blank.width,
)
"""By which blanks are sorted."""


@dataclass(slots=True)
class _Open:
    """A rectangle while it is being filled."""

    sheet: int
    x: int
    y: int
    length: int
    width: int
    blank: int | None = None
    turned: bool = False
    way: Way | None = None
    at: int = 0
    two: tuple[_Open, _Open] | None = None

    def cut(self, way: Way, at: int) -> tuple[_Open, _Open]:
        """Its two halves."""
        if way == "x":
            ends = _Open(self.sheet, self.x + at, self.y, self.length - at, self.width)
            halves = _Open(self.sheet, self.x, self.y, at, self.width), ends
        else:
            ends = _Open(self.sheet, self.x, self.y + at, self.length, self.width - at)
            halves = _Open(self.sheet, self.x, self.y, self.length, at), ends
        self.way, self.at, self.two = way, at, halves
        return halves

    def slot(self) -> Slot:
        """As it is in the end."""
        return Slot(
            x=self.x,
            y=self.y,
            length=self.length,
            width=self.width,
            blank=self.blank,
            turned=self.turned,
            way=self.way,
            at=self.at,
            two=None if self.two is None else (self.two[0].slot(), self.two[1].slot()),
        )


def filled(
    blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], rounds: int, ends: float, enough: float
) -> Solution | None:
    """The best of so many rounds, fewer if `ends` comes or a cost of `enough` is reached; None if none is whole."""
    lot = Random(20)
    best: Solution | None = None
    for number in range(rounds):
        found = _round(blanks, kinds, lot, first=number)
        if found is not None and (best is None or merit(found, kinds) < merit(best, kinds)):
            best = found
        if monotonic() > ends and best is not None:
            break
        if best is not None and merit(best, kinds)[0] <= enough and number > 60:
            break
    return best


def _order(blanks: tuple[Blank, ...], lot: Random, first: int) -> list[int]:
    """Large before small by one measure or another, shaken more or less."""
    measure = MEASURES[first % len(MEASURES)]
    shake = 0.0 if first < 10 else lot.choice((0.05, 0.15, 0.4))
    keys = [
        (measure(blank) * (1.0 + shake * (lot.random() - 0.5)), number)
        for number, blank in enumerate(blanks)
        for _ in range(blank.count)
    ]
    return [number for _, number in sorted(keys, reverse=True)]


def _round(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], lot: Random, first: int) -> Solution | None:
    sheets: list[tuple[int, _Open]] = []
    open_: list[_Open] = []
    for index, kind in enumerate(kinds):
        for _ in range(kind.count or 0):
            open_.append(_started(sheets, index, kind))
    shop = [index for index, kind in enumerate(kinds) if kind.count is None]
    favourite = lot.choice(shop) if shop else None
    tight, rule = first % 2 == 0, lot.randrange(3)
    for number in _order(blanks, lot, first):
        blank = blanks[number]
        choice = _fitting(blank, open_, tight)
        if choice is None:
            fits = [index for index in shop if blank.fits(kinds[index].length, kinds[index].width)]
            if not fits:
                return None
            index = favourite if favourite in fits and lot.random() < 0.85 else lot.choice(fits)
            assert index is not None, "one of those that fit was chosen"
            open_.append(_started(sheets, index, kinds[index]))
            choice = _fitting(blank, open_, tight)
        assert choice is not None, "the blank fits a new sheet"
        _put(number, choice, open_, rule if rule < 2 else lot.randrange(2))
    used = ((index, block_of(root.slot())) for index, root in sheets)
    return tuple(Used(kind=index, block=block) for index, block in used if block.length)


def _started(sheets: list[tuple[int, _Open]], index: int, kind: Kind) -> _Open:
    fresh = _Open(len(sheets), 0, 0, kind.length, kind.width)
    sheets.append((index, fresh))
    return fresh


def _fitting(blank: Blank, open_: list[_Open], tight: bool) -> tuple[_Open, int, int, bool] | None:
    """Where the blank leaves the narrowest rest, or the smallest."""
    best, least = None, (1 << 62, 1 << 62)
    for along, across, turned in blank.ways:
        for rest in open_:
            over, beyond = rest.length - along, rest.width - across
            if over >= 0 and beyond >= 0:
                narrow, area = min(over, beyond), rest.length * rest.width - along * across
                key = (narrow, area) if tight else (area, narrow)
                if key < least:
                    best, least = (rest, along, across, turned), key
    return best


def _put(number: int, choice: tuple[_Open, int, int, bool], open_: list[_Open], rule: int) -> None:
    """Cut the blank out of the rest so that one of the two new rests is as large, or as even, as can be."""
    rest, along, across, turned = choice
    open_.remove(rest)
    over, beyond = rest.length - along, rest.width - across
    upright = (over >= beyond) if rule == 0 else (over < beyond)
    for way in ("x", "y") if upright else ("y", "x"):
        if way == "x" and over > 0:
            rest, other = rest.cut("x", along)
            open_.append(other)
        elif way == "y" and beyond > 0:
            rest, other = rest.cut("y", across)
            open_.append(other)
    rest.blank, rest.turned = number, turned
