"""The acoustics of a changed plan, with all that the change does not reach taken over from before."""

from __future__ import annotations

from dataclasses import replace

from sordino.assess.acoustics import Acoustics
from sordino.assess.boxes import unsolved, with_fields
from sordino.assess.stations import Stations
from sordino.plan.statement import Plan


def acoustics_again(before: Acoustics, plan: Plan) -> Acoustics:
    """The same as working out `plan` anew, for a change that joins nothing to something else and leaves rooms alone.

    Ducts that meet at junctions load one another, so a changed run changes every route in its tree of ducts, and none
    in another tree. Boxes have sound fields if they had them before, so that like is set beside like.
    """
    reached = joined(plan, {name for name, run in plan.run.items() if run is not before.plan.run[name]})
    if not reached:
        return replace(before, plan=plan)
    plan = plan if unsolved(before.plan) else with_fields(plan, before.air)
    kept = {route: each for route, each in before.known.items() if route.legs[0].run not in reached}
    return replace(before, plan=plan, stations=Stations(plan, before.air, before.stations), known=kept)


def joined(plan: Plan, runs: set[str]) -> set[str]:
    """These runs and all that are joined to them by junctions."""
    reached, waiting = set(runs), list(runs)
    while waiting:
        path = plan.run[waiting.pop()]
        for node in {path.start, path.end} & set(plan.junction):
            beside = {name for name, other in plan.run.items() if node in (other.start, other.end)} - reached
            reached |= beside
            waiting += beside
    return reached
