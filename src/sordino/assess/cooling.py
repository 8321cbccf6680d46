"""Heat of each room in each mode: what must be taken away, what the machines can, how warm it gets meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.climate import Climate, Unit
from sordino.assess.finding import Finding, Standing, standing
from sordino.assess.freshair import scatter
from sordino.assess.gains import Gains, room_gains
from sordino.assess.session import Session
from sordino.assess.shells import shell_losses
from sordino.assess.wording import VERDICT, degrees, flow_words
from sordino.bands import Array
from sordino.physics.climate.mixing import Recipe, mixed
from sordino.plan.statement import Plan
from sordino.units import show

WARM, DAMP = 27.0, 0.6
"""Temperature in C and humidity that are told of where the plan states none (judgement)."""
COLD = 13.0
"""Supply air of a unit where there is none, C."""
EARLY, LATE = 1200.0, 3600.0
"""Moments that are told of besides the end, s."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomHeat:
    """One room in one mode and the session's weather; heat W, flows m3/s, temperatures C."""

    room: str
    mode: str
    gains: Gains
    shell: float
    """What comes in through the shell at the temperature held; negative if it leaves."""
    air: float
    """What air brings that no unit has cooled."""
    unit: str
    """The ducted unit that serves the room most; empty if none does."""
    unit_flow: float
    carries: float
    """Most sensible heat that cooled air can take from the room."""
    blows: float
    coldest: float
    """Coldest that the unit blows."""
    supply_needed: float
    """Supply flow that would take the heat away at the coldest the unit blows; at 13 degrees where there is none."""
    held: float
    early: float
    late: float
    end: float
    low: float
    high: float
    passes: float | None
    """When the warmest allowed is passed, s."""
    humidity: float
    """Relative humidity at the end."""

    @property
    def load(self) -> float:
        """Sensible heat that must be taken away to hold the temperature, W."""
        return self.gains.sensible + self.shell + self.air


def room_heats(plan: Plan, found: Climate, told: Session) -> tuple[RoomHeat, ...]:
    """All rooms in one mode."""
    rooms = found.rooms
    held = np.array([plan.room[room].comfort.temperature for room in rooms])
    lost, fixed = shell_losses(plan, found.condition, rooms)
    through = fixed - lost @ held
    cooled = {unit.mover: cooled_air(found, unit.mover) for unit in found.units}
    brought = found.heat_per_flow * (found.heat.carried @ held + found.heat.fixed - found.heat.inflow * held)
    units = {unit.mover: unit for unit in found.units}
    for name, flow in cooled.items():
        brought = brought - found.heat_per_flow * flow * (units[name].blows - held)
    return tuple(
        _of_room(plan, found, told, index, (float(through[index]), float(brought[index])), units, cooled)
        for index in range(len(rooms))
    )


def cooled_air(found: Climate, mover: str) -> Array:
    """What each room receives of a unit's supply air without its having been in another room, m3/s."""
    outlet = f"{mover}.supply"
    row = {outlet: Recipe(weights={}, constant=1.0)}
    return mixed(found.rooms, dict.fromkeys(found.places, 0.0), found.flows, found.exchanged | row).fixed


def _of_room(
    plan: Plan,
    found: Climate,
    told: Session,
    at: int,
    entering: tuple[float, float],
    units: dict[str, Unit],
    cooled: dict[str, Array],
) -> RoomHeat:
    room = found.rooms[at]
    statement = plan.room[room]
    held, best = statement.comfort.temperature, max(cooled, key=lambda name: cooled[name][at], default="")
    flow = float(cooled[best][at]) if best else 0.0
    coldest = units[best].coldest if best else COLD
    load = room_gains(statement).sensible + sum(entering)
    early, late, end = (float(told.temperature[told.at(moment), at]) for moment in (EARLY, LATE, told.length))
    wide = scatter("temperature inside") * abs(end - held)
    return RoomHeat(
        room=room,
        mode=found.mode,
        gains=room_gains(statement),
        shell=entering[0],
        air=entering[1],
        unit=best if flow > 1e-4 else "",
        unit_flow=flow,
        carries=found.heat_per_flow * flow * max(held - coldest, 0.0),
        blows=units[best].blows if best else held,
        coldest=coldest,
        supply_needed=max(load, 0.0) / (found.heat_per_flow * max(held - coldest, 1.0)),
        held=held,
        early=early,
        late=late,
        end=end,
        low=end - wide,
        high=end + wide,
        passes=told.warms_to(room, statement.comfort.warmest or WARM),
        humidity=told.humidity(room, told.length),
    )


def cooling_findings(plan: Plan, found: tuple[RoomHeat, ...]) -> Iterator[Finding]:
    """Every room in which heat is given off."""
    for each in found:
        if each.gains.sensible <= 0.0:
            continue
        limit = plan.room[each.room].comfort.warmest
        verdict: Standing = standing(each.end, each.low, each.high, WARM if limit is None else limit)
        yield Finding(
            subject=each.room,
            question="cooling",
            mode=each.mode,
            standing="note" if limit is None else verdict,
            beside=verdict,
            value=each.end,
            low=each.low,
            high=each.high,
            limit=limit if limit is not None else WARM,
            unit="°C",
            sentence=_words(plan, each, limit, verdict),
            method="heat balance of air and room surfaces with the network's flows, second by second",
            widest="heat gains" if abs(each.end - each.held) > 1.0 else "temperature inside",
        )


def _words(plan: Plan, each: RoomHeat, limit: float | None, verdict: Standing) -> str:
    name = plan.place_name(each.room)
    most = limit if limit is not None else WARM
    judged = "" if limit is None else f" against {degrees(plan, limit)}: {VERDICT[verdict]}"
    weather = plan.session.condition.replace("_", " ")
    rise = (
        f"{degrees(plan, each.early)} after 20 min, {degrees(plan, each.late)} after 60 min, "
        f"{degrees(plan, each.end)} at the end ({degrees(plan, each.low)} to {degrees(plan, each.high)})"
    )
    load = f"{_watts(plan, each.load)} must be taken away on a {weather} ({_parts(plan, each)})"
    if each.unit:
        return f"{name}: {load}; {plan.spoken(each.unit)} can carry {_carried(plan, each, most)}{judged}."
    if each.end > most:
        cold = f"{flow_words(plan, each.supply_needed)} of air at {degrees(plan, COLD)}"
        return (
            f"{name}: does moving air alone keep it cool? No: {rise}{judged}. To hold {degrees(plan, each.held)}, "
            f"{load}, as {cold} would."
        )
    return (
        f"{name}: nothing cools it, and air alone lets it go to {rise}{judged}. To hold {degrees(plan, each.held)}, "
        f"{load}."
    )


def _carried(plan: Plan, each: RoomHeat, most: float) -> str:
    enough = f"{_watts(plan, each.carries)} with {flow_words(plan, each.unit_flow)}"
    need = f"{flow_words(plan, each.supply_needed)} of its coldest air is needed"
    if each.end > most or each.carries < each.load:
        return f"only {enough} and {need}: {degrees(plan, each.end)} at the end"
    return f"{enough}, {need}: {degrees(plan, each.end)} at the end"


def _parts(plan: Plan, each: RoomHeat) -> str:
    named = (
        ("people", each.gains.people),
        ("gear", each.gains.gear),
        ("lights", each.gains.lights),
        ("shell", each.shell),
        ("fresh air", each.air),
    )
    return ", ".join(f"{name} {_watts(plan, heat)}" for name, heat in named if abs(heat) >= 1.0)


def _watts(plan: Plan, heat: float) -> str:
    return show(round(heat), "power", plan.units)


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomHumidity:
    """Relative humidity of a room at the end of a session in the hours that try it."""

    room: str
    mode: str
    by_condition: dict[str, float]


def humidity_findings(plan: Plan, found: tuple[RoomHumidity, ...]) -> Iterator[Finding]:
    """Every room with people, in its most humid hour."""
    for each in found:
        if not plan.room[each.room].people:
            continue
        worst = max(each.by_condition, key=lambda name: each.by_condition[name])
        value, stated = each.by_condition[worst], plan.room[each.room].comfort.humidity
        fog = value > 1.0
        limit = stated if stated is not None else 1.0 if fog else DAMP
        beside = standing(value, value - 0.05, value + 0.1, limit)
        verdict: Standing = "note" if stated is None else beside
        if fog and stated is None:
            verdict = "likely missed"  # plaster and cloth may yet take it up
        told = " (as fog: water runs down walls and gear)" if fog else ""
        yield Finding(
            subject=each.room,
            question="humidity",
            mode=each.mode,
            standing=verdict,
            beside=beside,
            value=value,
            low=value - 0.05,
            high=value + 0.1,
            limit=limit,
            unit="of saturation",
            sentence=(
                f"{plan.place_name(each.room)}: relative humidity {100 * min(value, 1.0):.0f} %{told} at the end of a "
                f"session {'in winter' if worst == 'winter' else 'on a ' + worst.replace('_', ' ')}"
                f"{'' if stated is None else f', against {100 * limit:.0f} %: {VERDICT[verdict]}'}. "
                "Nothing in the room is counted on to take water up."
            ),
            method="water balance with the network's flows; coils dry only where colder than the dew point",
            widest="moisture of people, and what surfaces take up",
        )


def drying_findings(plan: Plan, climates: dict[tuple[str, str], Climate]) -> Iterator[Finding]:
    """Units whose coil takes no water out in a humid night, and so gives back what lies on it."""
    for (mode, condition), found in climates.items():
        if condition != "humid_night":
            continue
        for unit in found.units:
            if not unit.dries:
                yield Finding(
                    subject=unit.mover,
                    question="drying",
                    mode=mode,
                    standing="note",
                    value=unit.coil,
                    unit="°C",
                    sentence=(
                        f"{plan.place_name(unit.mover)}: on a humid night its coil stays at "
                        f"{degrees(plan, unit.coil)}, over the dew point of the air: it takes no water out, and a "
                        "fan that runs on blows what lies on the coil back into the rooms. A dehumidifier, or less "
                        "air at a colder coil, dries."
                    ),
                    method="coil temperature from supply and return air with 15 % passing it by",
                    widest="how the unit is controlled",
                )
