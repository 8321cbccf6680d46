"""What may help where the ducts take more air out than they bring in, past a flue."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.airflow import air_state
from sordino.assess.assessment import Assessment
from sordino.assess.drawn_air import NOTHING_TO_SPEAK_OF, net_exhaust
from sordino.plan.statement import Plan
from sordino.search import stands
from sordino.search.trial import Change, Measure

DUCT = 2.0
"""Length of a duct for make-up air, m."""


def exhaust(found: Assessment, mode: str) -> Measure:
    """Net exhaust, m3/s."""

    def measure(plan: Plan) -> tuple[float, float]:
        before = found.state(mode)
        state = before if plan is found.plan else air_state(plan, mode, before.filters, found.air)
        return net_exhaust(plan, state), NOTHING_TO_SPEAK_OF

    return measure


def make_up(found: Assessment, mode: str) -> Iterator[Change]:
    """A duct that lets air back in."""
    plan, state = found.plan, found.state(mode)
    outdoors = {key for key, space in plan.space.items() if space.kind == "outside"}
    out = [name for name, run in plan.run.items() if run.end in outdoors and state.flows[name] > 0.0]
    lowest = min(plan.room, key=lambda room: state.pressures[room])
    for name in out[:1]:
        outside, size = plan.run[name].end, plan.run[name].size.shown(plan.units)
        words = f"a bare make-up duct of {size} from outdoors to {plan.place_name(lowest)}"
        yield words, stands.with_make_up(outside, lowest, name, DUCT)
