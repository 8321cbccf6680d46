"""Where to stop and ask about ends of ducts: dampers at grilles, soft duct in rated walls, intakes beside exhausts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import dist

from sordino.assess.airflow import AirState
from sordino.assess.finding import Finding
from sordino.assess.safety import ASK, hazard_limit, stop
from sordino.elements.damper import Damper
from sordino.elements.element import Element
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.grille import Grille
from sordino.elements.open_end import OpenEnd
from sordino.plan.statement import Plan
from sordino.units import show

HEAD_UNDER = 0.9144
"""An intake this far below an exhaust is clear of it, m: 3 ft (model codes, recalled)."""


def end_findings(plan: Plan, states: dict[str, AirState]) -> Iterator[Finding]:
    """Every end to ask about; `states` by mode."""
    yield from _dampers(plan)
    yield from _rated_walls(plan)
    yield from _intakes(plan, states)


def _dampers(plan: Plan) -> Iterator[Finding]:
    for name, run in plan.run.items():
        for place, end, beside in (
            (run.end, run.parts[-1:], run.parts[-2:-1]),
            (run.start, run.parts[:1], run.parts[1:2]),
        ):
            grille = end[0] if end and isinstance(end[0], Grille) else None
            if place in plan.room and grille is not None and (grille.damper or _is_damper(beside)):
                words = (
                    f"{name}: a damper at the grille in {plan.place_name(place)}: {ASK} to have it moved upstream of "
                    "the box or to the branch. There it hisses into the room, whatever the box does."
                )
                yield stop(name, words, "handbooks: no damper behind a grille of a quiet room", "where it sits")


def _is_damper(parts: tuple[Element, ...]) -> bool:
    return bool(parts) and isinstance(parts[0], Damper)


@dataclass(frozen=True, kw_only=True, slots=True)
class Crossing:
    """Where a run passes from one place to another: the parts on both sides."""

    run: str
    places: frozenset[str]
    parts: tuple[Element, ...]


def crossings(plan: Plan) -> Iterator[Crossing]:
    """Every change of place along every run; the part on each side of it, terminals left aside."""
    for name, run in plan.run.items():
        ducts = [part for part in run.parts if not part.terminal]
        where = [part.within or run.within or "" for part in ducts]
        stops = [(run.start, ()), *((place, (part,)) for place, part in zip(where, ducts, strict=True)), (run.end, ())]
        for (one, before), (other, after) in pairwise(stops):
            if one != other:
                yield Crossing(run=name, places=frozenset((one, other)), parts=(*before, *after))


def _rated_walls(plan: Plan) -> Iterator[Finding]:
    rated = {frozenset(shell.between): key for key, shell in plan.shell.items() if shell.fire_rated}
    for each in crossings(plan):
        soft = [part for part in each.parts if isinstance(part, FlexibleDuct) or holds_flexible(part)]
        if each.places in rated and soft:
            words = (
                f"{each.run}: {soft[0].label()} passes the fire-rated shell {rated[each.places]}: {ASK}. Flexible duct "
                "burns through; a rated wall wants metal duct with a listed damper or seal."
            )
            yield stop(each.run, words, "model codes: listed penetrations of rated walls", "which wall is rated")


def holds_flexible(part: Element) -> bool:
    """Whether it is a box with flexible duct inside."""
    build = getattr(part, "build", None)
    return build is not None and bool(build.holds_duct)


@dataclass(frozen=True, kw_only=True, slots=True)
class Mouth:
    """An outdoor end of a run: where, and which way its air goes."""

    run: str
    at: tuple[float, float, float] | None
    inward: bool


def _intakes(plan: Plan, states: dict[str, AirState]) -> Iterator[Finding]:
    mouths = tuple(_mouths(plan, states))
    limit = hazard_limit("intake from exhaust")
    for one in (mouth for mouth in mouths if mouth.inward):
        for other in (mouth for mouth in mouths if not mouth.inward):
            yield _apart(plan, one, other, limit)


def _mouths(plan: Plan, states: dict[str, AirState]) -> Iterator[Mouth]:
    outdoors = {key for key, space in plan.space.items() if space.kind == "outside"}
    for name, run in plan.run.items():
        flow = max((state.flows[name] for state in states.values()), key=abs, default=0.0)
        for place, part, inward in ((run.start, run.parts[:1], flow > 0.0), (run.end, run.parts[-1:], flow < 0.0)):
            if place in outdoors and part and isinstance(part[0], Grille | OpenEnd):
                yield Mouth(run=name, at=part[0].at, inward=inward)


def _apart(plan: Plan, intake: Mouth, exhaust: Mouth, limit: float) -> Finding:
    wanted = show(round(limit, 2), "length", plan.units)
    method = "model codes: 10 ft from exhausts and vents, or 3 ft below"
    if intake.at is None or exhaust.at is None:
        words = (
            f"{intake.run} and {exhaust.run}: where they open outdoors is not said: {ASK} whether {wanted} part them."
        )
        return stop(intake.run, words, method, "where they open", standing="note")
    away = dist(intake.at, exhaust.at)
    below = exhaust.at[2] - intake.at[2] >= HEAD_UNDER
    near = away < limit and not below
    apart, more = (show(round(value, 2), "length", plan.units) for value in (away, max(limit - away, 0.0)))
    below_it = show(round(HEAD_UNDER, 2), "length", plan.units)
    fault = f": {ASK}. {more} more are wanted (or {below_it} below), or it takes in what it threw out."
    return Finding(
        subject=intake.run,
        question="safety",
        mode="",
        standing="stop" if near else "met",
        value=away,
        low=away,
        high=away,
        limit=limit,
        unit="m",
        sentence=f"{intake.run} takes air in {apart} from where {exhaust.run} lets it out{fault if near else '.'}",
        method=method,
        widest="where they open",
    )
