"""What helps where something does not hang, fit, lift or breathe: the plan changed and assessed again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from re import sub

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.elements.box_layout import Clash
from sordino.errors import OutOfRange
from sordino.plan.statement import Plan
from sordino.search import breathing, fitting_in, holding_up, stops
from sordino.search.trial import Change, Gain, Measure, share_over

TOLD = 3


@dataclass(frozen=True, kw_only=True, slots=True)
class Gains:
    """The best changes for one finding, best first, and how many were tried."""

    finding: Finding
    tried: int
    best: tuple[Gain, ...]

    @property
    def faults(self) -> bool:
        """Whether it is a fault that is there or gone, not a figure."""
        return self.finding.question == "safety" and self.finding.unit != "m3/s"


def gains(found: Assessment, finding: Finding) -> Gains | None:
    """Try the usual changes; None where nothing of the plan can be changed for it."""
    asked = _asked(found, finding)
    if asked is None:
        return None
    measure, candidates = asked
    before = measure(found.plan)
    tried = [_tried(found, finding, before, measure, change) for change in candidates]
    better = [gain for gain in tried if gain is not None and gain.over < share_over(*before) - 1e-6]
    enough = [gain for gain in better if gain.meets] or sorted(better, key=lambda gain: gain.over)
    return Gains(finding=finding, tried=len(tried), best=tuple(_no_more_of_the_same(enough))[:TOLD])


def asked_of(found: Assessment, finding: Finding) -> bool:
    """Whether anything would be tried against it."""
    if finding.question == "fit":
        return fitting_in.asked_of(found, finding)
    if finding.question == "safety" and finding.unit != "m3/s":
        return stops.asked_of(finding)
    return _asked(found, finding) is not None


def _no_more_of_the_same(ranked: list[Gain]) -> Iterator[Gain]:
    """Each gain, but not one that takes more of a thing to the same end, as four lengths where three do."""
    told: set[tuple[str, float, float]] = set()
    for gain in ranked:
        key = (sub(r"[0-9.]+", "", gain.words), round(gain.after, 6), round(gain.limit, 6))
        if key not in told:
            told.add(key)
            yield gain


def _tried(
    found: Assessment, finding: Finding, before: tuple[float, float], measure: Measure, change: Change
) -> Gain | None:
    """One change; None if the box can then not be laid out."""
    words, edit = change
    try:
        plan = edit(found.plan)
        after, limit = measure(plan)
    except (Clash, OutOfRange):
        return None
    return Gain(words=words, before=before[0], after=after, limit=limit, plan=plan, cost=_cost(found, finding, plan))


def _cost(found: Assessment, finding: Finding, plan: Plan) -> str:
    """What a change costs besides: noise where ducts change, a kink where a box gets smaller."""
    if finding.method in stops.HEARD:
        return stops.noise_told(found, plan, finding.subject)
    return fitting_in.kinked(found.plan, plan, finding.subject) if finding.question == "fit" else ""


def _asked(found: Assessment, finding: Finding) -> tuple[Measure, Iterable[Change]] | None:
    plan, key = found.plan, finding.subject
    if finding.question == "fit":
        return fitting_in.fitting(found, finding)
    if finding.question == "safety" and finding.unit != "m3/s":
        cures = stops.cures(found, finding)
        return (stops.left(found, finding), cures) if cures else None
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
