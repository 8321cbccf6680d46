"""Air speed at every station by its own name, the speed that would be quiet, and the size that would give it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.assess.airflow import AirState
from sordino.bands import Array
from sordino.plan.statement import Plan
from sordino.quantities import Size
from sordino.tables import table
from sordino.units import System

FOOT_PER_MINUTE = 0.00508
DBA_OVER_NC = 7.0
"""A level in dBA over its NC, for finding the row of a target given in dBA (common practice: 5 to 7)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Speed:
    """The speed at one place of one part."""

    run: str
    station: str
    place: str
    velocity: float
    limit: float | None
    """Quiet speed there, m/s, where the published table speaks of it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """Sizes that would carry a flow at a speed."""

    flow: float
    limit: float
    exact: float
    """Diameter that gives just that speed, m."""
    standard: float
    """Next diameter that duct is sold in, m; the largest sold if none is enough."""
    at_standard: float
    """Speed in that diameter, m/s."""
    flat: Size
    """A rectangular duct of the same area, twice as wide as high."""


def speeds(plan: Plan, state: AirState) -> tuple[Speed, ...]:
    """Every named speed along every run in one mode."""
    found = []
    for name, run in plan.run.items():
        for part in run.parts:
            for place, velocity in part.velocities(state.flows[name]).items():
                limit = quiet_speed(plan, name, state.mode) if place in ("free area", "open end") else None
                found.append(Speed(run=name, station=part.label(), place=place, velocity=velocity, limit=limit))
    return tuple(found)


def quiet_speed(plan: Plan, name: str, mode: str) -> float | None:
    """Free-area speed in m/s that suits the target of the room a run opens into; None without a target."""
    run = plan.run[name]
    for place, kind in ((run.end, "supply"), (run.start, "return")):
        room = plan.room.get(place)
        target = room.target_in(mode) if room is not None else None
        if target is not None:
            number = target.value - DBA_OVER_NC if target.scale == "dBA" else target.value
            return _speed_for(number, kind)
    return None


def _speed_for(criterion: float, kind: str) -> float:
    known = table("air/quiet_speed")
    classes = known.numbers("criterion")
    row = int(np.clip(np.searchsorted(classes, criterion, side="right") - 1, 0, classes.size - 1))
    return float(known.numbers(kind)[row]) * FOOT_PER_MINUTE


def sold_round(system: System) -> Array:
    """Diameters that round duct is sold in, from small to large, m."""
    return table("air/standard_round").numbers(system) * (0.0254 if system == "inch" else 1e-3)


def wanted_size(flow: float, limit: float, system: System = "metric") -> Wanted:
    """The duct that carries `flow` m3/s at `limit` m/s: exact, next size sold in that system, and flat."""
    area = abs(flow) / limit
    exact = float(np.sqrt(4.0 * area / np.pi))
    sold = sold_round(system)
    standard = float(sold[min(int(np.searchsorted(sold, exact - 1e-9)), sold.size - 1)])
    high = float(np.sqrt(area / 2.0))
    return Wanted(
        flow=abs(flow),
        limit=limit,
        exact=exact,
        standard=standard,
        at_standard=abs(flow) / (np.pi / 4.0 * standard**2),
        flat=Size.rectangle(2.0 * high, high),
    )
