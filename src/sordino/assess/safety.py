"""Where to stop and ask before building on: refrigerant, flues, fire, and air from where none may be taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist

from sordino.assess.airflow import AirState
from sordino.assess.finding import Finding, Standing
from sordino.assess.wording import flow_words
from sordino.elements.damper import Damper
from sordino.elements.element import Element
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.grille import Grille
from sordino.elements.open_end import OpenEnd
from sordino.physics.climate.co2 import time_to
from sordino.physics.climate.people import OUTDOORS, co2_rate, person
from sordino.physics.structure.refrigerant import (
    RELEASE,
    Refrigerant,
    charge_by_floor,
    charge_by_volume,
    charge_without_limit,
    refrigerant,
)
from sordino.plan.room import Room
from sordino.plan.statement import Plan
from sordino.tables import table
from sordino.units import show

ASK = "stop and ask"
STUFFY = 1000.0
"""Carbon dioxide from which a stopped fan is counted at worst, ppm (judgement)."""
SPREAD_OF_PEOPLE = 0.3
"""Half-width of what people breathe out (judgement over Persily and de Jonge's table)."""
NOTHING_TO_SPEAK_OF = 1e-3
"""Net exhaust that no flue notices, m3/s (judgement)."""
HEAD_UNDER = 0.9144
"""An intake this far below an exhaust is clear of it, m: 3 ft (model codes, recalled)."""


def hazard_limit(hazard: str) -> float:
    """The limit at which to ask, in the table's unit."""
    return float(table("structure/hazard").row("hazard", hazard)["limit"])


def safety_findings(plan: Plan, states: dict[str, AirState]) -> Iterator[Finding]:
    """Every place to stop and ask; `states` by mode."""
    yield from _charges(plan)
    yield from _stopped_fans(plan)
    for mode, state in states.items():
        yield from _flues(plan, mode, state)
    yield from _taken_from(plan, states)
    yield from _dampers(plan)
    yield from _rated_walls(plan)
    yield from _intakes(plan, states)


def stop(
    subject: str, sentence: str, method: str, widest: str, standing: Standing = "stop", mode: str = ""
) -> Finding:
    """A stop without a figure."""
    return Finding(
        subject=subject,
        question="safety",
        mode=mode,
        standing=standing,
        sentence=sentence,
        method=method,
        widest=widest,
    )


# refrigerant ----------------------------------------------------------------------------------------------------------


def _charges(plan: Plan) -> Iterator[Finding]:
    for key, mover in plan.mover.items():
        if mover.kind != "ducted unit":
            continue
        name = plan.place_name(key)
        if mover.charge is None or mover.refrigerant is None:
            missing = "charge" if mover.charge is None else "name of its refrigerant"
            words = (
                f"{name}: {ASK} for the {missing}. All of it can leak into the smallest room on its ducts; the "
                "maker's sheet has it, or says that water cools the unit (then write charge = '0 kg')."
            )
            if not (mover.charge == 0.0):
                yield stop(key, words, "ASHRAE 15: charge against the smallest connected room", "the charge")
            continue
        yield from _charge(plan, key, mover.charge, refrigerant(mover.refrigerant))


def _charge(plan: Plan, key: str, charge: float, filled: Refrigerant) -> Iterator[Finding]:
    rooms = reached_rooms(plan, key)
    if not rooms or charge <= 0.0:
        return
    room = min(rooms, key=lambda each: charge_limit(plan.room[each], charge, filled))
    limit = charge_limit(plan.room[room], charge, filled)
    over = charge > limit
    name, place, units = plan.place_name(key), plan.place_name(room), plan.units
    needs = show(charge / filled.limit, "volume", units)
    fault = (
        f"more than the {_kilograms(plan, limit)} that the {place.lower()} ({show(plan.room[room].volume, 'volume', units)}) "
        f"may take: {ASK}. It would need a room of {needs}, a smaller charge, or what local codes allow with sensors."
        if over
        else f"within the {_kilograms(plan, limit)} of the smallest room on its ducts, the {place.lower()}. Codes and "
        "the unit's papers decide."
    )
    yield Finding(
        subject=key,
        question="safety",
        mode="",
        standing="stop" if over else "met",
        value=charge,
        low=charge,
        high=charge,
        limit=limit,
        unit="kg",
        sentence=f"{name} holds {_kilograms(plan, charge)} of {filled.name} ({filled.safety}), {fault}",
        method="concentration limit of ASHRAE 34 times the room; floor area rule of IEC 60335-2-40 where it burns",
        widest=f"volume of {place}",
    )


def charge_limit(room: Room, charge: float, filled: Refrigerant) -> float:
    """The most that may be in a system joined to a room, kg."""
    by_volume = charge_by_volume(filled.limit, room.volume)
    if not filled.burns or charge <= charge_without_limit(filled.lower_flammability):
        return by_volume
    return min(by_volume, charge_by_floor(filled.lower_flammability, room.floor_area, RELEASE["floor"]))


def _kilograms(plan: Plan, value: float) -> str:
    return f"{value:.2f} kg" if plan.units == "metric" else show(value, "mass", plan.units)


def reached_rooms(plan: Plan, mover: str) -> tuple[str, ...]:
    """Rooms joined to a mover's ports by ducts and junctions, and the one it stands in."""
    nodes, found = {f"{mover}.{port}" for port in plan.mover[mover].ports}, set[str]()
    while nodes - found:
        found |= nodes
        beside = {end for run in plan.run.values() for end in (run.start, run.end) if {run.start, run.end} & found}
        nodes = {node for node in beside if node in plan.junction or node in plan.room}
        found |= nodes - set(plan.junction)
    return tuple(room for room in plan.room if room in found or room == plan.mover[mover].within)


# people when the fan stops --------------------------------------------------------------------------------------------


def _stopped_fans(plan: Plan) -> Iterator[Finding]:
    limit = hazard_limit("carbon dioxide")
    for key, room in plan.room.items():
        rate = breathed_out(room)
        if rate <= 0.0:
            continue
        value = time_to(limit, rate, 0.0, room.volume)
        low = time_to(limit, rate * (1.0 + SPREAD_OF_PEOPLE), 0.0, room.volume, start=STUFFY)
        high = time_to(limit, rate / (1.0 + SPREAD_OF_PEOPLE), 0.0, room.volume, start=OUTDOORS)
        short, one, other = (_time(each) for each in (value, low, high))
        yield Finding(
            subject=key,
            question="safety",
            mode="",
            standing="note",
            value=value,
            low=low,
            high=high,
            limit=plan.session.length,
            unit="s",
            sentence=(
                f"{plan.place_name(key)}, if every fan stops with people inside and nobody opens the door: "
                f"{limit:.0f} ppm of carbon dioxide after {short} ({one} to {other})."
                + (f" That is within a session: {ASK} for an alarm and a fan that shows it runs." * _soon(plan, value))
            ),
            method="sealed room, all that people breathe out stays",
            widest="what people breathe out",
        )


def _soon(plan: Plan, value: float) -> bool:
    return value < plan.session.length


def _time(seconds: float) -> str:
    return f"{seconds / 60.0:.0f} min" if seconds < 7200.0 else f"{seconds / 3600.0:.0f} h"


def breathed_out(room: Room) -> float:
    """Carbon dioxide of everybody in a room, m3/s."""
    return sum(people.count * co2_rate(person(people.activity).met) for people in room.people)


# flues ----------------------------------------------------------------------------------------------------------------


def net_exhaust(plan: Plan, state: AirState) -> float:
    """What the ducts take outdoors less what they bring in, m3/s."""
    outdoors = {key for key, space in plan.space.items() if space.kind == "outside"}
    return sum(
        state.flows[name] * ((run.end in outdoors) - (run.start in outdoors)) for name, run in plan.run.items()
    )


def net_from(plan: Plan, state: AirState, place: str) -> float:
    """What the ducts take out of a place less what they bring there, m3/s."""
    return sum(state.flows[name] * ((run.start == place) - (run.end == place)) for name, run in plan.run.items())


def _flues(plan: Plan, mode: str, state: AirState) -> Iterator[Finding]:
    for key, appliance in plan.appliance.items():
        if appliance.kind == "room-sealed":
            continue
        name = appliance.name or key
        out = max(net_exhaust(plan, state), net_from(plan, state, appliance.within))
        draws = out > NOTHING_TO_SPEAK_OF
        pressure = state.pressures.get(appliance.within, 0.0)
        starved = pressure < -hazard_limit("flue spillage")
        half = state.flow_spread * abs(out)
        words = f"{name} ({appliance.kind}) in {plan.place_name(appliance.within)}: "
        if draws or starved:
            words += (
                f"{ASK}. The ducts take {flow_words(plan, out)} more out than they bring in"
                + (f", at {show(pressure, 'any pressure', plan.units)} there" * starved)
                + "; it can come back down the flue with its fumes. Balance the air, have the flue tested with every "
                "fan running, and fit a carbon monoxide alarm."
            )
        else:
            words += "the ducts take no more out than they bring in; a carbon monoxide alarm belongs there all the same."
        yield Finding(
            subject=key,
            question="safety",
            mode=mode,
            standing="stop" if draws or starved else "met",
            value=out,
            low=out - half,
            high=out + half,
            limit=NOTHING_TO_SPEAK_OF,
            unit="m3/s",
            sentence=words,
            method="mass balance of the ducts; 2 Pa beside a flue (building performance practice)",
            widest="pressure losses and fan curve",
        )


# where air is taken ---------------------------------------------------------------------------------------------------


def _taken_from(plan: Plan, states: dict[str, AirState]) -> Iterator[Finding]:
    for key, space in plan.space.items():
        if space.use is None:
            continue
        for name, run in plan.run.items():
            flow = max(
                (state.flows[name] * ((run.start == key) - (run.end == key)) for state in states.values()), default=0.0
            )
            outside = plan.space.get(run.end if run.start == key else run.start)
            if flow > NOTHING_TO_SPEAK_OF and not (outside is not None and outside.kind == "outside"):
                words = (
                    f"{name} takes {flow_words(plan, flow)} from {plan.place_name(key)}, a {space.use}: {ASK}. No air "
                    "for rooms may come from there; take it from the room itself or from outdoors."
                )
                yield stop(name, words, "model codes: no return air from garages and plant rooms", "where it begins")


# dampers, walls, intakes ----------------------------------------------------------------------------------------------


def _dampers(plan: Plan) -> Iterator[Finding]:
    for name, run in plan.run.items():
        for place, end, beside in ((run.end, run.parts[-1:], run.parts[-2:-1]), (run.start, run.parts[:1], run.parts[1:2])):
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
        for (one, before), (other, after) in zip(stops[:-1], stops[1:], strict=True):
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
    wanted = show(limit, "length", plan.units)
    method = "model codes: 10 ft from exhausts and vents, or 3 ft below"
    if intake.at is None or exhaust.at is None:
        words = f"{intake.run} and {exhaust.run}: where they open outdoors is not said: {ASK} whether {wanted} part them."
        return stop(intake.run, words, method, "where they open", standing="note")
    away = dist(intake.at, exhaust.at)
    below = exhaust.at[2] - intake.at[2] >= HEAD_UNDER
    near = away < limit and not below
    apart, more = (show(round(value, 2), "length", plan.units) for value in (away, max(limit - away, 0.0)))
    fault = f": {ASK}. {more} more are wanted (or {show(HEAD_UNDER, 'length', plan.units)} below), or it takes in what it threw out."
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
