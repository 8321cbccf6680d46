"""Whether a box, its pieces or a machine pass the hatches, doors and stairs on the way."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from sordino.assess.finding import Finding
from sordino.assess.fit import REACH, Shape, largest, shape_of, side_finding
from sordino.assess.weight import Weight, scatter
from sordino.physics.structure.clearance import longest_round_corner, passes_rectangle
from sordino.plan.opening import Opening
from sordino.plan.statement import Plan
from sordino.units import show

WHOLE = ("the whole", "each length")
ON_THE_WAY = "section in the opening (Carver 1957), board round a corner"


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
        things = [("the whole" if stand.lengths == 1 else "each length", _cut(shape, stand.lengths))]
    else:
        things = [(piece.name, _shorter(piece.sides, stand.lengths)) for piece in boards]
    failing = [thing for thing in things if not goes_through(thing[1], opening)]
    what, sides = max(failing or things, key=lambda thing: thing[1][1] * thing[1][0])
    return replace(passage_of(key, name, what, sides, opening), failing=len(failing))


def _cut(shape: Shape, lengths: int) -> tuple[float, float, float]:
    """Sides of one length of it, longest first."""
    return _ranked(shape.length / lengths, shape.width, shape.height)


def _shorter(sides: tuple[float, float, float], lengths: int) -> tuple[float, float, float]:
    """A board cut across its longest side."""
    return _ranked(sides[0] / lengths, sides[1], sides[2])


def _ranked(*sides: float) -> tuple[float, float, float]:
    long, middle, short = sorted(sides, reverse=True)
    return long, middle, short


def passage_of(key: str, name: str, what: str, sides: tuple[float, float, float], opening: Opening) -> Passage:
    """One thing through one opening."""

    def through(index: int) -> Callable[[float], bool]:
        return lambda value: goes_through(_with_side(sides, index, value), opening)

    may = [largest(through(index), REACH * sides[0]) for index in range(3)]
    return Passage(
        key=key,
        opening=name,
        what=what,
        passes=goes_through(sides, opening),
        sides=sides,
        may=(may[0], may[1], may[2]),
        failing=0,
    )


def _with_side(sides: tuple[float, float, float], index: int, value: float) -> tuple[float, float, float]:
    first, second, third = (value if each == index else side for each, side in enumerate(sides))
    return first, second, third


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


def passage_findings(plan: Plan, found: tuple[Passage, ...]) -> Iterator[Finding]:
    """Each opening."""
    slack = scatter("tolerance")
    for way in found:
        has, may = way.sides[way.tightest], way.may[way.tightest]
        yield side_finding(way.key, has, may, slack, _way_words(plan, way), ON_THE_WAY)


def _way_words(plan: Plan, way: Passage) -> str:
    opening = plan.opening[way.opening]
    name = opening.name or way.opening
    sides = " x ".join(show(round(side, 3), "length", plan.units) for side in way.sides)
    if way.passes:
        whole = way.what if way.what in WHOLE else "every piece"
        return f"{way.key}: {whole} passes the {name}; the tightest, {way.what}, is {sides}."
    at = way.tightest
    over = show(round(way.sides[at] - way.may[at], 3), "length", plan.units)
    which = ("longest side", "middle side", "shortest side" if way.what in WHOLE else "thickness")[at]
    many = f" and {way.failing - 1} more" if way.failing > 1 else ""
    return f"{way.key}: {way.what}{many} does not pass the {name}: {sides}, its {which} is {over} too much."
