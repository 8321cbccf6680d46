"""Which branch has pressure to spare at the flows that are wanted, and how far a damper there must close."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sordino.assess.drops import lines
from sordino.elements.damper import Damper
from sordino.physics.air.dampers import balancing_coefficient, blade_angle
from sordino.physics.air.friction import velocity_pressure
from sordino.physics.air.properties import Air
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class Branch:
    """One arm of a junction at its wanted flow."""

    junction: str
    run: str
    flow: float
    drop: float
    surplus: float
    """Pressure that a damper must take so that all arms get their share, Pa."""
    angle: float
    """Blade angle of the arm's one damper, which may stand there already, that takes it: degrees from open."""


def branches(plan: Plan, air: Air) -> tuple[Branch, ...]:
    """All arms of the junctions whose arms all state a wanted flow and lead into rooms."""
    found: list[Branch] = []
    for junction in plan.junction:
        arms = [name for name, run in plan.run.items() if run.start == junction]
        if len(arms) > 1 and all(plan.run[name].wanted and plan.run[name].end in plan.room for name in arms):
            found += _arms(plan, junction, arms, air)
    return tuple(found)


def _arms(plan: Plan, junction: str, arms: list[str], air: Air) -> list[Branch]:
    flows = {name: float(plan.run[name].wanted or 0.0) for name in arms}
    drops = {name: sum(line.drop for line in lines(plan, name, flows[name], "clean", air)) for name in arms}
    most = max(drops.values())
    return [
        Branch(
            junction=junction,
            run=name,
            flow=flows[name],
            drop=drops[name],
            surplus=most - drops[name],
            angle=_angle(plan, name, flows[name], most - drops[name], air),
        )
        for name in arms
    ]


def _angle(plan: Plan, name: str, flow: float, surplus: float, air: Air) -> float:
    size, stands = plan.run[name].size, [part for part in plan.run[name].parts if isinstance(part, Damper)]
    if surplus <= 0.0 and not stands:
        return 0.0
    dynamic = velocity_pressure(flow / size.area, air)
    shape: Literal["round", "rectangular"] = "round" if size.round else "rectangular"
    already = sum(part.coefficient for part in stands)
    return float(blade_angle(float(balancing_coefficient(surplus, dynamic)) + already, shape))
