"""What helps against stale air, heat and humidity in a room: the plan changed and the same question asked again."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeVar

from sordino.assess.airflow import AirState, air_state
from sordino.assess.assessment import Assessment
from sordino.assess.climate import climate
from sordino.assess.cooling import RoomHeat, room_heats
from sordino.assess.finding import Finding
from sordino.assess.freshair import FreshAir, fresh_air
from sordino.assess.session import session, whole_mode
from sordino.assess.wording import flow_words
from sordino.physics.climate.people import outdoor_air
from sordino.plan.statement import Plan
from sordino.search import indoor_edits
from sordino.search.drying import against_humidity
from sordino.search.edits import Edit
from sordino.search.indoor_remedy import IndoorRemedy, Tried
from sordino.units import show

SPEEDS = (0.5, 0.6, 0.7, 0.8, 0.9, 1.0)
"""Speeds that are tried, the slowest first."""
ROOMY = 1.1
"""How much more than is needed a new machine is chosen for."""


def against_air(found: Assessment, finding: Finding) -> Iterator[Tried]:
    """Faster movers; then gear elsewhere and cooling against heat, drying against damp, else a fresh-air unit."""
    if finding.question == "humidity":
        yield from against_humidity(found, finding)
        return
    mode = _mode(found, finding)
    if finding.question != "cooling":
        yield from _from_outdoors(found, finding, mode)
    speeds = [found.plan.mode[mode].speeds.get(name, 1.0) for name in found.plan.mover]
    for speed in (each for each in SPEEDS if speeds and each > min(speeds) + 0.01):
        words = "full speed" if speed == 1.0 else f"{100 * speed:.0f} % speed{' or more' * (max(speeds) > speed)}"
        edit = indoor_edits.with_everything_at(mode, speed)
        yield _air_again(found, finding, edit, f"everything at {words} in {mode}")
    if finding.question == "cooling":
        yield from _against_heat(found, finding)
        return
    need = _need(found, finding)
    edit = indoor_edits.with_fresh_air_unit(finding.subject, need)
    more = "one more" if any(each.kind == "heat-recovery unit" for each in found.plan.mover.values()) else "a"
    words = f"{more} heat-recovery unit of {flow_words(found.plan, need)} with ducts in and out"
    yield _air_again(found, finding, edit, words)


def _from_outdoors(found: Assessment, finding: Finding, mode: str) -> Iterator[Tried]:
    """Outdoor air instead of that of a staler space."""
    fresh = next(each for each in found.indoors.fresh if (each.room, each.mode) == (finding.subject, mode))
    if fresh.sources and fresh.worth < 0.99 * fresh.flow:
        place = fresh.sources[0][0]
        words = f"the air taken from outdoors instead of from the {found.plan.place_name(place).lower()}"
        yield _air_again(found, finding, indoor_edits.taken_from_outdoors(finding.subject, place), words)


def _mode(found: Assessment, finding: Finding) -> str:
    """The finding's; where it holds in all, the one that brings most air."""
    modes = [each for each in found.indoors.fresh if each.room == finding.subject]
    return finding.mode or max(modes, key=lambda each: each.flow).mode


def _against_heat(found: Assessment, finding: Finding) -> Iterator[Tried]:
    """The gear elsewhere; then a stronger unit, or one where there is none."""
    plan, room = found.plan, finding.subject
    if plan.room[room].gear > 0.0:
        yield _air_again(found, finding, indoor_edits.without_gear(room), "the gear outside the room")
    heat = next(each for each in found.indoors.heat if (each.room, each.mode) == (room, finding.mode))
    if heat.load <= 0.0:
        return
    if heat.unit:
        loads = [each.load for each in found.indoors.heat if each.mode == finding.mode and each.unit == heat.unit]
        power = ROOMY * sum(max(load, 0.0) for load in loads) / plan.mover[heat.unit].sensible
        if (plan.mover[heat.unit].cooling or power) < power:
            words = f"a {plan.place_name(heat.unit).lower()} of {show(round(power), 'power', plan.units)} in all"
            yield _air_again(found, finding, indoor_edits.with_cooling(heat.unit, power), words)
        return
    flow = ROOMY * heat.supply_needed
    edit = indoor_edits.with_cooler(room, flow)
    words = (
        f"a cooling unit that carries {show(round(ROOMY * heat.load), 'power', plan.units)} of sensible heat with "
        f"{flow_words(plan, flow)} (ask what refrigerant the room may take; it brings no fresh air)"
    )
    yield _air_again(found, finding, edit, words)


def _need(found: Assessment, finding: Finding) -> float:
    """Flow that a new unit is chosen for, a tenth over what is needed."""
    room = found.plan.room[finding.subject]
    rate = outdoor_air(sum(each.count for each in room.people), room.floor_area)
    mode = _mode(found, finding)
    asked = next(each for each in found.indoors.fresh if (each.room, each.mode) == (finding.subject, mode))
    return ROOMY * (max(rate, asked.need_co2) if finding.question == "carbon dioxide" else rate)


def _air_again(found: Assessment, finding: Finding, edit: Edit, words: str) -> Tried:
    changed, mode = edit(found.plan), _mode(found, finding)
    state = air_state(changed, mode, found.state(mode).filters, found.air)
    after = _answer(changed, state, finding)
    assert finding.value is not None
    assert finding.limit is not None
    meets = after >= finding.limit if finding.question == "fresh air" else after <= finding.limit
    return IndoorRemedy(words=words, before=finding.value, after=after, meets=meets), changed


def _answer(changed: Plan, state: AirState, finding: Finding) -> float:
    network = climate(changed, state, changed.session.condition)
    told = session(changed, state.mode, {state.mode: network}, whole_mode(changed, state.mode))
    room = finding.subject
    if finding.question == "cooling":
        return _of(room, room_heats(changed, network, told)).end
    fresh = _of(room, fresh_air(changed, state, network, told))
    return fresh.worth if finding.question == "fresh air" else fresh.end


T = TypeVar("T", RoomHeat, FreshAir)


def _of(room: str, found: tuple[T, ...]) -> T:
    return next(each for each in found if each.room == room)
