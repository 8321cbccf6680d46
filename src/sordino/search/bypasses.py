"""What helps most where ducts spoil the loss between two rooms: loss put into the weakest way, and tried."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

import numpy as np

from sordino.assess.acoustics import acoustics
from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.assess.isolation import Isolation, isolations
from sordino.search.changes import in_run

TRIED, TOLD = 4, 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Bypass:
    """A change with how much more the ducts then lose than the shell, in their weakest band, dB."""

    words: str
    before: float
    after: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Bypasses:
    """The best changes to the ways between two rooms, best first."""

    source: str
    receiver: str
    tried: int
    best: tuple[Bypass, ...]


def bypasses(assessment: Assessment, finding: Finding) -> Bypasses | None:
    """Lined duct and a lined box tried at either end of the weakest way; None if the finding is of no such pair."""
    pair = next((each for each in assessment.isolations if _is_of(each, finding)), None)
    if pair is None:
        return None
    plan = assessment.plan
    runs = [name for name in weakest_way(pair).split(" + ") if name in plan.run]
    ends = dict.fromkeys([(runs[-1], pair.receiver), (runs[0], pair.source)])
    candidates = tuple(islice((each for run, room in ends for each in in_run(plan, room, run)), TRIED))
    found = []
    for change in candidates:
        model = acoustics(change.edit(plan), assessment.air)
        after = next(each for each in isolations(model) if _same(each, pair))
        found.append(Bypass(words=change.words, before=least_lead(pair), after=least_lead(after)))
    useful = sorted((each for each in found if each.after >= each.before + 0.5), key=lambda each: -round(each.after))
    return Bypasses(source=pair.source, receiver=pair.receiver, tried=len(candidates), best=tuple(useful[:TOLD]))


def least_lead(pair: Isolation) -> float:
    """How much more the ducts lose than the shell where they are weakest, from 63 Hz up, dB."""
    assert pair.lead is not None, "only asked of pairs with both shell and ducts"
    return float(np.nanmin(pair.lead[1:]))


def weakest_way(pair: Isolation) -> str:
    """The way by duct that lets most through where the ducts are weakest beside the shell."""
    assert pair.lead is not None, "only asked of pairs with both shell and ducts"
    worst = int(np.nanargmin(pair.lead[1:])) + 1
    return min(pair.ways, key=lambda way: float(np.nan_to_num(way[1][worst], nan=np.inf)))[0]


def _is_of(pair: Isolation, finding: Finding) -> bool:
    if finding.question != "isolation" or pair.source != finding.subject or pair.lead is None:
        return False
    return finding.value is not None and abs(least_lead(pair) - finding.value) < 1e-6


def _same(first: Isolation, second: Isolation) -> bool:
    return (first.source, first.receiver) == (second.source, second.receiver)
