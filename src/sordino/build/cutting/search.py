"""The best layout that can be found in the time allowed, and what no layout can beat."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import ceil
from time import monotonic

from sordino.build.cutting.blanks import Blank, Block, Way
from sordino.build.cutting.bound import Bound, bound
from sordino.build.cutting.fill import filled
from sordino.build.cutting.fullest import fullest
from sordino.build.cutting.levels import in_strips
from sordino.build.cutting.mix import mixed
from sordino.build.cutting.points import sums
from sordino.build.cutting.stock import Kind, Solution, Used, complete, cost, merit
from sordino.errors import OutOfRange

ROUNDS, MORE = 400, 4000
"""Orders drawn by lot before the bound is worked out, and after it."""
DUST = 1e-6
PLACES = 30_000
"""Places of cuts on a sheet up to which it is tried to fill one sheet after the other as best can be."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """A layout, the least cost and the least number of sheets that can be, and how both were found."""

    solution: Solution
    cost_bound: float
    sheets_bound: int
    method: str


def searched(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], limit: float) -> Found:
    """The best layout within `limit` seconds; every blank must fit some kind, on hand or bought.

    Raises OutOfRange where blanks are left when all sheets on hand are used up and none can be bought.
    """
    ends = monotonic() + limit
    floor = area_bound(blanks, kinds)
    best = filled(blanks, kinds, ROUNDS, monotonic() + 0.3 * limit, floor)
    how = "blanks one after the other, in many orders"
    proof = "no more area than the parts have"
    patterns: tuple[Used, ...] = ()
    if best is None or cost(best, kinds) > floor + DUST:
        raised = bound(blanks, kinds, singles(blanks, kinds), monotonic() + 0.3 * limit)
        better = rounded_up(max(floor, raised.cost), kinds)
        if better > floor + DUST:
            floor, proof = better, f"the linear programme over all patterns{_where(raised)}"
        patterns = raised.patterns if raised.exact else ()
    for solution, name in _tried(blanks, kinds, best, patterns, floor, ends):
        if complete(solution, blanks) and (best is None or merit(solution, kinds) < merit(best, kinds)):
            best, how = solution, name
        if cost(best or solution, kinds) <= floor + DUST:
            break
    if best is None:
        raise OutOfRange("the sheets on hand don't hold all parts, and none is in the shop")
    alike = tuple(replace(kind, count=None, cost=1.0) for kind in kinds)
    fewest = fewest_of(
        blanks, kinds, best, floor, lambda: bound(blanks, alike, singles(blanks, alike), ends + 0.1 * limit).cost
    )
    return Found(solution=best, cost_bound=floor, sheets_bound=fewest, method=f"{how}; bound: {proof}")


def _where(raised: Bound) -> str:
    return "" if raised.converged else ", as far as it was raised in time"


def _tried(
    blanks: tuple[Blank, ...],
    kinds: tuple[Kind, ...],
    best: Solution | None,
    patterns: tuple[Used, ...],
    floor: float,
    ends: float,
) -> Iterator[tuple[Solution, str]]:
    """Better ways, the quick ones first, until the time is over."""
    if best is not None and cost(best, kinds) <= floor + DUST:
        return
    ways: tuple[Way, Way] = ("x", "y")
    if patterns and (found := mixed(blanks, kinds, (*patterns, *(best or ())), _left(ends, 0.4))):
        yield found, "the best choice among patterns"
    if found := _one_by_one(blanks, kinds, _left(ends, 0.2)):
        yield found, "the fullest sheet first"
    for way in ways:
        most = len(best or ()) or sum(blank.count for blank in blanks)
        if _left(ends, 1.0) > 0.5 and (found := in_strips(blanks, kinds, most, way, _left(ends, 0.5))):
            yield found, f"strips along {'the length' if way == 'x' else 'the width'}, then crosscut"
    if found := filled(blanks, kinds, MORE, ends, floor):
        yield found, "blanks one after the other, in many more orders"


def _left(ends: float, share: float) -> float:
    return max(share * (ends - monotonic()), 0.0)


def singles(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...]) -> tuple[Used, ...]:
    """Each blank alone on a sheet that can be bought, or else on one on hand: something to start from."""
    found = []
    for number, blank in enumerate(blanks):
        for index, kind in enumerate(kinds):
            fits = [way for way in blank.ways if way[0] <= kind.length and way[1] <= kind.width]
            if fits:
                length, width, turned = fits[0]
                found.append(Used(kind=index, block=Block(length=length, width=width, blank=number, turned=turned)))
    return tuple(found)


def _one_by_one(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], limit: float) -> Solution | None:
    """Sheet after sheet, each as full as it can be: those on hand first, then the cheapest size."""
    if not _few_places(blanks, kinds):
        return None
    counts = [blank.count for blank in blanks]
    on_hand = [index for index, kind in enumerate(kinds) for _ in range(kind.count or 0)]
    shop = sorted((kind.cost, index) for index, kind in enumerate(kinds) if kind.count is None)
    used: list[Used] = []
    ends = monotonic() + limit
    while any(counts) and monotonic() < ends:
        if not on_hand and not shop:
            return None
        index = on_hand.pop(0) if on_hand else shop[-1][1]
        left = [number for number, count in enumerate(counts) if count]
        some = tuple(replace(blanks[n], count=counts[n], value=float(blanks[n].area)) for n in left)
        got = fullest(some, kinds[index].length, kinds[index].width, 0.25 * limit)
        if got.value == 0.0 and not on_hand:
            return None
        if got.value > 0.0:
            block = _renamed(got.block, left)
            used.append(Used(kind=index, block=block))
            for number in block.held:
                counts[number] -= 1
    return None if any(counts) else tuple(used)


def _few_places(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...]) -> bool:
    """Whether the tables of one sheet stay small: their size goes with the places of cuts along both sides."""
    along, across = (
        max(len(sums([(way[axis], b.count) for b in blanks for way in b.ways], side)) for side in sides)
        for axis, sides in ((0, [kind.length for kind in kinds]), (1, [kind.width for kind in kinds]))
    )
    return along * across <= PLACES


def _renamed(block: Block, names: list[int]) -> Block:
    """The same with blanks by other numbers."""
    return replace(
        block,
        blank=None if block.blank is None else names[block.blank],
        two=None if block.two is None else (_renamed(block.two[0], names), _renamed(block.two[1], names)),
    )


def area_bound(blanks: tuple[Blank, ...], kinds: tuple[Kind, ...]) -> float:
    """Least cost by area alone."""
    wanted = sum(blank.area * blank.count for blank in blanks)
    missing = wanted - sum(kind.area * kind.count for kind in kinds if kind.count is not None)
    rates = [kind.cost / kind.area for kind in kinds if kind.count is None]
    return rounded_up(min(rates) * missing, kinds) if rates and missing > 0 else 0.0


def rounded_up(least: float, kinds: tuple[Kind, ...]) -> float:
    """The least sum of whole sheets' costs that isn't below `least`."""
    if least <= DUST:
        return 0.0
    costs = sorted({kind.cost for kind in kinds if kind.count is None})
    wanted = least * (1.0 - 1e-7)
    sums, best = {0.0}, ceil(wanted / costs[-1]) * costs[-1]
    for cost_ in costs:
        grown = {one + times * cost_ for one in sums for times in range(int(best / cost_) + 2)}
        sums = {one for one in grown if one < best}
        best = min(best, min((one for one in grown if one >= wanted), default=best))
        if len(sums) > 20_000:  # too many mixes to tell apart: the bound stays as it is
            return least
    return best


def fewest_of(
    blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], best: Solution, floor: float, programme: Callable[[], float]
) -> int:
    """The least number of sheets, those on hand counted like the rest; `programme` bounds it if all cost 1."""
    if len(kinds) == 1 and kinds[0].count is None:
        return round(floor / kinds[0].cost)
    largest = max(kind.area for kind in kinds)
    by_area = ceil(sum(blank.area * blank.count for blank in blanks) / largest - 1e-9)
    return by_area if by_area == len(best) else max(by_area, ceil(programme() * (1.0 - 1e-7)))
