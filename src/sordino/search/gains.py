"""What helps where something does not hang, fit, lift or breathe: the plan changed and assessed again."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.elements.box_layout import Clash
from sordino.errors import OutOfRange
from sordino.plan.statement import Plan
from sordino.search import breathing, fitting_in, holding_up
from sordino.search.trial import Change, Gain, Measure

TOLD = 3


@dataclass(frozen=True, kw_only=True, slots=True)
class Gains:
    """The best changes for one finding, best first, and how many were tried."""

    finding: Finding
    tried: int
    best: tuple[Gain, ...]


def gains(found: Assessment, finding: Finding) -> Gains | None:
    """Try the usual changes; None where nothing of the plan can be changed for it."""
    asked = _asked(found, finding)
    if asked is None:
        return None
    measure, candidates = asked
    before = measure(found.plan)
    tried = [_tried(found.plan, before, measure, change) for change in candidates]
    told = finding.question == "safety" and not finding.unit
    better = [gain for gain in tried if gain is not None and (told or gain.share < _share(before) - 1e-6)]
    ranked = sorted(better, key=lambda gain: not gain.meets)
    return Gains(finding=finding, tried=len(tried), best=tuple(ranked[:TOLD]))


def _share(before: tuple[float, float]) -> float:
    value, limit = before
    return value / limit if limit > 0.0 else float("inf")


def _tried(plan: Plan, before: tuple[float, float], measure: Measure, change: Change) -> Gain | None:
    """One change; None if the box can then not be laid out."""
    words, edit = change
    try:
        after, limit = measure(edit(plan))
    except (Clash, OutOfRange):
        return None
    return Gain(words=words, before=before[0], after=after, limit=limit)


def _asked(found: Assessment, finding: Finding) -> tuple[Measure, Iterable[Change]] | None:
    plan, key = found.plan, finding.subject
    if finding.question == "fit":
        return fitting_in.fitting(found, finding)
    if finding.question == "safety" and key in plan.run:
        return breathing.heard_at(found, key)
    asked: dict[tuple[str, str], Callable[[], tuple[Measure, Iterable[Change]]]] = {
        ("hanging", "N"): lambda: (holding_up.hanger(key), holding_up.hangers(plan, key)),
        ("hanging", "Hz"): lambda: (holding_up.isolator(key), holding_up.isolators(plan, key)),
        ("hanging", "%"): lambda: (holding_up.bent(key), holding_up.joists(plan, key)),
        ("hanging", "m"): lambda: (holding_up.sagging(key), holding_up.joists(plan, key)),
        ("lifting", "kg"): lambda: (holding_up.lifting(key), holding_up.lifts(plan, key)),
        ("bridge", finding.unit): lambda: (fitting_in.bridging(key), fitting_in.ties(plan, key)),
        ("safety", "m3/s"): lambda: (breathing.exhaust(found, finding.mode), breathing.make_up(found, finding.mode)),
    }
    made = asked.get((finding.question, finding.unit))
    return made() if made is not None else None
