"""The parts of a plan's acoustics that do not change with the mode: fields, routes and what each route carries."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.carriage import Carriage, carriage
from sordino.assess.places import Field, fields
from sordino.assess.routes import End, Route, routes
from sordino.assess.stations import Stations
from sordino.physics.air.properties import Air
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class Acoustics:
    """Fields of all places and carriages of all routes of one plan."""

    plan: Plan
    air: Air
    stations: Stations
    fields: dict[str, Field]
    carriages: tuple[Carriage, ...]

    def to(self, place: str) -> tuple[Carriage, ...]:
        """Carriages that end at a room or space."""
        return tuple(c for c in self.carriages if c.route.end.place == place and c.route.end.kind != "mover")

    def into_mover(self, end: End) -> tuple[Carriage, ...]:
        """Carriages that end at one port of a mover."""
        return tuple(c for c in self.carriages if c.route.end == end)


def acoustics(plan: Plan, air: Air) -> Acoustics:
    """All that the modes share."""
    stations = Stations(plan, air)
    return Acoustics(
        plan=plan,
        air=air,
        stations=stations,
        fields=fields(plan, air.sound_speed),
        carriages=tuple(carriage(stations, route) for route in routes(plan) if _matters(plan, route)),
    )


def _matters(plan: Plan, route: Route) -> bool:
    """Leave out routes that nobody listens at: from mover to mover, and from a room's duct back into itself."""
    if route.start.kind == route.end.kind == "mover":
        return False
    return not (route.start.kind != "mover" and route.start.place == route.end.place)
