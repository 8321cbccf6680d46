"""The parts of a plan's acoustics that do not change with the mode: fields, routes and what each route carries."""

from __future__ import annotations

from dataclasses import dataclass, field

from sordino.assess.carriage import Carriage, carriage
from sordino.assess.places import Field, fields
from sordino.assess.routes import End, Route, joined, routes
from sordino.assess.stations import Stations
from sordino.physics.air.properties import Air
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class Acoustics:
    """Fields of all places and routes of one plan; what a route carries is worked out when it is first asked for."""

    plan: Plan
    air: Air
    stations: Stations
    fields: dict[str, Field]
    routes: tuple[Route, ...]
    known: dict[Route, Carriage] = field(default_factory=dict)

    @property
    def carriages(self) -> tuple[Carriage, ...]:
        """What every route carries."""
        return tuple(self.carried(route) for route in self.routes)

    def carried(self, route: Route) -> Carriage:
        """What one route carries."""
        if route not in self.known:
            self.known[route] = carriage(self.stations, route)
        return self.known[route]

    def to(self, place: str) -> tuple[Route, ...]:
        """Routes that end at a room or space."""
        return tuple(route for route in self.routes if route.end.place == place and route.end.kind != "mover")

    def into_mover(self, end: End) -> tuple[Route, ...]:
        """Routes that end at one port of a mover."""
        return tuple(route for route in self.routes if route.end == end)

    def past(self, place: str) -> tuple[Route, ...]:
        """Routes with a part that lies within a room or space."""
        lying = {name for name, run in self.plan.run.items() if any(part.within == place for part in run.parts)}
        return tuple(route for route in self.routes if any(leg.run in lying for leg in route.legs))


def acoustics(plan: Plan, air: Air, before: Acoustics | None = None) -> Acoustics:
    """All that the modes share; of what was worked out `before`, what a change of the plan does not reach is kept."""
    if before is not None and before.air != air:
        before = None
    return Acoustics(
        plan=plan,
        air=air,
        stations=Stations(plan, air, before.stations if before is not None else None),
        fields=fields(plan, air.sound_speed) if before is None or _other_places(before.plan, plan) else before.fields,
        routes=tuple(route for route in routes(plan) if _matters(route)),
        known=_unreached(before, plan) if before is not None else {},
    )


def _other_places(before: Plan, plan: Plan) -> bool:
    return (before.room, before.space) != (plan.room, plan.space)


def _unreached(before: Acoustics, plan: Plan) -> dict[Route, Carriage]:
    """What routes carry that a change leaves alone.

    Ducts that meet at junctions load one another, so a changed run or junction changes every route in its tree of
    ducts, as it was and as it is, and none in another tree.
    """
    old = before.plan
    runs = {name for name in old.run.keys() | plan.run.keys() if old.run.get(name) is not plan.run.get(name)}
    nodes = {
        name for name in old.junction.keys() | plan.junction.keys() if old.junction.get(name) != plan.junction.get(name)
    }
    reached = set(runs)
    for each in (old, plan):
        touched = {name for name, run in each.run.items() if name in reached or nodes & {run.start, run.end}}
        reached |= joined(each, touched)
    return {route: made for route, made in before.known.items() if not reached & {leg.run for leg in route.legs}}


def _matters(route: Route) -> bool:
    """Leave out routes that nobody listens at: from mover to mover, and from a room's duct back into itself."""
    if route.start.kind == route.end.kind == "mover":
        return False
    return not (route.start.kind != "mover" and route.start.place == route.end.place)
