"""What to do where the stock on hand doesn't suffice and the shop sells nothing large enough: leave the largest out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from sordino.build.cutting.blanks import Blank
from sordino.build.cutting.search import Found
from sordino.build.cutting.stock import Kind
from sordino.errors import OutOfRange

Search = Callable[[tuple[Blank, ...], tuple[Kind, ...], float], Found]
Piece = TypeVar("Piece")
NONE = Found(solution=(), cost_bound=0.0, sheets_bound=0, method="nothing to cut")


def found_for_most(
    search: Search, wanted: tuple[Blank, ...], groups: list[list[Piece]], kinds: tuple[Kind, ...], limit: float
) -> tuple[Found, tuple[Piece, ...]]:
    """The best cutting, and what had to be left out, which is taken off its group."""
    left: list[Piece] = []
    while any(blank.count for blank in wanted):
        try:
            return search(wanted, kinds, limit), tuple(left)
        except OutOfRange:
            number = _first_without_shop(wanted, kinds)
            left.append(groups[number].pop(0))
            fewer = replace(wanted[number], count=wanted[number].count - 1)
            wanted = (*wanted[:number], fewer, *wanted[number + 1 :])
    return NONE, tuple(left)


def _first_without_shop(wanted: tuple[Blank, ...], kinds: tuple[Kind, ...]) -> int:
    shop = [kind for kind in kinds if kind.count is None]
    return next(
        number
        for number, blank in enumerate(wanted)
        if blank.count and not any(blank.fits(kind.length, kind.width) for kind in shop)
    )
