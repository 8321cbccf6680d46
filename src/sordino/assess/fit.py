"""Whether a box or machine goes where it is to stand."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from typing import Any

from sordino.assess.finding import Finding, standing
from sordino.assess.weight import built, scatter
from sordino.elements.box_pieces import outer_profile, outer_sides
from sordino.physics.structure.clearance import Around, goes_in, outline
from sordino.plan.stand import Clear, Stand
from sordino.plan.statement import Plan
from sordino.units import show

SIDES = ("length", "width", "height")
IN_PLACE = "outlines with clearances within the clear space, exact"
HALVINGS = 24
REACH = 8.0
"""How many times its size a side is tried up to."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Shape:
    """Outside sides in m, and how the top corners of the profile are cut, along and down."""

    length: float
    width: float
    height: float
    left: tuple[float, float] = (0.0, 0.0)
    right: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """One thing in its clear space: each outside side, and what it may be at most with the others as they are, m."""

    key: str
    fits: bool
    has: dict[str, float]
    may: dict[str, float]
    """0 where changing that side alone can't help."""

    @property
    def tightest(self) -> str:
        """The side to look at: the least spare if it fits, else the least that must go."""
        if self.fits:
            return min(SIDES, key=lambda side: self.may[side] - self.has[side])
        helping = [side for side in SIDES if self.may[side] > 0.0] or list(SIDES)
        return min(helping, key=lambda side: self.has[side] - self.may[side])


def shape_of(plan: Plan, key: str) -> Shape | None:
    """The outside of a box or machine, if it is known."""
    part = built(plan, key) if key in plan.box else None
    if part is None:
        sides = plan.stand[key].outside
        return Shape(length=sides[0], width=sides[1], height=sides[2]) if sides is not None else None
    box = part.build
    ring = outer_profile(box)
    length, height = max(x for x, _ in ring), max(z for _, z in ring)
    left = (min(x for x, z in ring if z > height - 1e-9), height - max(z for x, z in ring if x < 1e-9))
    right = (
        length - max(x for x, z in ring if z > height - 1e-9),
        height - max(z for x, z in ring if x > length - 1e-9),
    )
    return Shape(length=length, width=outer_sides(box)[1], height=height, left=left, right=right)


def wrapped(plan: Plan, key: str, shape: Shape | None) -> Shape | None:
    """A shape with the insulation that its box has round it; a wrap that its stand tells of is not in it."""
    part = built(plan, key) if key in plan.box else None
    thick = part.build.wrap.thickness if part is not None else 0.0
    if shape is None or thick <= 0.0:
        return shape
    more = 2.0 * thick
    return replace(shape, length=shape.length + more, width=shape.width + more, height=shape.height + more)


def fits(plan: Plan, only: Collection[str] | None = None) -> tuple[Fit, ...]:
    """Everything that has a clear space to stand in; `only` those keys if given."""
    return tuple(
        fit_of(key, shape, _beyond(plan, key, stand), stand.clear)
        for key, stand in plan.stand.items()
        if (only is None or key in only)
        and stand.clear is not None
        and (shape := wrapped(plan, key, shape_of(plan, key))) is not None
    )


def stands_in(plan: Plan, key: str) -> bool | None:
    """Whether a box or machine goes where it is to stand; None if no clear space is stated or its size is unknown."""
    stand = plan.stand.get(key)
    shape = wrapped(plan, key, shape_of(plan, key)) if stand is not None else None
    if stand is None or stand.clear is None or shape is None:
        return None
    return goes_into(shape, _beyond(plan, key, stand), stand.clear)


def _beyond(plan: Plan, key: str, stand: Stand) -> Stand:
    """The stand with only what its wrap is thicker than that of the box."""
    part = built(plan, key) if key in plan.box else None
    thick = part.build.wrap.thickness if part is not None else 0.0
    return stand.model_copy(update={"wrap": max(stand.wrap - thick, 0.0)}) if thick > 0.0 else stand


def fit_of(key: str, shape: Shape, stand: Stand, clear: Clear) -> Fit:
    """One shape in one clear space."""

    def inside(side: str) -> Callable[[float], bool]:
        return lambda value: goes_into(_with_side(shape, side, value), stand, clear)

    has: dict[str, float] = {side: getattr(shape, side) for side in SIDES}
    may = {side: largest(inside(side), REACH * has[side]) for side in SIDES}
    fitting = goes_into(shape, stand, clear)
    # halving ends a hair under a side that just fits
    may = {side: max(may[side], has[side]) for side in SIDES} if fitting else may
    return Fit(key=key, fits=fitting, has=has, may=may)


def _with_side(shape: Shape, side: str, value: float) -> Shape:
    changed: dict[str, Any] = {side: value}
    return replace(shape, **changed)


def largest(holds: Callable[[float], bool], top: float) -> float:
    """The largest value that holds, of those up to `top`, by halving; 0 if none does."""
    low, high = 0.0, top
    if not holds(1e-3 * top):
        return 0.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def goes_into(shape: Shape, stand: Stand, clear: Clear) -> bool:
    """Whether it goes in as it is turned, with its wrap and the clearances round it."""
    ring, depth = _turned(shape, stand)
    if depth + 2.0 * (stand.wrap + stand.room("ends")) > clear.length + 1e-9:
        return False
    around = Around(**{side: stand.wrap + stand.room(side) for side in ("below", "above", "aside")})
    return goes_in(ring, clear.corners, around)


def _turned(shape: Shape, stand: Stand) -> tuple[tuple[tuple[float, float], ...], float]:
    """The section that lies in the clear space's cross-section, and how far it reaches along it."""
    length, width, height = shape.length, shape.width, shape.height
    if stand.lengthwise == "along":
        return (_rectangle(height, width) if stand.on_side else _rectangle(width, height)), length
    if stand.lengthwise == "across" and stand.on_side:
        return _rectangle(length, width), height
    if stand.lengthwise == "up" and not stand.on_side:
        return _rectangle(width, length), height
    profile = outline(length, height, _kept(shape, shape.left), _kept(shape, shape.right))
    return (profile if stand.lengthwise == "across" else tuple((height - z, x) for x, z in profile)), width


def _rectangle(across: float, up: float) -> tuple[tuple[float, float], ...]:
    return outline(across, up, (0.0, 0.0), (0.0, 0.0))


def _kept(shape: Shape, cut: tuple[float, float]) -> tuple[float, float]:
    """A cut that the profile still has room for."""
    return min(cut[0], 0.499 * shape.length), min(cut[1], 0.999 * shape.height)


def fit_findings(plan: Plan, found: tuple[Fit, ...]) -> Iterator[Finding]:
    """Each clear space."""
    slack = scatter("tolerance")
    for fit in found:
        side = fit.tightest
        has, may = fit.has[side], fit.may[side]
        yield side_finding(fit.key, has, may, slack, _fit_words(plan, fit, side), IN_PLACE)


def side_finding(key: str, has: float, may: float, slack: float, words: str, method: str) -> Finding:
    """A side against the most that would do, both in m; `slack` is how exactly it is built."""
    low, high = has - slack, has + slack
    return Finding(
        subject=key,
        question="fit",
        mode="",
        standing=standing(has, low, high, may),
        value=has,
        low=low,
        high=high,
        limit=may,
        unit="m",
        sentence=words,
        method=method,
        widest="how exactly it is built",
    )


def _fit_words(plan: Plan, fit: Fit, side: str) -> str:
    has, may = (show(round(value, 3), "length", plan.units) for value in (fit.has[side], fit.may[side]))
    over = show(round(abs(fit.has[side] - fit.may[side]), 3), "length", plan.units)
    if fit.fits:
        return (
            f"{fit.key} fits its place: {side} {has} outside, {may} would still do ({over} to spare with clearances)."
        )
    if fit.may[side] <= 0.0:
        return f"{fit.key} does not fit its place, and no single side alone cures it: {_all_sides(plan, fit)}."
    others = [
        f"{each} by {show(round(fit.has[each] - fit.may[each], 3), 'length', plan.units)}"
        for each in SIDES
        if each != side and 0.0 < fit.may[each] < fit.has[each]
    ]
    instead = f" (or {', or '.join(others)})" if others else ""
    return f"{fit.key} does not fit its place: its {side} of {has} outside is {over} too much{instead}; {may} would do."


def _all_sides(plan: Plan, fit: Fit) -> str:
    return ", ".join(f"{side} {show(round(fit.has[side], 3), 'length', plan.units)}" for side in SIDES)
