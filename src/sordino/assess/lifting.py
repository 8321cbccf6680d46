"""What must be lifted, by how many people, when a hoist, and where to part a box."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, degrees

from sordino.assess.finding import Finding, standing
from sordino.assess.weight import PLANNING, Weight, mass, scatter
from sordino.elements.box_pieces import Piece
from sordino.physics.structure.lifting import recommended_limit, team_limit
from sordino.plan.stand import Lift
from sordino.plan.statement import Plan
from sordino.units import show

MOST = 4
"""People who can get their hands on one box (judgement)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Lifted:
    """The heaviest thing of a box that is lifted in one go: kg, and what those who lift may."""

    key: str
    what: str
    mass: float
    alone: float
    """What one person may lift there, at the worse end of the lift, kg."""
    may_lift: float
    persons: int
    """How many it takes; 0 if no four can."""
    modules: int
    """Into how many parts the whole would have to come for those who lift."""
    centre: float
    """Where along the box it balances, m from the left."""


def lifted(plan: Plan, found: dict[str, Weight]) -> tuple[Lifted, ...]:
    """Everything of which a stand says how it is lifted."""
    return tuple(
        _lifted(key, stand.lift, found[key], stand.brought == "whole", stand.lengths)
        for key, stand in plan.stand.items()
        if stand.lift is not None and key in found
    )


def _lifted(key: str, lift: Lift, weight: Weight, whole: bool, lengths: int) -> Lifted:
    piece = weight.heaviest
    at_once = (weight.whole if whole or piece is None else piece.mass) / lengths
    alone = min(limit_at(lift, height) for height in (lift.start, lift.end))
    may = team_limit(alone, lift.persons)
    enough = (count for count in range(1, MOST + 1) if team_limit(alone, count) >= at_once)
    return Lifted(
        key=key,
        what=_what(piece, whole, lengths),
        mass=at_once,
        alone=alone,
        may_lift=may,
        persons=next(enough, 0),
        modules=ceil(weight.whole / may) if may > 0.0 else 0,
        centre=weight.centre[0],
    )


def _what(piece: Piece | None, whole: bool, lengths: int) -> str:
    if whole or piece is None:
        return "the whole" if lengths == 1 else f"one of {lengths} lengths"
    return piece.name if lengths == 1 else f"a part of {piece.name}"


def limit_at(lift: Lift, height: float) -> float:
    """What one person may lift with the hands at `height` m, kg."""
    travel = abs(lift.end - lift.start)
    return recommended_limit(lift.reach, height, travel, abs(degrees(lift.twist)), lift.grip)


def lifting_findings(plan: Plan, found: tuple[Lifted, ...]) -> Iterator[Finding]:
    """Each lift against what the people who do it may."""
    share = scatter("mass")
    for each in found:
        lift = plan.stand[each.key].lift
        assert lift is not None, "only what is lifted is asked"
        low, high = each.mass * (1.0 - share), each.mass * (1.0 + share)
        hoisted = lift.hoist
        yield Finding(
            subject=each.key,
            question="lifting",
            mode="",
            standing="note" if hoisted else standing(each.mass, low, high, each.may_lift),
            value=each.mass,
            low=low,
            high=high,
            limit=None if hoisted else each.may_lift,
            unit="kg",
            sentence=f"{_words(plan, each, lift)} {PLANNING}",
            method="revised lifting equation (NIOSH 94-110); teams two thirds or half of the sum (L23)",
            widest="reach and height of the hands",
        )


def _words(plan: Plan, each: Lifted, lift: Lift) -> str:
    height = show(lift.end, "length", plan.units)
    begin = f"{each.key}: {each.what}, {mass(plan, each.mass)}, to {height}"
    if lift.hoist:
        return f"{begin} by a hoist or panel lift, rated for it and for the frame that holds it."
    people = "one person" if lift.persons == 1 else f"{lift.persons} people"
    if each.may_lift <= 0.0:
        return f"{begin}: that is above where the lifting equation ends; use a hoist or panel lift."
    words = f"{begin}: {people} may lift {mass(plan, each.may_lift)} there."
    if each.mass <= each.may_lift:
        return words
    if each.persons:
        return f"{words} It takes {each.persons} people."
    return f"{words} It takes a hoist or panel lift{_parted(plan, each)}."


def _parted(plan: Plan, each: Lifted) -> str:
    if each.what != "the whole" or each.modules < 2:
        return ""
    balance = show(round(each.centre, 2), "length", plan.units)
    return f", or {each.modules} parts joined in place; it balances {balance} from its left end"
