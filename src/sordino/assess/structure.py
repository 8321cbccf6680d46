"""All that is asked of weight, hanging, lifting, fit and ties, and how it stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.assess.bridges import Joint, bridge_findings, joints
from sordino.assess.finding import Finding
from sordino.assess.fit import Fit, fit_findings, fits
from sordino.assess.hanging import Bearing, Hang, bearings, hanging_findings, hangs
from sordino.assess.lifting import Lifted, lifted, lifting_findings
from sordino.assess.passing import Passage, passage_findings, passages
from sordino.assess.weight import Weight, weight_findings, weights
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class Structure:
    """What stands, hangs, is lifted and passes; by the keys of boxes, movers and joists."""

    weights: dict[str, Weight]
    hangs: tuple[Hang, ...]
    bearings: tuple[Bearing, ...]
    lifted: tuple[Lifted, ...]
    fits: tuple[Fit, ...]
    passages: tuple[Passage, ...]
    joints: tuple[Joint, ...]


def structure(plan: Plan) -> Structure:
    """Work all of it out; it asks nothing of air or sound."""
    found = weights(plan)
    hung = hangs(plan, found)
    return Structure(
        weights=found,
        hangs=hung,
        bearings=bearings(plan, hung),
        lifted=lifted(plan, found),
        fits=fits(plan),
        passages=passages(plan, found),
        joints=joints(plan),
    )


def structure_findings(plan: Plan, found: Structure) -> Iterator[Finding]:
    """Every answer about weight, hanging, lifting, fit and ties."""
    yield from weight_findings(plan, found.weights)
    yield from hanging_findings(plan, found.hangs, found.bearings)
    yield from lifting_findings(plan, found.lifted)
    yield from fit_findings(plan, found.fits)
    yield from passage_findings(plan, found.passages)
    yield from bridge_findings(plan, found.joints)
