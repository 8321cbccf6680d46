"""One change against stale air, heat, wet or mould, and the noise targets that it costs."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.acoustics import acoustics
from sordino.assess.airflow import air_state
from sordino.assess.assessment import Assessment
from sordino.assess.loudness import figure
from sordino.assess.noise import ventilation
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
    spoils: tuple[Spoilt, ...] = ()
    """Noise targets that are lost in the finding's mode."""


Tried = tuple[IndoorRemedy, Plan]
"""A change and the plan with it."""


def spoilt(found: Assessment, mode: str, changed: Plan) -> tuple[Spoilt, ...]:
    """Targets that a mode misses once the plan is changed; a change that moves no air differently costs none."""
    plan = found.plan
    if not mode or (changed.mode == plan.mode and changed.mover == plan.mover):
        return ()
    state = air_state(changed, mode, found.state(mode).filters, found.air)
    heard = ventilation(acoustics(changed, found.air), state)
    lost = []
    for (place, when), before in found.noise.items():
        if when != mode or before.target is None or place not in heard:
            continue
        after = float(figure(heard[place].levels, before.scale))
        if round(before.rating.value) <= before.target.value < round(after):
            one = Spoilt(
                place=place, scale=before.scale, before=before.rating.value, after=after, target=before.target.value
            )
            lost.append(one)
    return tuple(lost)
