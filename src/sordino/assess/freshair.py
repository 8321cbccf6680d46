"""Fresh air for each room in each mode: what comes in, what is needed, what it does to the carbon dioxide."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.airflow import OPEN_AIR, AirState
from sordino.assess.climate import Climate, carried_flows, leaked_in
from sordino.assess.finding import MISSED, Finding, Standing, standing
from sordino.assess.gains import room_gains
from sordino.assess.session import Session
from sordino.assess.surroundings import around
from sordino.assess.wording import VERDICT, flow_words
from sordino.bands import Array
from sordino.physics.climate.co2 import flow_for, time_to
from sordino.physics.climate.mixing import mixed
from sordino.physics.climate.people import OUTDOORS, outdoor_air
from sordino.plan.room import Room
from sordino.plan.statement import Plan
from sordino.tables import table
from sordino.units import show

MARKER = 1000.0
"""Carbon dioxide at which air is commonly called stuffy, ppm; no standard sets it as a limit."""
HARM = 5000.0
"""Mean of eight hours that workplaces may have, ppm (OSHA)."""
NONE, TRACE = 0.1, 0.02
"""Shares of the need below which a room counts as having hardly any fresh air, and none."""
STANDING = 0.4645
"""Floor that codes count for each person of a standing crowd, m2: 5 square feet net (International Building Code,
table 1004.5; memory)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FreshAir:
    """One room in one mode; flows m3/s, carbon dioxide ppm, times s."""

    room: str
    mode: str
    people: int
    flow: float
    """Air that comes from outdoors or from a space around without having been in another room."""
    worth: float
    """The same as outdoor air: what comes from a staler space counts for what it can still take up under the limit."""
    leaked: float
    """Of `flow` what the room draws in through its leaks."""
    sources: tuple[tuple[str, float], ...]
    """Spaces that it comes from, largest first; the open air is left out."""
    spread: float
    """Half-width of the flow as a share."""
    need: float
    """By the published rate per person and per floor area."""
    need_co2: float
    """Outdoor air that holds the limit for good."""
    limit: float
    end: float
    """At the end of the session."""
    end_low: float
    end_high: float
    settles: float
    reached: float | None
    """When the limit is passed; None if it is not in this session."""
    harm: float
    """Time until 5000 ppm if all air stops from the beginning."""

    @property
    def none(self) -> bool:
        """Whether hardly any fresh air comes."""
        return self.flow < NONE * self.need

    @property
    def shared(self) -> bool:
        """Whether air from rooms that are stale themselves lifts it over a limit that its own fresh air would hold."""
        return self.settles > self.limit and self.worth >= self.need_co2


def fresh_air(plan: Plan, state: AirState, found: Climate, told: Session) -> tuple[FreshAir, ...]:
    """All rooms in one mode."""
    coming = air_from(plan, state)
    return tuple(_of_room(plan, state, found, told, room, coming[room]) for room in plan.room)


def _of_room(
    plan: Plan, state: AirState, found: Climate, told: Session, room: str, coming: dict[str, float]
) -> FreshAir:
    statement, at = plan.room[room], told.rooms.index(room)
    gains, count = room_gains(statement, told.pressure), _people(statement)
    limit, end = statement.comfort.co2 or MARKER, float(told.co2[-1, at])
    wide = math.hypot(scatter("carbon dioxide per person"), state.flow_spread)
    settled = found.co2.settled(_sources(plan, found))
    return FreshAir(
        room=room,
        mode=state.mode,
        people=count,
        flow=sum(coming.values()),
        worth=sum(flow * _still_fresh(plan, place, found.condition, limit) for place, flow in coming.items()),
        leaked=leaked_in(state, room),
        sources=tuple(sorted(((n, f) for n, f in coming.items() if n != OPEN_AIR), key=lambda each: -each[1])),
        spread=state.flow_spread,
        need=outdoor_air(count, statement.floor_area),
        need_co2=flow_for(limit, gains.co2),
        limit=limit,
        end=end,
        end_low=OUTDOORS + (end - OUTDOORS) * (1.0 - wide),
        end_high=OUTDOORS + (end - OUTDOORS) * (1.0 + wide),
        settles=float(settled[at]) if math.isfinite(settled[at]) else math.inf,
        reached=told.reaches(room, limit),
        harm=time_to(HARM, gains.co2, 0.0, statement.volume),
    )


def _people(room: Room) -> int:
    return sum(each.count for each in room.people)


def _still_fresh(plan: Plan, place: str, condition: str, limit: float) -> float:
    """What air of a place can take up until it reaches a limit, as a share of what outdoor air can."""
    there = OUTDOORS if place == OPEN_AIR else around(plan, place, condition).co2
    return min(max((limit - there) / (limit - OUTDOORS), 0.0), 1.0)


def _sources(plan: Plan, found: Climate) -> Array:
    return np.array([1e6 * room_gains(plan.room[room], found.outside.pressure).co2 for room in found.rooms])


def scatter(key: str) -> float:
    """Half-width of a climate input or method, as a share."""
    return float(table("climate/scatter").row("key", key)["half_width"])


def air_from(plan: Plan, state: AirState) -> dict[str, dict[str, float]]:
    """For each room the air that reaches it from each place around without having been in another room, m3/s."""
    rooms, flows = tuple(plan.room), carried_flows(plan, state)
    places = (OPEN_AIR, *plan.space)
    entering = {place for each in flows for place in (each.source,)} & set(places)
    found: dict[str, dict[str, float]] = {room: {} for room in rooms}
    for place in places:
        if place not in entering:
            continue
        values = dict.fromkeys(places, 0.0) | {place: 1.0}
        for room, flow in zip(rooms, mixed(rooms, values, flows).fixed.tolist(), strict=True):
            if flow > 0.0:
                found[room][place] = flow
    return found


def fresh_air_findings(plan: Plan, found: tuple[FreshAir, ...]) -> Iterator[Finding]:
    """Each room with people against the published rate in every mode; one stop for a room that has none in any."""
    for room, statement in plan.room.items():
        modes = [each for each in found if each.room == room]
        if statement.people and _people(statement) > max(1.0, statement.floor_area / STANDING):
            yield _crowd(plan, room)
        if modes[0].people and all(each.none for each in modes):
            yield _rate(plan, max(modes, key=lambda each: each.flow), never=True)
        else:
            yield from (_rate(plan, each) for each in modes)
        yield from (_stuffy(plan, each) for each in modes if each.people)


def _crowd(plan: Plan, room: str) -> Finding:
    people, floor = _people(plan.room[room]), plan.room[room].floor_area
    area, each = (show(value, "area", plan.units) for value in (floor, STANDING))
    return Finding(
        subject=room,
        question="safety",
        mode="",
        standing="stop",
        sentence=(
            f"{plan.place_name(room)}: {people} people on {area} of floor: stop and ask. Codes allow a standing crowd "
            f"about {each} each, less where people dance or play; the authority that sets how many may be in a room "
            "and how many ways out it needs decides. Is the number right?"
        ),
        method="floor for each person of a standing crowd, International Building Code table 1004.5 (memory)",
        widest="how many people there are",
    )


def _rate(plan: Plan, each: FreshAir, never: bool = False) -> Finding:
    """A stop holds in whatever mode."""
    return Finding(
        subject=each.room,
        question="fresh air",
        mode="" if never else each.mode,
        standing="stop" if never else _rate_standing(each),
        value=each.worth,
        low=each.worth * (1 - each.spread),
        high=each.worth * (1 + each.spread),
        limit=each.need,
        unit="m3/s",
        sentence=_never_words(plan, each) if never else _rate_words(plan, each),
        method="mass balance of the network; 5 L/s a person and 0.3 L/s for each m2 (stages and studios)",
        widest="people, and air flow",
    )


def _rate_standing(each: FreshAir) -> Standing:
    if not each.people:
        return "note"
    low, high = each.worth * (1 - each.spread), each.worth * (1 + each.spread)
    return standing(-each.worth, -high, -low, -each.need)


def _never_words(plan: Plan, each: FreshAir) -> str:
    name, need = plan.place_name(each.room), flow_words(plan, each.need)
    if each.flow < TRACE * each.need:
        what = (
            f"no fresh air{_recirculates(plan)}. {_count(each.people)} {need} from outdoors: add a way in and a way out"
        )
    else:
        what = (
            f"hardly any fresh air: at most {flow_words(plan, each.flow)}. {_count(each.people)} {need} from outdoors: "
            "far larger ways in and out, or fewer people"
        )
    return f"{name}: {what}. With the door shut {_how_long(plan, each)}."


def _rate_words(plan: Plan, each: FreshAir) -> str:
    name, need = plan.place_name(each.room), flow_words(plan, each.need)
    if not each.people:
        without = "no fresh air comes in, and" if each.none else f"{flow_words(plan, each.flow)} of fresh air for"
        return f"{name}: {without} nobody is said to be in it."
    if each.flow < TRACE * each.need:
        return f"{name}: no fresh air in {each.mode} ({need} is needed): {_how_long(plan, each)}."
    verdict = _rate_standing(each)
    long = f"; {_how_long(plan, each)}" if verdict in MISSED else ""
    return (
        f"{name}: {flow_words(plan, each.flow)} of fresh air{_where(plan, each)} of the {need} it needs: "
        f"{VERDICT.get(verdict, verdict)}{long}.{_shared_words(plan, each)}"
    )


def _shared_words(plan: Plan, each: FreshAir) -> str:
    if not each.shared:
        return ""
    return (
        f" Its own share would hold {each.limit:.0f} ppm of carbon dioxide, but it tends to {each.settles:.0f} ppm: "
        "air of other rooms comes in too."
    )


def _count(people: int) -> str:
    return "One person here needs" if people == 1 else f"{people} people here need"


def _recirculates(plan: Plan) -> str:
    names = [plan.place_name(key) for key, mover in plan.mover.items() if mover.kind == "ducted unit"]
    return f"; the {names[0].lower()} only moves the room's own air round" if names else ""


def _where(plan: Plan, each: FreshAir) -> str:
    inner = [name for name, flow in each.sources if plan.space[name].kind != "outside" and flow > 0.5 * each.flow]
    worth = "" if each.worth > 0.99 * each.flow else f", worth {flow_words(plan, each.worth)} from outdoors"
    if each.leaked > 0.5 * each.flow:
        return f", most of it through leaks{worth},"
    if inner:
        return f" (only as fresh as the {plan.place_name(inner[0]).lower()}, where it comes from{worth})"
    return f" ({worth[2:]})" if worth else ""


def _how_long(plan: Plan, each: FreshAir) -> str:
    if each.reached is None:
        return f"carbon dioxide stays under {each.limit:.0f} ppm for all {_minutes(plan.session.length)}"
    return f"{each.limit:.0f} ppm of carbon dioxide after {_minutes(each.reached)}, {each.end:.0f} ppm at the end"


def _minutes(seconds: float) -> str:
    return show(max(60.0 * round(seconds / 60.0), 60.0), "time", "metric").replace("60 s", "1 min")


def _stuffy(plan: Plan, each: FreshAir) -> Finding:
    stated = plan.room[each.room].comfort.co2 is not None
    verdict: Standing = standing(each.end, each.end_low, each.end_high, each.limit)
    span = f"{each.end:.0f} ppm ({each.end_low:.0f} to {each.end_high:.0f})"
    last = f"after {_minutes(plan.session.length)}"
    reach = "" if each.reached is None else f", past {each.limit:.0f} ppm after {_minutes(each.reached)}"
    judged = f": {VERDICT[verdict]}" if stated else ""
    return Finding(
        subject=each.room,
        question="carbon dioxide",
        mode=each.mode,
        standing=verdict if stated else "note",
        beside=verdict,
        value=each.end,
        low=each.end_low,
        high=each.end_high,
        limit=each.limit,
        unit="ppm",
        sentence=(
            f"{plan.place_name(each.room)}: carbon dioxide reaches {span} {last}{reach}{judged}. "
            f"{flow_words(plan, each.need_co2)} of outdoor air would hold {each.limit:.0f} ppm for good."
        ),
        method="well-mixed rooms joined by the network's flows, followed second by second",
        widest="carbon dioxide per person",
    )
