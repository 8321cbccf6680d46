"""Room pressure and what it does to the door."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.airflow import AirState
from sordino.physics.air.door import force_limit, opening_force
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomPressure:
    """Pressure of a room over outdoors in Pa and the force at the door handle in N that it adds."""

    room: str
    pressure: float
    force: float
    limit: float


def room_pressures(plan: Plan, state: AirState) -> tuple[RoomPressure, ...]:
    """All rooms in one mode."""
    limit = force_limit()
    return tuple(
        RoomPressure(
            room=key,
            pressure=state.pressures[key],
            force=float(opening_force(abs(state.pressures[key]), room.door.width, room.door.height)),
            limit=limit,
        )
        for key, room in plan.room.items()
    )
