"""What may help at a place to stop and ask: whether the fault is then gone, and what that costs in noise."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import dist, floor

import numpy as np

from sordino.assess.airflow import air_state
from sordino.assess.assessment import Assessment
from sordino.assess.drawn_air import INSIDE, NO_RETURN, drawn_findings
from sordino.assess.ends import AT_GRILLE, HEAD_UNDER, RATED, TOO_NEAR, end_findings, mouths
from sordino.assess.finding import Finding
from sordino.assess.lining import SHEET, lining_findings
from sordino.assess.loudness import Loudness, loudness
from sordino.assess.noise import ventilation
from sordino.assess.safety import CHARGE, charge_limit, hazard_limit, kilograms, reached_rooms, safety_findings
from sordino.assess.wording import rating_words
from sordino.physics.structure.refrigerant import refrigerant
from sordino.plan.statement import Plan
from sordino.search import stands
from sordino.search.again import acoustics_again
from sordino.search.edits import with_metal_for_flexible
from sordino.search.trial import Change, Measure, length
from sordino.units import show

HEARD = (AT_GRILLE, RATED)
"""Faults whose cures change what rooms hear."""
CLEAR = 1e-6
"""What a moved opening is moved beyond its limit, so that rounding does not take it back, m."""


def left(found: Assessment, finding: Finding) -> Measure:
    """How many stops of the same kind about the same thing are left; none may be."""

    def measure(plan: Plan) -> tuple[float, float]:
        states = {mode: found.state(mode) for mode in plan.mode}
        along = tuple(each for speeds in found.speeds.values() for each in speeds)
        every = (
            *safety_findings(plan),
            *drawn_findings(plan, states),
            *end_findings(plan, states),
            *lining_findings(plan, along),
        )
        same = [each for each in every if (each.subject, each.method) == (finding.subject, finding.method)]
        return float(sum(each.standing == "stop" for each in same)), 0.0

    return measure


def cures(found: Assessment, finding: Finding) -> list[Change]:
    """Changes against one stop; none where nothing of the plan says what to change."""
    way = _cures().get(finding.method)
    return [] if way is None else list(way(found, finding.subject))


def asked_of(finding: Finding) -> bool:
    """Whether anything is tried against a stop."""
    return finding.method in _cures()


def _cures() -> dict[str, Callable[[Assessment, str], Iterator[Change]]]:
    return {
        CHARGE: lambda found, key: _smaller_charge(found.plan, key),
        TOO_NEAR: _farther,
        SHEET: lambda found, key: _lining(found.plan, key),
        NO_RETURN: lambda found, key: _from_elsewhere(found.plan, key),
        AT_GRILLE: lambda found, key: _damper(found.plan, key),
        RATED: lambda found, key: _metal(found.plan, key),
        INSIDE: lambda found, key: _room_sealed(found.plan, key),
    }


def _smaller_charge(plan: Plan, key: str) -> Iterator[Change]:
    mover = plan.mover[key]
    assert mover.refrigerant is not None, "only what is filled is asked"
    filled = refrigerant(mover.refrigerant)
    most = min(charge_limit(plan.room[room], filled) for room in reached_rooms(plan, key))
    # rounded down to what is told, ten grams or a tenth of a pound
    step = 0.01 if plan.units == "metric" else 0.0453592
    charge = floor(most / step) * step
    if charge > 0.0:
        yield f"a unit with no more than {kilograms(plan, charge)} of {filled.name}", stands.with_charge(key, charge)
    yield "a unit that water cools, with no refrigerant in it", stands.with_charge(key, 0.0)


def _farther(found: Assessment, run: str) -> Iterator[Change]:
    """The intake moved straight away from the nearest exhaust, or under it."""
    plan = found.plan
    every = list(mouths(plan, {mode: found.state(mode) for mode in plan.mode}))
    mine = next(each for each in every if each.run == run and each.inward)
    others = [each for each in every if not each.inward and each.at is not None]
    assert mine.at is not None, "only what has a place is asked"
    near = min(others, key=lambda each: dist(mine.at or (), each.at or ()))
    assert near.at is not None, "only what has a place is asked"
    end = 0 if plan.space.get(plan.run[run].start) is not None else -1
    way = np.array(mine.at) - np.array(near.at)
    way = way / np.linalg.norm(way) if np.linalg.norm(way) > CLEAR else np.array([1.0, 0.0, 0.0])
    apart = hazard_limit("intake from exhaust") + CLEAR
    x, y, z = (float(value) for value in np.array(near.at) + apart * way)
    told = show(round(apart, 2), "length", plan.units)
    yield f"{run} opened {told} from where {near.run} ends", stands.with_mouth_at(run, (x, y, z), end)
    under = near.at[2] - HEAD_UNDER - CLEAR
    if under > 0.0:
        words = f"{run} opened {length(plan, HEAD_UNDER)} under where {near.run} ends"
        yield words, stands.with_mouth_at(run, (mine.at[0], mine.at[1], under), end)


def _lining(plan: Plan, key: str) -> Iterator[Change]:
    yield "a lining whose sheet says flame spread 25, smoke 50 or less", stands.with_fill(key, burning="rated")


def _from_elsewhere(plan: Plan, run: str) -> Iterator[Change]:
    """The same run taken from outdoors, or from a room that its machine serves."""
    path = plan.run[run]
    was = next(end for end in (path.start, path.end) if end in plan.space and plan.space[end].use is not None)
    for key, space in plan.space.items():
        if space.kind == "outside":
            yield f"{run} taken from {plan.place_name(key)}", stands.taken_from(run, was, key)
    machine = path.end.partition(".")[0]
    round_and_round = machine in plan.mover and plan.mover[machine].kind == "ducted unit"
    for room in reached_rooms(plan, machine)[:1] if round_and_round else ():
        yield f"{run} taken from {plan.place_name(room)}", stands.taken_from(run, was, room)


def _damper(plan: Plan, run: str) -> Iterator[Change]:
    yield "the damper at the other end of the run", stands.with_damper_away(run)
    yield "no damper at the grille", stands.without_damper_at_grille(run)


def _metal(plan: Plan, run: str) -> Iterator[Change]:
    yield "metal duct instead of flexible duct", with_metal_for_flexible(run)


def _room_sealed(plan: Plan, key: str) -> Iterator[Change]:
    def edit(changed: Plan) -> Plan:
        sealed = changed.appliance[key].model_copy(update={"kind": "room-sealed"})
        return changed.model_copy(update={"appliance": {**changed.appliance, key: sealed}})

    yield "a room-sealed one, its air and fumes by pipes of their own", edit


def noise_told(found: Assessment, plan: Plan, run: str) -> str:
    """Targets of noise that a changed plan misses and the old one did not; if none, what the run's room then hears."""
    heard = {key: each for mode in plan.mode for key, each in _heard_again(found, plan, mode)}
    worse = [key for key, each in heard.items() if _over(each) and not _over(found.noise[key])]
    if worse:
        return f"but then {'; '.join(_missing(plan, key, heard[key]) for key in worse)}"
    ends = (plan.run[run].start, plan.run[run].end)
    mine = [key for key in heard if key[0] in ends]
    if not mine:
        return ""
    worst = max(mine, key=lambda key: found.noise[key].rating.value)
    then, now = rating_words(heard[worst]), rating_words(found.noise[worst])
    return f"{plan.place_name(worst[0])} then has {f'{then} instead of {now}' if then != now else f'{now} as before'}"


def _missing(plan: Plan, key: tuple[str, str], heard: Loudness) -> str:
    named = f" in {key[1]}" if len(plan.mode) > 1 else ""
    return f"{plan.place_name(key[0])} has {rating_words(heard)} against {heard.target}{named}"


def _heard_again(found: Assessment, plan: Plan, mode: str) -> Iterator[tuple[tuple[str, str], Loudness]]:
    """What every receiver of a mode hears in a changed plan."""
    before = found.state(mode)
    state = air_state(plan, mode, before.filters, found.air, before)
    now = ventilation(acoustics_again(found.acoustics, plan), state)
    for key, was in found.noise.items():
        if key[1] == mode and key[0] in now and now[key[0]].contributions:
            yield key, loudness(now[key[0]], was.target)


def _over(heard: Loudness) -> bool:
    return heard.target is not None and round(heard.rating.value) > heard.target.value
