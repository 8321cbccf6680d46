"""Fan alone, heat recovery, recovery of heat and moisture, or a dehumidifier: humidity in the hours that try a room.

The flows are those of the plan. What outdoor air brings of water is lessened by what each choice hands on; humidity is
told at the temperature that is held.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sordino.assess.airflow import AirState
from sordino.assess.climate import Climate, climate
from sordino.assess.cooling import DAMP
from sordino.assess.freshair import FreshAir
from sordino.assess.gains import room_gains
from sordino.assess.surroundings import around, start
from sordino.bands import Array
from sordino.physics.climate import moist
from sordino.physics.climate.mixing import Mixed, course
from sordino.plan.statement import Plan

HOURS = ("humid_night", "winter")
HANDED_ON = {"fan alone": 0.0, "heat recovery": 0.0, "heat and moisture recovery": 0.5}
"""Share of the moisture that each choice hands on (makers' sheets of paper plates and wheels: 40 to 70 %; memory)."""
HEAT_HANDED_ON = {"fan alone": 0.0, "heat recovery": 0.75, "heat and moisture recovery": 0.75}
"""Likewise of the heat."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """One way to bring fresh air to a room: humidity at the end of a session by hour, and what would hold the limit."""

    room: str
    mode: str
    name: str
    by_hour: dict[str, float]
    arrives: float
    """Temperature at which fresh air comes in winter, C."""
    water: float
    """What a dehumidifier must take out on the humid night to hold the limit for good without a coil, kg/s."""
    limit: float


def choices(plan: Plan, states: dict[str, AirState], fresh: tuple[FreshAir, ...]) -> tuple[Choice, ...]:
    """All choices for every room with people and fresh air, in the mode that brings most."""
    found: list[Choice] = []
    plain = _without_recovery(plan)
    known: dict[tuple[str, str], Climate] = {}
    for room, statement in plan.room.items():
        best = max((each for each in fresh if each.room == room), key=lambda each: each.flow)
        if not statement.people or best.none:
            continue
        for hour in HOURS:
            if (best.mode, hour) not in known:
                known[best.mode, hour] = climate(plain, states[best.mode], hour)
        found += [_choice(plain, room, best, name, known) for name in HANDED_ON]
    return tuple(found)


def _without_recovery(plan: Plan) -> Plan:
    bare = {
        name: mover.model_copy(update={"moisture_recovery": 0.0}) if mover.moisture_recovery else mover
        for name, mover in plan.mover.items()
    }
    return plan.model_copy(update={"mover": bare})


def _choice(plan: Plan, room: str, best: FreshAir, name: str, known: dict[tuple[str, str], Climate]) -> Choice:
    limit = plan.room[room].comfort.humidity or DAMP
    by_hour, share = {}, HANDED_ON[name]
    for hour in HOURS:
        found = known[best.mode, hour]
        by_hour[hour] = _humidity_at_end(plan, found, _handed_on(plan, found, found.water, best, share), room)
    night = known[best.mode, HOURS[0]]
    undried = _handed_on(plan, night, night.undried, best, share)
    return Choice(
        room=room,
        mode=best.mode,
        name=name,
        by_hour=by_hour,
        arrives=_arriving(plan, known[best.mode, HOURS[1]], best, HEAT_HANDED_ON[name]),
        water=_to_take_out(plan, night, undried, room, limit),
        limit=limit,
    )


def _handed_on(plan: Plan, found: Climate, water: Mixed, best: FreshAir, share: float) -> Mixed:
    """A water network where fresh air takes on a share of what it differs by from the room's own air."""
    at = found.rooms.index(best.room)
    inner = sum(flow for _, flow in best.sources)
    brought = [(found.outside.ratio, max(best.flow - best.leaked - inner, 0.0))]
    brought += [(around(plan, name, found.condition).ratio, flow) for name, flow in best.sources]
    carried, fixed = water.carried.copy(), water.fixed.copy()
    carried[at, at] += share * sum(flow for _, flow in brought)
    fixed[at] -= share * sum(ratio * flow for ratio, flow in brought)
    return replace(water, carried=carried, fixed=fixed)


def _arriving(plan: Plan, found: Climate, best: FreshAir, share: float) -> float:
    held = plan.room[best.room].comfort.temperature
    inner = sum(flow for _, flow in best.sources)
    brought = [(found.outside.temperature, best.flow - inner)]
    brought += [(around(plan, name, found.condition).temperature, flow) for name, flow in best.sources]
    cold = sum(warm * flow for warm, flow in brought) / best.flow
    return cold + share * (held - cold)


def _sources(plan: Plan, found: Climate) -> Array:
    return np.array([room_gains(plan.room[room]).water for room in found.rooms]) / found.dry_mass


def _humidity_at_end(plan: Plan, found: Climate, water: Mixed, room: str) -> float:
    volumes = np.array([plan.room[name].volume for name in found.rooms])
    rates = (water.carried - np.diag(water.inflow)) / volumes[:, None]
    begun = np.array([start(plan, name, found.condition).ratio for name in found.rooms])
    along = course(rates, (water.fixed + _sources(plan, found)) / volumes, begun, plan.session.length, 1)
    held = plan.room[room].comfort.temperature
    return moist.relative_humidity(held, float(along[-1, found.rooms.index(room)]), found.outside.pressure)


def _to_take_out(plan: Plan, found: Climate, water: Mixed, room: str, limit: float) -> float:
    """Inflow and sources less outflow of water, with every room at the limit."""
    held = [plan.room[name].comfort.temperature for name in found.rooms]
    ratios = np.array([moist.humidity_ratio(warm, limit, found.outside.pressure) for warm in held])
    gathering = water.carried @ ratios + water.fixed - water.inflow * ratios + _sources(plan, found)
    return max(float(gathering[found.rooms.index(room)]) * found.dry_mass, 0.0)
