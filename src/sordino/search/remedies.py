"""What helps most: the plan changed at its worst sounds and assessed again, each figure computed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice

import numpy as np

from sordino.assess.airflow import air_state
from sordino.assess.assessment import Assessment
from sordino.assess.contribution import Contribution
from sordino.assess.loudness import Loudness, figure
from sordino.assess.noise import steady
from sordino.plan.statement import Plan
from sordino.search.again import acoustics_again
from sordino.search.changes import Change, changes

SOUNDS, TRIED, TOLD = 3, 6, 3
"""Sounds that are looked at, changes that are assessed, changes that are told of."""
NEAR = 10.0
"""A sound this many dB below the worst can't be the one to treat, dB."""
WORTH_TELLING = 0.5


@dataclass(frozen=True, kw_only=True, slots=True)
class Remedy:
    """A change with the figure it gives, and the flow it costs."""

    words: str
    before: float
    after: float
    run: str
    """The run whose flow is told; empty where no flow changes."""
    flow_before: float
    flow_after: float
    meets: bool
    """Whether the figure, rounded as it is told, is then within the target; its range may reach over."""
    plan: Plan = field(repr=False, compare=False)
    """The plan with the change."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Remedies:
    """The best changes for one receiver in one mode, best first, and the best two together."""

    place: str
    mode: str
    tried: int
    best: tuple[Remedy, ...]
    together: Remedy | None

    @property
    def told(self) -> tuple[Remedy, ...]:
        """All that is told of."""
        return (*self.best, *([self.together] if self.together is not None else []))

    @property
    def reaches(self) -> bool:
        """Whether any of them is within the target."""
        return any(each.meets for each in self.told)


def remedies(assessment: Assessment, place: str, mode: str) -> Remedies:
    """Try the likeliest changes against what governs a receiver's noise."""
    heard = assessment.noise[place, mode]
    candidates = tuple(islice(_candidates(assessment.plan, heard), TRIED))
    found = [(change, _tried(assessment, heard, (change,))) for change in candidates]
    useful = sorted(
        (pair for pair in found if pair[1].before - pair[1].after >= WORTH_TELLING),
        key=lambda pair: round(pair[1].after),
    )
    best = tuple(remedy for _, remedy in useful[:TOLD])
    pair = _pair([change for change, _ in useful])
    both = _tried(assessment, heard, pair) if pair and not best[0].meets else None
    return Remedies(place=place, mode=mode, tried=len(candidates), best=best, together=both)


def _pair(ranked: list[Change]) -> tuple[Change, ...]:
    """The best change and the best of those that change something else; empty if there are no two."""
    other = next((change for change in ranked if change.subject != ranked[0].subject), None)
    return (ranked[0], other) if other is not None else ()


def _candidates(plan: Plan, heard: Loudness) -> Iterator[Change]:
    """Changes against the worst sounds, those against the worst first, each once."""
    told: set[str] = set()
    for sound in worst_sounds(heard):
        for change in changes(plan, heard.heard.place, heard.heard.mode, sound):
            if change.words not in told:
                told.add(change.words)
                yield change


def worst_sounds(heard: Loudness) -> list[Contribution]:
    """The few loudest sounds in the band that governs, worst first."""
    at = heard.band
    known = [sound for sound in heard.heard.contributions if not np.isnan(sound.levels[at])]
    ranked = sorted(known, key=lambda sound: -float(sound.levels[at]))
    return [sound for sound in ranked if sound.levels[at] > ranked[0].levels[at] - NEAR][:SOUNDS]


def _tried(assessment: Assessment, heard: Loudness, combined: tuple[Change, ...]) -> Remedy:
    place, mode = heard.heard.place, heard.heard.mode
    plan = assessment.plan
    for change in combined:
        plan = change.edit(plan)
    model = acoustics_again(assessment.acoustics, plan)
    before = assessment.state(mode)
    moved = any(change.run for change in combined)
    after = air_state(plan, mode, before.filters, assessment.air, before) if moved else before
    levels = steady(model, after, (place,))[place].levels
    value = float(figure(levels, heard.scale))
    run = next((change.run for change in combined if change.run), "")
    return Remedy(
        words=" and ".join(change.words for change in combined),
        before=heard.rating.value,
        after=value,
        run=run,
        flow_before=abs(before.flows[run]) if run else 0.0,
        flow_after=abs(after.flows[run]) if run else 0.0,
        meets=heard.target is not None and round(value) <= heard.target.value,
        plan=plan,
    )
