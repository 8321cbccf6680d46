"""What may help where a thing does not fit, does not pass, or bridges leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil, floor

from sordino.assess.assessment import Assessment
from sordino.assess.bridges import joints
from sordino.assess.finding import Finding
from sordino.assess.fit import IN_PLACE, SIDES, Fit, fits, goes_into, largest, shape_of, stands_in
from sordino.assess.passing import ON_THE_WAY, passages
from sordino.assess.weight import built, weights
from sordino.elements.box import Box
from sordino.elements.box_layout import Clash
from sordino.elements.built_box import KINK
from sordino.elements.wrap import CONDUCTIVITY, Wrap
from sordino.kinds import INCH
from sordino.plan.statement import Plan
from sordino.search import stands
from sordino.search.holding_up import lighter
from sordino.search.trial import Change, Measure, length

STEP = {"metric": 0.005, "inch": 0.25 * INCH}
"""What a side that must shrink is rounded to, m."""


def fitting(found: Assessment, finding: Finding) -> tuple[Measure, list[Change]] | None:
    """What is measured and tried for a clear space or an opening."""
    key, plan = finding.subject, found.plan
    if finding.method == IN_PLACE:
        fit = next(each for each in found.structure.fits if each.key == key)
        return _standing(key, fit.tightest), list(_smaller(plan, fit))
    opening = _too_small(found, key)
    if finding.method != ON_THE_WAY or opening is None:
        return None
    return _passing(key, opening), list(_ways(plan, key))


def asked_of(found: Assessment, finding: Finding) -> bool:
    """Whether anything is tried against it."""
    passing = finding.method == ON_THE_WAY and _too_small(found, finding.subject) is not None
    return finding.method == IN_PLACE or passing


def _too_small(found: Assessment, key: str) -> str | None:
    """The first opening that a thing does not pass."""
    return next((each.opening for each in found.structure.passages if each.key == key and not each.passes), None)


def _standing(key: str, side: str) -> Measure:
    def measure(plan: Plan) -> tuple[float, float]:
        fit = next(each for each in fits(plan, (key,)) if each.key == key)
        side_now = side if fit.may[side] > 0.0 and not fit.fits else fit.tightest
        return fit.has[side_now], fit.may[side_now]

    return measure


def _smaller(plan: Plan, fit: Fit) -> Iterator[Change]:
    stand, step = plan.stand[fit.key], STEP[plan.units]
    yield "laid on its side" if not stand.on_side else "stood up", stands.with_stand(fit.key, on_side=not stand.on_side)
    for way in ("along", "across", "up"):
        if way != stand.lengthwise:
            yield f"its length turned {way}", stands.with_stand(fit.key, lengthwise=way)
    for side in SIDES if fit.key in plan.box else ():
        over = fit.has[side] - fit.may[side]
        if fit.may[side] > 0.0 and over > 0.0:
            less = ceil(over / step - 1e-6) * step
            words = f"an inside {side} of {length(plan, getattr(plan.box[fit.key], side) - less)}"
            yield words, stands.with_build(fit.key, _less(side, less))
    yield from lighter(plan, fit.key)
    yield from _thinner_wrap(plan, fit, step)
    half = stand.clearance / 2.0
    if half > 0.0:
        yield f"clearances of {length(plan, half)}", stands.with_stand(fit.key, clearance=half)


def _thinner_wrap(plan: Plan, fit: Fit, step: float) -> Iterator[Change]:
    """The thickest insulation with which it goes in, in whole steps, or none at all."""
    stand, shape = plan.stand[fit.key], shape_of(plan, fit.key)
    own = plan.box[fit.key].wrap.thickness if fit.key in plan.box else 0.0
    now = max(stand.wrap, own)
    if now <= 0.0 or shape is None or stand.clear is None:
        return
    clear = stand.clear
    most = largest(lambda wrap: goes_into(shape, stand.model_copy(update={"wrap": wrap}), clear), now)
    thick = floor(most / step) * step
    words = f"{length(plan, thick)} of insulation round it" if thick > 0.0 else "no insulation round it"

    def edit(changed: Plan) -> Plan:
        thinner = stands.with_stand(fit.key, wrap=min(thick, stand.wrap))(changed)
        if own <= thick:
            return thinner
        return stands.with_build(fit.key, lambda box: box.model_copy(update={"wrap": _cut(box, thick)}))(thinner)

    yield words, edit


def _cut(box: Box, thick: float) -> Wrap:
    """The wrap of a box, of another thickness."""
    return box.wrap.model_copy(update={"r": thick / CONDUCTIVITY})


def _less(side: str, less: float) -> Callable[[Box], Box]:
    def change(box: Box) -> Box:
        left = getattr(box, side) - less
        if left <= 0.0:
            raise Clash("nothing is left of that side", "shrink another")
        return box.model_copy(update={side: left})

    return change


def _passing(key: str, opening: str) -> Measure:
    def measure(plan: Plan) -> tuple[float, float]:
        each = next(
            each for each in passages(plan, weights(plan, (key,))) if (each.key, each.opening) == (key, opening)
        )
        return each.has, each.limit

    return measure


def _ways(plan: Plan, key: str) -> Iterator[Change]:
    stand = plan.stand[key]
    if stand.brought == "whole" and key in plan.box:
        yield "brought in as boards", stands.with_stand(key, brought="in parts")
    for lengths in (2, 3, 4) if key in plan.box else ():
        if lengths > stand.lengths:
            what = "the whole" if stand.brought == "whole" else "its boards"
            yield f"{what} in {lengths} lengths", stands.with_stand(key, lengths=lengths)


def bridging(key: str) -> Measure:
    """Most leaves of one shell that a box joins stiffly."""

    def measure(plan: Plan) -> tuple[float, float]:
        mine = [each for each in joints(plan) if each.key == key and each.rigid]
        shells = {each.shell for each in mine}
        return float(max((len({e.leaf for e in mine if e.shell == s}) for s in shells), default=0)), 1.0

    return measure


def ties(plan: Plan, key: str) -> Iterator[Change]:
    """Soft joints instead of stiff ones."""
    stand = plan.stand[key]
    for index, tie in enumerate(stand.ties):
        if tie.rigid:
            soft = tie.model_copy(update={"by": "gasket"})
            changed = (*stand.ties[:index], soft, *stand.ties[index + 1 :])
            words = f"a gasket instead of {tie.by} at leaf {tie.leaf} of {tie.shell}"
            yield words, stands.with_stand(key, ties=changed)
    if stand.hung is not None and stand.hung.deflection is None:
        deep = 0.01 if plan.units == "metric" else 0.375 * INCH
        yield f"isolators that sag by {length(plan, deep)}", stands.with_hung(key, deflection=deep)


def kinked(before: Plan, plan: Plan, key: str) -> str:
    """Said where flexible duct in a box then bends more tightly than makers allow, and did not before."""
    radius = _sharp(plan, key)
    if radius is None or _sharp(before, key) is not None:
        return ""
    return f"but then its flexible duct bends with {length(plan, radius)} and may kink"


def _sharp(plan: Plan, key: str) -> float | None:
    """Radius of the bends of the flexible duct in a box where it is under what makers allow, m."""
    part = built(plan, key)
    radius = part.layout.radius if part is not None else None
    if part is None or radius is None or radius >= KINK * part.layout.stations[0].size.diameter - 1e-9:
        return None
    return radius


def crowded(before: Plan, plan: Plan, key: str) -> str:
    """Said where a thing fits its place and after a change no longer does."""
    did, does = (stands_in(each, key) for each in (before, plan))
    return " (but then it no longer fits its place)" if did and does is False else ""
