"""The air on both sides of every face of boxes and ducts, by condition, with the air off and on in each mode."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.assess.airflow import AirState
from sordino.assess.climate import Climate
from sordino.assess.session import Session
from sordino.assess.skins import Skin, skins
from sordino.assess.surroundings import Ambient, around, start
from sordino.physics.climate import moist
from sordino.plan.statement import Plan

OFF, ON = "off", "on"


@dataclass(frozen=True, kw_only=True, slots=True)
class Airs:
    """Air on both sides of a face in one state of the machines."""

    mode: str
    inside: Ambient
    outside: Ambient
    moving: bool
    open_air: bool
    """Whether the face sees the sky and the wind."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Rooms:
    """Rooms of a mode in a condition: the network, and how a session in it goes."""

    climate: Climate
    session: Session
    state: AirState


Found = dict[tuple[str, str], Rooms]


def cases(
    plan: Plan, found: Found, conditions: tuple[str, ...], subject: str
) -> Iterator[tuple[Skin, str, tuple[Airs, ...]]]:
    """Every face in every condition, with its states: air off, then each mode in which air moves through its run."""
    known: dict[tuple[str, str, str], tuple[Airs, ...]] = {}
    for skin in skins(plan, subject):
        for condition in conditions:
            key = (skin.run, skin.within, condition)
            if key not in known:
                known[key] = tuple(_states(plan, skin, condition, found))
            yield skin, condition, known[key]


def _states(plan: Plan, skin: Skin, condition: str, found: Found) -> Iterator[Airs]:
    yield _off(plan, skin, condition)
    for mode in plan.mode:
        rooms = found[mode, condition]
        if abs(rooms.state.flows[skin.run]) > 1e-4:
            yield _on(plan, skin, rooms)


def _off(plan: Plan, skin: Skin, condition: str) -> Airs:
    """With the air off a duct fills with the air of the room, else of the place, at its end."""
    run = plan.run[skin.run]
    ends = [end for end in (run.end, run.start) if end in plan.room or end in plan.space]
    room = next((end for end in ends if end in plan.room), None)
    place = next((end for end in ends if end in plan.space), None)
    if room is None and place is not None:
        inside = around(plan, place, condition)
    else:
        inside = start(plan, room or next(iter(plan.room)), condition)
    return _airs(plan, skin, OFF, inside, _room_at_rest(plan, skin.within, condition))


def _room_at_rest(plan: Plan, place: str, condition: str) -> Ambient:
    return start(plan, place, condition) if place in plan.room else around(plan, place, condition)


def _on(plan: Plan, skin: Skin, rooms: Rooms) -> Airs:
    run, flow = plan.run[skin.run], rooms.state.flows[skin.run]
    inside = _air_at(plan, rooms, run.start if flow >= 0.0 else run.end)
    return _airs(plan, skin, rooms.climate.mode, inside, _air_at(plan, rooms, skin.within))


def _air_at(plan: Plan, rooms: Rooms, node: str) -> Ambient:
    """Air of a node at the end of a session."""
    network, told = rooms.climate, rooms.session
    if node in plan.space:
        return around(plan, node, network.condition)
    if node in plan.room:
        place = told.rooms.index(node)
        warm, ratio = float(told.temperature[-1, place]), float(told.ratio[-1, place])
    else:
        warm = network.heat.at(node, told.temperature[-1])
        ratio = network.water.at(node, told.ratio[-1])
    pressure = network.outside.pressure
    dry = min(ratio, moist.saturation_ratio(warm, pressure))
    return Ambient(temperature=warm, ratio=dry, co2=0.0, pressure=pressure)


def _airs(plan: Plan, skin: Skin, mode: str, inside: Ambient, outside: Ambient) -> Airs:
    space = plan.space.get(skin.within)
    open_air = space is not None and space.kind == "outside"
    return Airs(mode=mode, inside=inside, outside=outside, moving=mode != OFF, open_air=open_air)
