"""What may help where air is drawn past a flue, hisses at a grille, or leaves through a rated wall in soft duct."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.airflow import air_state
from sordino.assess.assessment import Assessment
from sordino.assess.loudness import figure
from sordino.assess.noise import ventilation
from sordino.assess.safety import NOTHING_TO_SPEAK_OF, net_exhaust
from sordino.elements.damper import Damper
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.plan.statement import Plan
from sordino.search import stands
from sordino.search.again import acoustics_again
from sordino.search.edits import with_metal_for_flexible
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


def heard_at(found: Assessment, run: str) -> tuple[Measure, list[Change]] | None:
    """What a run's room hears, where its damper moves or its flexible duct becomes metal."""
    plan = found.plan
    place = next((end for end in (plan.run[run].end, plan.run[run].start) if end in plan.room), None)
    heard = [found.noise[place, mode] for mode in plan.mode if (place, mode) in found.noise] if place else []
    if not heard:
        return None
    worst = max(heard, key=lambda each: each.rating.value)

    def measure(changed: Plan) -> tuple[float, float]:
        if changed is plan:
            return worst.rating.value, worst.rating.value
        before = found.state(worst.heard.mode)
        state = air_state(changed, before.mode, before.filters, found.air, before)
        levels = ventilation(acoustics_again(found.acoustics, changed), state)[worst.heard.place].levels
        value = float(figure(levels, worst.scale))
        return (value if not np.isnan(value) else worst.rating.value), worst.rating.value

    parts = plan.run[run].parts
    changes: list[Change] = []
    if any(isinstance(part, Damper) for part in parts):
        changes.append(("the damper at the other end of the run", stands.with_damper_away(run)))
    elif any(isinstance(part, FlexibleDuct) for part in parts):
        changes.append(("metal duct instead of flexible duct", with_metal_for_flexible(run)))
    return (measure, changes) if changes else None
