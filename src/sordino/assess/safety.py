"""Where to stop and ask: refrigerant, a fan that stops, flues, and air from where none may be taken."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.airflow import AirState
from sordino.assess.finding import Finding, Standing
from sordino.assess.wording import flow_words
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


def stop(subject: str, sentence: str, method: str, widest: str, standing: Standing = "stop", mode: str = "") -> Finding:
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
    needs, volume = (show(value, "volume", units) for value in (charge / filled.limit, plan.room[room].volume))
    fault = (
        f"more than the {_kilograms(plan, limit)} that the {place.lower()} of {volume} may take: {ASK}. It would "
        f"need a room of {needs}, a smaller charge, or what local codes allow with sensors."
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
    return f"{seconds / 60.0:.0f} min" if seconds < 7200.0 else f"{seconds / 3600.0:.1f} h"


def breathed_out(room: Room) -> float:
    """Carbon dioxide of everybody in a room, m3/s."""
    return sum(people.count * co2_rate(person(people.activity).met) for people in room.people)


def net_exhaust(plan: Plan, state: AirState) -> float:
    """What the ducts take outdoors less what they bring in, m3/s."""
    outdoors = {key for key, space in plan.space.items() if space.kind == "outside"}
    return sum(state.flows[name] * ((run.end in outdoors) - (run.start in outdoors)) for name, run in plan.run.items())


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
            words += (
                "the ducts take no more out than they bring in; a carbon monoxide alarm belongs there all the same."
            )
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
