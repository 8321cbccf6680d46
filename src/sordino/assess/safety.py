"""Where to stop and ask: refrigerant, a fan that stops, and what the ducts take out of a place."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.finding import Finding, Standing
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
CHARGE = "concentration limit of ASHRAE 34 times the room; floor area rule of IEC 60335-2-40 where it burns"
STUFFY = 1000.0
"""Carbon dioxide from which a stopped fan is counted at worst, ppm (judgement)."""
SPREAD_OF_PEOPLE = 0.3
"""Half-width of what people breathe out (judgement over Persily and de Jonge's table)."""


def hazard_limit(hazard: str) -> float:
    """The limit at which to ask, in the table's unit."""
    return float(table("structure/hazard").row("hazard", hazard)["limit"])


def safety_findings(plan: Plan) -> Iterator[Finding]:
    """Every place to stop and ask that the air has no part in."""
    yield from _charges(plan)
    yield from _stopped_fans(plan)


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
    room = min(rooms, key=lambda each: charge_limit(plan.room[each], filled))
    limit = charge_limit(plan.room[room], filled)
    over = charge > limit
    name, place, units = plan.place_name(key), plan.place_name(room), plan.units
    needs, volume = (show(value, "volume", units) for value in (charge / filled.limit, plan.room[room].volume))
    fault = (
        f"more than the {kilograms(plan, limit)} that the {place.lower()} of {volume} may take: {ASK}. It would "
        f"need a room of {needs}{_floor_too(plan, charge, filled)}, a smaller charge, or what local codes allow with "
        "sensors."
        if over
        else f"within the {kilograms(plan, limit)} of the smallest room on its ducts, the {place.lower()}. Codes and "
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
        sentence=f"{name} holds {kilograms(plan, charge)} of {filled.name} ({filled.safety}), {fault}",
        method=CHARGE,
        widest=f"volume of {place}",
    )


def charge_limit(room: Room, filled: Refrigerant) -> float:
    """The most that may be in a system joined to a room, kg: one limit, whatever is in it now.

    The floor rule asks for nothing up to `charge_without_limit`, so it never allows less than that.
    """
    by_volume = charge_by_volume(filled.limit, room.volume)
    if not filled.burns:
        return by_volume
    by_floor = charge_by_floor(filled.lower_flammability, room.floor_area, RELEASE["floor"])
    return min(by_volume, max(by_floor, charge_without_limit(filled.lower_flammability)))


def _floor_too(plan: Plan, charge: float, filled: Refrigerant) -> str:
    """The floor that a charge of what burns would want besides, the inverse of `charge_by_floor`."""
    if not filled.burns or charge <= charge_without_limit(filled.lower_flammability):
        return ""
    area = (charge / charge_by_floor(filled.lower_flammability, 1.0, RELEASE["floor"])) ** 2
    return f" with a floor of {show(area, 'area', plan.units)}"


def kilograms(plan: Plan, value: float) -> str:
    """A charge, to ten grams."""
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
