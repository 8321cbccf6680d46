"""The air inside in every mode and condition, what it means for people, rooms, boxes and ducts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.assess.airflow import AirState
from sordino.assess.airs import Rooms
from sordino.assess.choices import Choice, choices
from sordino.assess.climate import Climate, climate
from sordino.assess.cooling import (
    RoomHeat,
    RoomHumidity,
    cooling_findings,
    drying_findings,
    humidity_findings,
    room_heats,
)
from sordino.assess.damp import Damp, damps
from sordino.assess.finding import Finding
from sordino.assess.freshair import FreshAir, fresh_air, fresh_air_findings
from sordino.assess.moisture import moisture_findings
from sordino.assess.mould import Mould, moulds
from sordino.assess.session import Session, session, sessions, whole_mode
from sordino.plan.climate import CONDITIONS, MONTHS
from sordino.plan.statement import Plan

COARSE = 16
"""Moments of a session of which only the end counts."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Indoors:
    """Heat, fresh air and moisture of a plan."""

    climates: dict[tuple[str, str], Climate]
    """By mode and condition."""
    rooms: dict[tuple[str, str], Rooms]
    """Likewise, with the end of a session in each condition."""
    sessions: dict[str, Session]
    """By mode, and `schedule`, in the session's weather, second by second."""
    fresh: tuple[FreshAir, ...]
    heat: tuple[RoomHeat, ...]
    humidity: tuple[RoomHumidity, ...]
    choices: tuple[Choice, ...]
    damp: tuple[Damp, ...]
    mould: tuple[Mould, ...]


def indoors(plan: Plan, states: dict[str, AirState]) -> Indoors:
    """Work out a plan with the air state of each mode."""
    known = {
        (mode, condition): climate(plan, state, condition)
        for mode, state in states.items()
        for condition in (*CONDITIONS, *MONTHS)
    }
    told = sessions(plan, {mode: known[mode, plan.session.condition] for mode in states})
    ends = {
        key: Rooms(climate=found, session=_ending(plan, found), state=states[key[0]]) for key, found in known.items()
    }
    chosen = {mode: known[mode, plan.session.condition] for mode in states}
    fresh = tuple(each for mode in states for each in fresh_air(plan, states[mode], chosen[mode], told[mode]))
    return Indoors(
        climates=known,
        rooms=ends,
        sessions=told,
        fresh=fresh,
        heat=tuple(each for mode in states for each in room_heats(plan, chosen[mode], told[mode])),
        humidity=tuple(_humidity(plan, mode, ends, room) for mode in states for room in plan.room),
        choices=choices(plan, states, fresh),
        damp=damps(plan, ends),
        mould=moulds(plan, ends),
    )


def _ending(plan: Plan, found: Climate) -> Session:
    return session(
        plan, found.mode, {found.mode: found}, whole_mode(plan, found.mode), step=plan.session.length / COARSE
    )


def _humidity(plan: Plan, mode: str, ends: dict[tuple[str, str], Rooms], room: str) -> RoomHumidity:
    told = {condition: ends[mode, condition].session for condition in CONDITIONS}
    return RoomHumidity(
        room=room, mode=mode, by_condition={name: each.humidity(room, each.length) for name, each in told.items()}
    )


def indoor_findings(plan: Plan, found: Indoors) -> Iterator[Finding]:
    """All that follows from it."""
    yield from fresh_air_findings(plan, found.fresh)
    yield from cooling_findings(plan, found.heat)
    yield from humidity_findings(plan, found.humidity)
    yield from drying_findings(plan, found.climates)
    yield from moisture_findings(plan, found.damp, found.mould)
