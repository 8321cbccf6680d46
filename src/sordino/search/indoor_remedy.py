"""One change against stale air, heat, wet or mould, and the noise targets that it costs."""

from __future__ import annotations

from dataclasses import dataclass, field

from sordino.assess.acoustics import acoustics
from sordino.assess.airflow import air_state
from sordino.assess.assessment import Assessment
from sordino.assess.loudness import figure
from sordino.assess.noise import Heard, ventilation
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class Spoilt:
    """A noise target that is met, rounded as it is told, and no longer is with the change."""

    place: str
    scale: str
    before: float
    after: float
    target: float


@dataclass(frozen=True, kw_only=True, slots=True)
class IndoorRemedy:
    """A change, the figure it gives in the unit of the finding, and whether that is within the limit."""

    words: str
    before: float
    after: float
    meets: bool
    dew: float | None = None
    """Dew point where the finding is about, with the change, C; only against wet."""
    between: bool = False
    """Whether that is between two layers, where air does not come."""
    spoils: tuple[Spoilt, ...] = ()
    """Noise targets that are lost in the finding's mode, or in any if it has none."""
    plan: Plan | None = field(default=None, repr=False, compare=False)
    """The plan with the change, of those that are told."""


Tried = tuple[IndoorRemedy, Plan]
"""A change and the plan with it."""


def spoilt(found: Assessment, mode: str, changed: Plan) -> tuple[Spoilt, ...]:
    """Targets that a mode, or any, misses once the plan is changed, each place's worst; none where no air is moved."""
    plan = found.plan
    if changed.mover == plan.mover and changed.mode == plan.mode and not _moved(plan, changed):
        return ()
    worst: dict[str, Spoilt] = {}
    model = acoustics(changed, found.air)
    for when in (mode,) if mode else plan.mode:
        state = air_state(changed, when, found.state(when).filters, found.air)
        for place, heard in ventilation(model, state).items():
            one = _lost(found, place, when, heard)
            if one is not None and (place not in worst or one.after > worst[place].after):
                worst[place] = one
    return tuple(worst.values())


def _moved(plan: Plan, changed: Plan) -> bool:
    """Whether some run goes elsewhere."""
    return any((run.start, run.end) != (plan.run[name].start, plan.run[name].end) for name, run in changed.run.items())


def _lost(found: Assessment, place: str, mode: str, heard: Heard) -> Spoilt | None:
    before = found.noise.get((place, mode))
    if before is None or before.target is None:
        return None
    after, target = float(figure(heard.levels, before.scale)), before.target.value
    if not round(before.rating.value) <= target < round(after):
        return None
    return Spoilt(place=place, scale=before.scale, before=before.rating.value, after=after, target=target)
