"""What helps most where ducts spoil the loss between two rooms: loss put into the weakest way, again and again.

Several ducts lie side by side, so that treating one leaves the next: each step treats the way that is then the
weakest, at the end where it helps more, until the ducts cost the shell next to nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from sordino.assess.acoustics import Acoustics
from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.assess.isolation import MARGIN, Isolation, isolation
from sordino.plan.statement import Plan
from sordino.search.again import acoustics_again
from sordino.search.changes import Change, in_run

STEPS = 3
WORTH_TELLING = 1.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Bypass:
    """Changes made one after the other, with how much more the ducts then lose than the shell at the weakest, dB."""

    words: tuple[str, ...]
    after: float
    plan: Plan = field(repr=False, compare=False)
    """The plan with these changes."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bypasses:
    """The way to better loss between two rooms, step by step; each step holds those before it."""

    source: str
    receiver: str
    before: float
    tried: int
    steps: tuple[Bypass, ...]

    @property
    def last(self) -> Bypass | None:
        """All steps together, if they are worth it."""
        found = self.steps[-1] if self.steps else None
        return found if found is not None and found.after - self.before >= WORTH_TELLING else None


def bypasses(assessment: Assessment, finding: Finding) -> Bypasses | None:
    """Treat the ways between the two rooms of a finding; None if it is of no such pair."""
    pair = next((each for each in assessment.isolations if is_of(each, finding)), None)
    if pair is None:
        return None
    model, now, tried = assessment.acoustics, pair, 0
    words: tuple[str, ...] = ()
    steps: list[Bypass] = []
    while len(steps) < STEPS and least_lead(now) < MARGIN:
        outcomes = [(change, *_after(model, now, change)) for change in _treatments(model.plan, now, words)]
        tried += len(outcomes)
        if not outcomes:
            break
        change, model, now = max(outcomes, key=lambda outcome: least_lead(outcome[2]))
        words = (*words, change.words)
        steps.append(Bypass(words=words, after=least_lead(now), plan=model.plan))
    return Bypasses(
        source=pair.source, receiver=pair.receiver, before=least_lead(pair), tried=tried, steps=tuple(steps)
    )


def _treatments(plan: Plan, pair: Isolation, done: tuple[str, ...]) -> list[Change]:
    """A lined box at either end of the weakest way, where there is none of them yet."""
    runs = [name for name in weakest_way(pair).split(" + ") if name in plan.run]
    ends = dict.fromkeys([(runs[-1], pair.receiver), (runs[0], pair.source)])
    boxes = [change for run, room in ends for change in in_run(plan, room, run) if change.boxed]
    return [change for change in boxes if change.words not in done]


def _after(model: Acoustics, pair: Isolation, change: Change) -> tuple[Acoustics, Isolation]:
    changed = acoustics_again(model, change.edit(model.plan))
    return changed, isolation(changed, pair.source, pair.receiver)


def least_lead(pair: Isolation) -> float:
    """How much more the ducts lose than the shell where they are weakest, from 63 Hz up, dB."""
    assert pair.lead is not None, "only asked of pairs with both shell and ducts"
    return float(np.nanmin(pair.lead[1:]))


def weakest_way(pair: Isolation) -> str:
    """The way by duct that lets most through where the ducts are weakest beside the shell."""
    assert pair.lead is not None, "only asked of pairs with both shell and ducts"
    worst = int(np.nanargmin(pair.lead[1:])) + 1
    return min(pair.ways, key=lambda way: float(np.nan_to_num(way[1][worst], nan=np.inf)))[0]


def is_of(pair: Isolation, finding: Finding) -> bool:
    """Whether a finding tells of the loss between these two rooms."""
    if finding.question != "isolation" or pair.source != finding.subject or pair.lead is None:
        return False
    return finding.value is not None and abs(least_lead(pair) - finding.value) < 1e-6
