"""Fresh air for each room in each mode: what comes in, what is needed, what it does to the carbon dioxide."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.airflow import OPEN_AIR, AirState
from sordino.assess.climate import Climate, carried_flows, leaked_in
from sordino.assess.finding import Finding, Standing, standing
from sordino.assess.gains import room_gains
from sordino.assess.session import Session
from sordino.assess.wording import VERDICT, flow_words
from sordino.bands import Array
from sordino.physics.climate.co2 import flow_for, time_to
from sordino.physics.climate.mixing import mixed
from sordino.physics.climate.people import OUTDOORS, outdoor_air
from sordino.plan.statement import Plan
from sordino.tables import table
from sordino.units import show

MARKER = 1000.0
"""Carbon dioxide at which air is commonly called stuffy, ppm; no standard sets it as a limit."""
HARM = 5000.0
"""Mean of eight hours that workplaces may have, ppm (OSHA)."""
NONE = 0.1
"""Share of the need below which a room counts as having no fresh air."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FreshAir:
    """One room in one mode; flows m3/s, carbon dioxide ppm, times s."""

    room: str
    mode: str
    people: int
    flow: float
    """Air that comes from outdoors or from a space around without having been in another room."""
    leaked: float
    """Of that what the room draws in through its leaks."""
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


def fresh_air(plan: Plan, state: AirState, found: Climate, told: Session) -> tuple[FreshAir, ...]:
    """All rooms in one mode."""
    coming = air_from(plan, state)
    return tuple(_of_room(plan, state, found, told, room, coming[room]) for room in plan.room)


def _of_room(
    plan: Plan, state: AirState, found: Climate, told: Session, room: str, coming: dict[str, float]
) -> FreshAir:
    statement, at = plan.room[room], told.rooms.index(room)
    gains, count = room_gains(statement, told.pressure), sum(each.count for each in statement.people)
    limit, end = statement.comfort.co2 or MARKER, float(told.co2[-1, at])
    wide = math.hypot(scatter("carbon dioxide per person"), state.flow_spread)
    settled = found.co2.settled(_sources(plan, found))
    return FreshAir(
        room=room,
        mode=state.mode,
        people=count,
        flow=sum(coming.values()),
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
    """Each room against the published rate in the mode that brings most; the other modes by how long they last."""
    for room in plan.room:
        modes = [each for each in found if each.room == room]
        best = max(modes, key=lambda each: each.flow)
        for each in modes:
            yield _rate(plan, each, each is best, all(other.none for other in modes))
            if each.people:
                yield _stuffy(plan, each)


def _rate(plan: Plan, each: FreshAir, best: bool, never: bool) -> Finding:
    low, high = each.flow * (1 - each.spread), each.flow * (1 + each.spread)
    return Finding(
        subject=each.room,
        question="fresh air",
        mode=each.mode,
        standing=_rate_standing(each, best, never),
        value=each.flow,
        low=low,
        high=high,
        limit=each.need,
        unit="m3/s",
        sentence=_rate_words(plan, each, best, never),
        method="mass balance of the network; 5 L/s a person and 0.3 L/s for each m2 (stages and studios)",
        widest="people, and air flow",
    )


def _rate_standing(each: FreshAir, best: bool, never: bool) -> Standing:
    if not each.people:
        return "note"
    if never:
        return "stop" if best else "note"
    if each.none:
        return "missed"
    if not best:
        return "note"
    low, high = each.flow * (1 - each.spread), each.flow * (1 + each.spread)
    return standing(-each.flow, -high, -low, -each.need)


def _rate_words(plan: Plan, each: FreshAir, best: bool, never: bool) -> str:
    name, need = plan.place_name(each.room), flow_words(plan, each.need)
    if not each.people:
        without = "no fresh air comes in, and" if each.none else f"{flow_words(plan, each.flow)} of fresh air for"
        return f"{name}: {without} nobody is said to be in it."
    if never:
        return (
            f"{name}: no fresh air{_recirculates(plan)}. {_count(each.people)} {need} from outdoors: add a way in and "
            f"a way out. With the door shut {_how_long(plan, each)}."
        )
    if each.none:
        return f"{name}: no fresh air in {each.mode} ({need} is needed): {_how_long(plan, each)}."
    verdict = _rate_standing(each, True, False)
    fits = f": {VERDICT.get(verdict, verdict)}" if best else f"; {_how_long(plan, each)}"
    return f"{name}: {flow_words(plan, each.flow)} of fresh air{_where(plan, each)} of the {need} it needs{fits}."


def _count(people: int) -> str:
    return "One person here needs" if people == 1 else f"{people} people here need"


def _recirculates(plan: Plan) -> str:
    names = [plan.place_name(key) for key, mover in plan.mover.items() if mover.kind == "ducted unit"]
    return f"; the {names[0].lower()} only moves the room's own air round" if names else ""


def _where(plan: Plan, each: FreshAir) -> str:
    if each.leaked > 0.5 * each.flow:
        return ", most of it through leaks,"
    inner = [name for name, flow in each.sources if plan.space[name].kind != "outside" and flow > 0.5 * each.flow]
    return f" (only as fresh as the {plan.place_name(inner[0]).lower()}, where it comes from)" if inner else ""


def _how_long(plan: Plan, each: FreshAir) -> str:
    if each.reached is None:
        return f"carbon dioxide stays under {each.limit:.0f} ppm for all {_minutes(plan.session.length)}"
    return f"{each.limit:.0f} ppm of carbon dioxide after {_minutes(each.reached)}, {each.end:.0f} ppm at the end"


def _minutes(seconds: float) -> str:
    return show(max(60.0 * round(seconds / 60.0), 60.0), "time", "metric").replace("60 s", "1 min")


def _stuffy(plan: Plan, each: FreshAir) -> Finding:
    stated = plan.room[each.room].comfort.co2 is not None
    verdict: Standing = standing(each.end, each.end_low, each.end_high, each.limit) if stated else "note"
    span = f"{each.end:.0f} ppm ({each.end_low:.0f} to {each.end_high:.0f})"
    last = f"after {_minutes(plan.session.length)}"
    reach = "" if each.reached is None else f", past {each.limit:.0f} ppm after {_minutes(each.reached)}"
    judged = f": {VERDICT[verdict]}" if stated else ""
    return Finding(
        subject=each.room,
        question="carbon dioxide",
        mode=each.mode,
        standing=verdict,
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


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule:
    """A rule of thumb as a flow of fresh air in m3/s; NaN where it says nothing of fresh air."""

    words: str
    fresh: float
    supply: float
    """All air that it asks for, m3/s."""
    misses: str


def rules_of_thumb(people: int, volume: float) -> tuple[Rule, ...]:
    """Every rule on record for a room of a volume in m3."""
    rules = table("climate/rules")
    rows = [dict(zip(rules.columns, row, strict=True)) for row in rules.rows]
    return tuple(_rule(row, people, volume) for row in rows)


def _rule(row: dict[str, str], people: int, volume: float) -> Rule:
    by_people = 1e-3 * float(row["per_person"]) * people if row["per_person"] else 0.0
    whole = by_people or float(row["changes"] or 0.0) * volume / 3600.0
    share = float(row["fresh"])
    return Rule(words=row["rule"], fresh=share * whole, supply=whole, misses=row["misses"])
