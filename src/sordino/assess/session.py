"""A session in time: carbon dioxide, temperature and humidity of every room, second by second.

Flows stand still within a stretch of one mode, so each stretch is linear with constant coefficients and is followed
exactly, by the matrix exponential. Room surfaces store heat; nothing stores water, so humidity errs upwards.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import cycle

import numpy as np

from sordino.assess.airflow import AirState
from sordino.assess.climate import Climate, climate
from sordino.assess.gains import room_gains
from sordino.assess.shells import shell_losses
from sordino.assess.surroundings import start
from sordino.bands import Array
from sordino.physics.climate import moist
from sordino.physics.climate.mixing import course
from sordino.plan.statement import Plan

SURFACE_TRANSFER, SURFACE_HEAT = 5.0, 20e3
"""Air to room surfaces, W/m2K; heat that they store, as two boards of plaster do, J/m2K (judgement)."""
STEP = 1.0
"""Seconds between the moments that are kept."""
SCHEDULE = "schedule"


@dataclass(frozen=True, kw_only=True, slots=True)
class Session:
    """What every room goes through: arrays of shape (moments, rooms), the first at its beginning."""

    name: str
    """The mode, or `schedule`."""
    condition: str
    rooms: tuple[str, ...]
    co2: Array
    temperature: Array
    ratio: Array
    surface: Array
    pressure: float
    modes: tuple[tuple[float, str], ...]
    """When each stretch begins, s, and its mode."""
    step: float
    """Seconds between moments."""

    @property
    def length(self) -> float:
        """Seconds."""
        return self.step * (self.co2.shape[0] - 1)

    def at(self, seconds: float) -> int:
        """Index of a moment."""
        return min(round(seconds / self.step), self.co2.shape[0] - 1)

    def humidity(self, room: str, seconds: float) -> float:
        """Relative humidity of a room at a moment; above 1 is fog."""
        at, place = self.at(seconds), self.rooms.index(room)
        return moist.relative_humidity(float(self.temperature[at, place]), float(self.ratio[at, place]), self.pressure)

    def reaches(self, room: str, limit: float) -> float | None:
        """When a room's carbon dioxide passes a limit in ppm, s; None if it does not."""
        over = np.flatnonzero(self.co2[:, self.rooms.index(room)] >= limit)
        return self.step * float(over[0]) if over.size else None

    def warms_to(self, room: str, limit: float) -> float | None:
        """When a room passes a temperature, s; None if it does not."""
        over = np.flatnonzero(self.temperature[:, self.rooms.index(room)] >= limit)
        return self.step * float(over[0]) if over.size else None


def session(
    plan: Plan,
    name: str,
    climates: dict[str, Climate],
    stretches: tuple[tuple[str, float], ...],
    step: float = STEP,
) -> Session:
    """Follow the rooms through stretches of (mode, seconds), each with the climate of its mode.

    `step` is the time between the moments kept, s; the course is exact whatever it is.
    """
    first = climates[stretches[0][0]]
    now = _start(plan, first)
    parts, begins, clock = [now[None, :]], [], 0.0
    for mode, lasts in stretches:
        rates, constants = _system(plan, climates[mode])
        along = course(rates, constants, now, step, round(lasts / step))
        parts.append(along[1:])
        begins.append((clock, mode))
        now, clock = along[-1], clock + lasts
    return _unpacked(first, name, np.concatenate(parts), tuple(begins), step)


def _unpacked(first: Climate, name: str, states: Array, begins: tuple[tuple[float, str], ...], step: float) -> Session:
    count = len(first.rooms)
    gas, warm, inner, ratio = (states[:, index * count : (index + 1) * count] for index in range(4))
    return Session(
        name=name,
        condition=first.condition,
        rooms=first.rooms,
        co2=gas,
        temperature=warm,
        ratio=ratio,
        surface=inner,
        pressure=first.outside.pressure,
        modes=begins,
        step=step,
    )


def _start(plan: Plan, first: Climate) -> Array:
    begun = [start(plan, room, first.condition) for room in first.rooms]
    warm = [each.temperature for each in begun]
    return np.array([*(each.co2 for each in begun), *warm, *warm, *(each.ratio for each in begun)])


def _system(plan: Plan, found: Climate) -> tuple[Array, Array]:
    """A and b of dx/dt = A x + b for gas, air, surfaces and water of all rooms, in this order."""
    rooms = [plan.room[room] for room in found.rooms]
    count, volumes = len(rooms), np.array([room.volume for room in rooms])
    gains = [room_gains(room, found.outside.pressure) for room in rooms]
    rates, constants = np.zeros((4 * count, 4 * count)), np.zeros(4 * count)
    gas, air, inner, water = (slice(index * count, (index + 1) * count) for index in range(4))
    for part, network in ((gas, found.co2), (air, found.heat), (water, found.water)):
        rates[part, part] = (network.carried - np.diag(network.inflow)) / volumes[:, None]
        constants[part] = network.fixed / volumes
    constants[gas] += 1e6 * np.array([each.co2 for each in gains]) / volumes
    constants[water] += np.array([each.water for each in gains]) / found.dry_mass / volumes
    store, touch = found.heat_per_flow * volumes, SURFACE_TRANSFER * np.array([room.surface for room in rooms])
    constants[air] += np.array([each.sensible - each.radiant for each in gains]) / store
    rates[air, air] -= np.diag(touch / store)
    rates[air, inner] = np.diag(touch / store)
    _surfaces(plan, found, (rates, constants), (air, inner), touch, np.array([each.radiant for each in gains]))
    return rates, constants


def _surfaces(
    plan: Plan,
    found: Climate,
    system: tuple[Array, Array],
    parts: tuple[slice, slice],
    touch: Array,
    radiant: Array,
) -> None:
    """Put in the surfaces: they take from the air, store, and lose through the shell."""
    (rates, constants), (air, inner) = system, parts
    store = SURFACE_HEAT * np.array([plan.room[room].surface for room in found.rooms])
    lost, fixed = shell_losses(plan, found.condition, found.rooms)
    rates[inner, air] = np.diag(touch / store)
    rates[inner, inner] = -np.diag(touch / store) - lost / store[:, None]
    constants[inner] = (fixed + radiant) / store


def whole_mode(plan: Plan, mode: str) -> tuple[tuple[str, float], ...]:
    """A session in one mode."""
    return ((mode, plan.session.length),)


def scheduled(plan: Plan) -> tuple[tuple[str, float], ...]:
    """The stretches of the stated schedule, over and over until the session ends."""
    return tuple(_scheduled(plan)) if plan.session.schedule else ()


def _scheduled(plan: Plan) -> Iterator[tuple[str, float]]:
    left = plan.session.length
    for each in cycle(plan.session.schedule):
        if left <= 0.0:
            return
        yield each.mode, min(each.lasts, left)
        left -= each.lasts


def climates(plan: Plan, states: dict[str, AirState], condition: str) -> dict[str, Climate]:
    """The climate of every mode in one condition."""
    return {mode: climate(plan, state, condition) for mode, state in states.items()}


def sessions(plan: Plan, found: dict[str, Climate]) -> dict[str, Session]:
    """A session in each mode, and by the schedule if there is one."""
    told = {mode: session(plan, mode, found, whole_mode(plan, mode)) for mode in found}
    turns = scheduled(plan)
    return told | ({SCHEDULE: session(plan, SCHEDULE, found, turns)} if turns else {})
