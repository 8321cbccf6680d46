"""Air in one mode and condition as a network that carries gas, water and heat, with what machines make of it.

A unit that cools or heats is taken to modulate: it blows what would hold its rooms in the long run, no colder than it
can. Its coil dries the air only where it is colder than the air's dew point.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sordino.assess.airflow import OPEN_AIR, AirState
from sordino.assess.gains import room_gains
from sordino.assess.shells import shell_losses
from sordino.assess.surroundings import Ambient, around, outdoors, start
from sordino.bands import Array
from sordino.physics.climate import moist
from sordino.physics.climate.mixing import LEAST, Carried, Mixed, Recipe, mixed
from sordino.plan.mover import Mover
from sordino.plan.statement import Plan

BYPASS = 0.15
"""Share of a coil's air that passes it untouched (handbooks give 5 to 30 %; judgement)."""
WARMEST_BLOWN = 45.0
"""Degrees C that a heat pump blows at most (judgement)."""
SEEPING = 0.5
"""Heat that the best-kept room loses to rooms like itself, W/K (judgement)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Unit:
    """What a ducted unit does in one mode and condition; flows m3/s, temperatures C, heat W."""

    mover: str
    flow: float
    blows: float
    """Temperature of its supply air."""
    coldest: float
    returns: float
    coil: float
    """Temperature of the coil's surface."""
    dries: bool
    carries: float
    """Most sensible heat it can take from rooms at the temperature held, W."""
    limited: bool
    """Whether it can't hold the rooms."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Climate:
    """The networks of one mode and condition, with what rooms are given in W, kg/s and m3/s."""

    mode: str
    condition: str
    rooms: tuple[str, ...]
    co2: Mixed
    water: Mixed
    undried: Mixed
    """Water if no coil took any out."""
    heat: Mixed
    units: tuple[Unit, ...]
    outside: Ambient
    heat_per_flow: float
    dry_mass: float
    flows: tuple[Carried, ...]
    places: tuple[str, ...]
    exchanged: dict[str, Recipe]
    """What leaves heat-recovery units, of heat."""


def climate(plan: Plan, state: AirState, condition: str) -> Climate:
    """Everything that the flows of a mode carry in a condition."""
    rooms, flows = tuple(plan.room), carried_flows(plan, state)
    outside = outdoors(plan.site, condition)
    places = {OPEN_AIR: outside} | {name: around(plan, name, condition) for name in plan.space}
    begun = start(plan, rooms[0], condition)
    heat_per_flow = moist.heat_per_flow(begun.temperature, begun.ratio, begun.pressure)
    dry_mass = moist.dry_mass_per_volume(begun.temperature, begun.ratio, begun.pressure)
    heat, blown = _heat(plan, state, condition, flows, places, heat_per_flow)
    water, undried, units = _water(plan, state, condition, flows, places, (heat, blown, heat_per_flow, dry_mass))
    return Climate(
        mode=state.mode,
        condition=condition,
        rooms=rooms,
        co2=mixed(rooms, {name: each.co2 for name, each in places.items()}, flows, default=OPEN_AIR),
        water=water,
        undried=undried,
        heat=heat,
        units=units,
        outside=outside,
        heat_per_flow=heat_per_flow,
        dry_mass=dry_mass,
        flows=flows,
        places=tuple(places),
        exchanged=_recovering(plan, state, lambda mover: mover.recovery),
    )


def carried_flows(plan: Plan, state: AirState) -> tuple[Carried, ...]:
    """Every run, leak and stream along which air goes, in the direction in which it does."""
    found = [_along(run.start, run.end, state.flows[name]) for name, run in plan.run.items()]
    found += [_along(room, OPEN_AIR, state.balanced.get(f"leak {room}", 0.0)) for room in plan.room]
    for name, mover in plan.mover.items():
        for index, (enters, leaves) in enumerate(mover.streams):
            found.append(_along(f"{name}.{enters}", f"{name}.{leaves}", state.balanced[f"mover {name}:{index}"]))
    return tuple(each for each in found if each.flow > LEAST)


def _along(one: str, other: str, flow: float) -> Carried:
    return (
        Carried(source=one, target=other, flow=flow) if flow >= 0.0 else Carried(source=other, target=one, flow=-flow)
    )


def _recovering(plan: Plan, state: AirState, share: Callable[[Mover], float]) -> dict[str, Recipe]:
    """Outlets of heat-recovery units: each stream hands the share on, as far as the lesser flow can take it."""
    recipes: dict[str, Recipe] = {}
    for name, mover in plan.mover.items():
        if mover.kind != "heat-recovery unit":
            continue
        fresh, used = (state.balanced[f"mover {name}:{index}"] for index in (0, 1))
        if min(fresh, used) <= LEAST:
            continue
        for outlet, own, other, flow in (
            ("supply", "outdoor", "extract", fresh),
            ("exhaust", "extract", "outdoor", used),
        ):
            passed = share(mover) * min(fresh, used) / flow
            recipes[f"{name}.{outlet}"] = Recipe(weights={f"{name}.{own}": 1.0 - passed, f"{name}.{other}": passed})
    return recipes


def cooling_movers(plan: Plan, state: AirState) -> tuple[str, ...]:
    """Ducted units that move air in a mode."""
    return tuple(
        name
        for name, mover in plan.mover.items()
        if mover.kind == "ducted unit"
        and state.balanced[f"mover {name}:0"] > LEAST
        and _speed(plan, state.mode, name) > 0.0
    )


def _speed(plan: Plan, mode: str, mover: str) -> float:
    return plan.mode[mode].speeds.get(mover, 1.0)


def _heat(
    plan: Plan,
    state: AirState,
    condition: str,
    flows: tuple[Carried, ...],
    places: dict[str, Ambient],
    per_flow: float,
) -> tuple[Mixed, dict[str, tuple[float, float]]]:
    """The heat network, and for each unit what it blows and the coldest that it could."""
    rooms, coolers = tuple(plan.room), cooling_movers(plan, state)
    warm = {name: each.temperature for name, each in places.items()}
    exchanged = _recovering(plan, state, lambda mover: mover.recovery)

    def network(blown: dict[str, float]) -> Mixed:
        coils = {f"{name}.supply": Recipe(weights={}, constant=value) for name, value in blown.items()}
        return mixed(rooms, warm, flows, exchanged | coils, default=OPEN_AIR)

    if not coolers:
        return network({}), {}
    held = {name: _held(plan, name, rooms) for name in coolers}
    bounds = {name: _coldest(plan, state, name, held[name], per_flow) for name in coolers}
    blown = _holding(plan, condition, coolers, network, held, per_flow)
    kept = {name: min(max(blown[name], bounds[name]), WARMEST_BLOWN) for name in coolers}
    return network(kept), {name: (kept[name], bounds[name]) for name in coolers}


def _held(plan: Plan, mover: str, rooms: tuple[str, ...]) -> float:
    return float(np.mean([plan.room[room].comfort.temperature for room in rooms]))


def _coldest(plan: Plan, state: AirState, name: str, held: float, per_flow: float) -> float:
    """The coldest air a unit blows: its own limit, or what its capacity takes off its return air."""
    mover, flow = plan.mover[name], state.balanced[f"mover {name}:0"]
    if mover.cooling is None:
        return mover.coldest
    return max(mover.coldest, held - mover.cooling * mover.sensible / (per_flow * flow))


def _holding(
    plan: Plan,
    condition: str,
    coolers: tuple[str, ...],
    network: Callable[[dict[str, float]], Mixed],
    held: dict[str, float],
    per_flow: float,
) -> dict[str, float]:
    """Supply temperatures at which each unit's return air settles at what is held: linear in all of them."""
    base = dict(held)
    first = _returns(plan, condition, network(base), coolers, per_flow)
    effect = np.empty((len(coolers), len(coolers)))
    for index, name in enumerate(coolers):
        moved = _returns(plan, condition, network(base | {name: base[name] + 1.0}), coolers, per_flow)
        effect[:, index] = moved - first
    wanted = np.array([held[name] for name in coolers]) - first
    change = np.linalg.lstsq(effect, wanted, rcond=None)[0]
    return {name: base[name] + float(step) for name, step in zip(coolers, change, strict=True)}


def _returns(plan: Plan, condition: str, heat: Mixed, coolers: tuple[str, ...], per_flow: float) -> Array:
    rooms = settled_temperatures(plan, condition, heat, per_flow)
    return np.array([heat.at(f"{name}.return", rooms) for name in coolers])


def settled_temperatures(plan: Plan, condition: str, heat: Mixed, per_flow: float) -> Array:
    """Temperatures that the rooms tend to: air and shells carry away what is given off, C."""
    lost, fixed = shell_losses(plan, condition, heat.rooms)
    gains = np.array([room_gains(plan.room[room]).sensible for room in heat.rooms])
    held = np.array([plan.room[room].comfort.temperature for room in heat.rooms])
    whole = per_flow * (np.diag(heat.inflow) - heat.carried) + lost + SEEPING * np.eye(len(heat.rooms))
    return np.linalg.solve(whole, per_flow * heat.fixed + fixed + gains + SEEPING * held)


def _water(
    plan: Plan,
    state: AirState,
    condition: str,
    flows: tuple[Carried, ...],
    places: dict[str, Ambient],
    heated: tuple[Mixed, dict[str, tuple[float, float]], float, float],
) -> tuple[Mixed, Mixed, tuple[Unit, ...]]:
    """The water network, the same undried, and the units: a coil dries if colder than the dew point of its return."""
    heat, blown, per_flow, dry = heated
    rooms, ratios = tuple(plan.room), {name: each.ratio for name, each in places.items()}
    exchanged = _recovering(plan, state, lambda mover: mover.moisture_recovery)
    pressure = places[OPEN_AIR].pressure
    warm = settled_temperatures(plan, condition, heat, per_flow)
    returns = {name: heat.at(f"{name}.return", warm) for name in blown}
    coils = {name: min((blown[name][0] - BYPASS * back) / (1.0 - BYPASS), back) for name, back in returns.items()}
    plain = mixed(rooms, ratios, flows, exchanged, default=OPEN_AIR)
    sources = np.array([room_gains(plan.room[room]).water for room in rooms]) / dry
    settled = np.nan_to_num(plain.settled(sources), nan=1.0)
    drying = {
        name: Recipe(
            weights={f"{name}.return": BYPASS}, constant=(1.0 - BYPASS) * moist.saturation_ratio(coil, pressure)
        )
        for name, coil in coils.items()
        if moist.saturation_ratio(coil, pressure) < plain.at(f"{name}.return", settled)
    }
    supplies = {f"{name}.supply": recipe for name, recipe in drying.items()}
    units = tuple(
        Unit(
            mover=name,
            flow=state.balanced[f"mover {name}:0"],
            blows=blown[name][0],
            coldest=blown[name][1],
            returns=returns[name],
            coil=coil,
            dries=name in drying,
            carries=per_flow * state.balanced[f"mover {name}:0"] * (_held(plan, name, rooms) - blown[name][1]),
            limited=returns[name] > _held(plan, name, rooms) + 0.1,
        )
        for name, coil in coils.items()
    )
    return mixed(rooms, ratios, flows, exchanged | supplies, default=OPEN_AIR), plain, units


def leaked_in(state: AirState, room: str) -> float:
    """Of a room's air what is drawn in through its leaks, m3/s."""
    return max(-state.balanced.get(f"leak {room}", 0.0), 0.0)
