"""Whether a box or machine goes where it is to stand, passes what is on the way, and bridges no leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from sordino.assess.finding import Finding, standing
from sordino.assess.weight import Weight, built, scatter
from sordino.elements.box_pieces import outer_profile, outer_sides
from sordino.physics.structure.clearance import (
    goes_in,
    longest_round_corner,
    outline,
    passes_rectangle,
    with_clearance,
)
from sordino.plan.opening import Opening
from sordino.plan.stand import Clear, Stand
from sordino.plan.statement import Plan
from sordino.units import show

SIDES = ("length", "width", "height")
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


@dataclass(frozen=True, kw_only=True, slots=True)
class Passage:
    """One thing, or the worst of its pieces, through one opening; sides in m, longest first."""

    key: str
    opening: str
    what: str
    passes: bool
    sides: tuple[float, float, float]
    may: tuple[float, float, float]
    failing: int
    """How many pieces do not pass."""

    @property
    def tightest(self) -> int:
        """Index of the side to look at."""
        spare = [(may - side) / side for may, side in zip(self.may, self.sides, strict=True)]
        if self.passes:
            return spare.index(min(spare))
        helping = [index for index in range(3) if self.may[index] > 0.0] or [0, 1, 2]
        return max(helping, key=lambda index: spare[index])


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


def fits(plan: Plan) -> tuple[Fit, ...]:
    """Everything that has a clear space to stand in."""
    return tuple(
        fit_of(key, shape, stand, stand.clear)
        for key, stand in plan.stand.items()
        if stand.clear is not None and (shape := shape_of(plan, key)) is not None
    )


def fit_of(key: str, shape: Shape, stand: Stand, clear: Clear) -> Fit:
    """One shape in one clear space."""

    def inside(side: str, value: float) -> bool:
        changed = replace(shape, **{side: value})
        return goes_into(changed, stand, clear)

    has = {side: getattr(shape, side) for side in SIDES}
    may = {side: _most(lambda value, side=side: inside(side, value), REACH * has[side]) for side in SIDES}  # type: ignore[misc]
    return Fit(key=key, fits=goes_into(shape, stand, clear), has=has, may=may)


def _most(holds: Callable[[float], bool], top: float) -> float:
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
    below, above, aside = (stand.wrap + stand.room(side) for side in ("below", "above", "aside"))
    return goes_in(with_clearance(ring, below, above, aside), clear.corners)


def _turned(shape: Shape, stand: Stand) -> tuple[tuple[tuple[float, float], ...], float]:
    """The section that lies in the clear space's cross-section, and how far it reaches along it."""
    length, width, height = shape.length, shape.width, shape.height
    profile = outline(length, height, _kept(shape, shape.left), _kept(shape, shape.right))
    upright = tuple((height - z, x) for x, z in profile)
    plain = (0.0, 0.0)
    turned = {
        ("along", False): (outline(width, height, plain, plain), length),
        ("along", True): (outline(height, width, plain, plain), length),
        ("across", False): (profile, width),
        ("across", True): (outline(length, width, plain, plain), height),
        ("up", False): (outline(width, length, plain, plain), height),
        ("up", True): (upright, width),
    }
    return turned[stand.lengthwise, stand.on_side]


def _kept(shape: Shape, cut: tuple[float, float]) -> tuple[float, float]:
    """A cut that the profile still has room for."""
    return min(cut[0], 0.499 * shape.length), min(cut[1], 0.999 * shape.height)


def passages(plan: Plan, found: dict[str, Weight]) -> tuple[Passage, ...]:
    """Everything through every opening on its way."""
    return tuple(
        _passage(plan, key, name, found.get(key))
        for key, stand in plan.stand.items()
        for name in stand.way
        if key in found or stand.outside is not None
    )


def _passage(plan: Plan, key: str, name: str, weight: Weight | None) -> Passage:
    stand, opening = plan.stand[key], plan.opening[name]
    boards = [piece for piece in weight.pieces if piece.kind in ("board", "divider")] if weight is not None else []
    if stand.brought == "whole" or not boards:
        shape = shape_of(plan, key)
        assert shape is not None, "only what has a size is asked"
        things = [("the whole", _sorted(shape))]
    else:
        things = [(piece.name, piece.sides) for piece in boards]
    failing = [thing for thing in things if not goes_through(thing[1], opening)]
    what, sides = max(failing or things, key=lambda thing: thing[1][1] * thing[1][0])
    return replace(passage_of(key, name, what, sides, opening), failing=len(failing))


def _sorted(shape: Shape) -> tuple[float, float, float]:
    long, middle, short = sorted((shape.length, shape.width, shape.height), reverse=True)
    return long, middle, short


def passage_of(key: str, name: str, what: str, sides: tuple[float, float, float], opening: Opening) -> Passage:
    """One thing through one opening."""

    def through(index: int, value: float) -> bool:
        changed = [value if each == index else side for each, side in enumerate(sides)]
        return goes_through((changed[0], changed[1], changed[2]), opening)

    may = [_most(lambda value, index=index: through(index, value), REACH * sides[0]) for index in range(3)]  # type: ignore[misc]
    return Passage(
        key=key,
        opening=name,
        what=what,
        passes=goes_through(sides, opening),
        sides=sides,
        may=(may[0], may[1], may[2]),
        failing=0,
    )


def goes_through(sides: tuple[float, float, float], opening: Opening) -> bool:
    """Whether a thing of those sides passes, any of them first, turned in the opening or round the corner behind it."""
    for index in range(3):
        first, (one, other) = sides[index], (sides[each] for each in range(3) if each != index)
        if opening.turn is None or first <= opening.turn:
            if passes_rectangle(one, other, opening.width, opening.height):
                return True
        elif any(_turns(first, thick, upright, opening) for thick, upright in ((one, other), (other, one))):
            return True
    return False


def _turns(first: float, thick: float, upright: float, opening: Opening) -> bool:
    """Round the corner with `thick` in the plane of the turn: level behind doors and stairs, upright over a hatch."""
    assert opening.turn is not None
    planes = [(opening.width, opening.height)]
    if opening.kind in ("hatch", "window"):
        planes.append((opening.height, opening.width))
    return any(
        upright <= over and thick <= clear and longest_round_corner(clear, opening.turn, thick) >= first
        for clear, over in planes
    )


def fit_findings(plan: Plan, found: tuple[Fit, ...], ways: tuple[Passage, ...]) -> Iterator[Finding]:
    """Each clear space and each opening."""
    slack = scatter("tolerance")
    for fit in found:
        side = fit.tightest
        has, may = fit.has[side], fit.may[side]
        yield _finding(fit.key, has, may, slack, _fit_words(plan, fit, side), "polygons with clearances, exact")
    for way in ways:
        has, may = way.sides[way.tightest], way.may[way.tightest]
        method = "section in the opening (Carver 1957), board round a corner"
        yield _finding(way.key, has, may, slack, _way_words(plan, way), method)


def _finding(key: str, has: float, may: float, slack: float, words: str, method: str) -> Finding:
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
        return f"{fit.key} fits its place: {side} {has} outside, {may} would still do ({over} to spare with clearances)."
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


def _way_words(plan: Plan, way: Passage) -> str:
    opening = plan.opening[way.opening]
    name = opening.name or f"{opening.kind} {way.opening}"
    sides = " x ".join(show(round(side, 3), "length", plan.units) for side in way.sides)
    if way.passes:
        whole = "the whole" if way.what == "the whole" else "every piece"
        return f"{way.key}: {whole} passes the {name}; the tightest, {way.what}, is {sides}."
    at = way.tightest
    over = show(round(way.sides[at] - way.may[at], 3), "length", plan.units)
    which = ("longest side", "middle side", "thickness")[at]
    many = f" and {way.failing - 1} more" if way.failing > 1 else ""
    return f"{way.key}: {way.what}{many} does not pass the {name}: {sides}, its {which} is {over} too much."
