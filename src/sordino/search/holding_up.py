"""What may help where a thing does not hang or can't be lifted."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from sordino.assess.hanging import LOW, bearings, hangs
from sordino.assess.lifting import MOST, lifted
from sordino.assess.weight import weights
from sordino.kinds import INCH
from sordino.plan.hanging import Hung
from sordino.plan.statement import Plan
from sordino.search import stands
from sordino.search.trial import Change, Measure, length

SCREWS = {"metric": (0.008, 0.010), "inch": (0.3125 * INCH, 0.375 * INCH)}
"""Lag screws that are tried, m."""
THREAD = {"metric": 0.075, "inch": 3.0 * INCH}
"""Thread in the wood that is tried, m."""


def hanger(key: str) -> Measure:
    """Load on the most loaded hanger, N."""

    def measure(plan: Plan) -> tuple[float, float]:
        hang = next(each for each in hangs(plan, weights(plan, (key,))) if each.key == key)
        return hang.load, hang.may_carry

    return measure


def hangers(plan: Plan, key: str) -> Iterator[Change]:
    """Other screws, more of them, more hangers."""
    hung = plan.stand[key].hung
    assert hung is not None, "only what hangs is asked"
    for diameter in SCREWS[plan.units]:
        if hung.screw != "lag screw" or hung.diameter < diameter:
            thread = max(hung.thread, 0.05)
            words = f"lag screws of {length(plan, diameter)} with {length(plan, thread)} of thread"
            yield words, stands.with_hung(key, screw="lag screw", diameter=diameter, thread=thread)
    if hung.screw != "drywall screw":
        for count in (hung.hangers + 2, 2 * hung.hangers):
            yield f"{count} hangers", stands.with_hung(key, hangers=count)
        yield f"{hung.screws + 1} screws in each hanger", stands.with_hung(key, screws=hung.screws + 1)
        if hung.thread < THREAD[plan.units] and hung.screw != "through rod":
            deep = THREAD[plan.units]
            yield f"{length(plan, deep)} of thread", stands.with_hung(key, thread=deep)


def isolator(key: str) -> Measure:
    """What it rings at, Hz."""

    def measure(plan: Plan) -> tuple[float, float]:
        hang, hung = next(each for each in hangs(plan, weights(plan, (key,))) if each.key == key), plan.stand[key].hung
        turns = hung.turns if hung is not None and hung.turns is not None else float("nan")
        return hang.ringing, turns / LOW

    return measure


def isolators(plan: Plan, key: str) -> Iterator[Change]:
    """Softer springs."""
    hung = plan.stand[key].hung
    assert hung is not None, "only what hangs is asked"
    for times in (2.0, 4.0, 8.0):
        deep = times * (hung.deflection or 0.0)
        words = f"springs that sag by {length(plan, deep)}"
        yield words, stands.with_hung(key, deflection=deep, rubber=False)


def bent(name: str) -> Measure:
    """Share of the bending stress that is used, %."""

    def measure(plan: Plan) -> tuple[float, float]:
        bearing = next(
            each for each in bearings(plan, hangs(plan, weights(plan, _hung_from(plan, name)))) if each.joists == name
        )
        return 100.0 * bearing.used, 100.0

    return measure


def sagging(name: str) -> Measure:
    """Sag, m."""

    def measure(plan: Plan) -> tuple[float, float]:
        bearing = next(
            each for each in bearings(plan, hangs(plan, weights(plan, _hung_from(plan, name)))) if each.joists == name
        )
        return bearing.sag, bearing.limit

    return measure


def _hung_from(plan: Plan, name: str) -> list[str]:
    """Everything that hangs from those joists."""
    return [key for key, stand in plan.stand.items() if stand.hung is not None and stand.hung.joists == name]


def joists(plan: Plan, name: str) -> Iterator[Change]:
    """The weight on more joists, nearer to a bearing, or joists doubled."""
    joists = plan.joists[name]
    for more in (1, 2):
        words = f"the weight on {more} more joist{'s' * (more > 1)}"
        yield words, stands.each_hung_from(name, _shared_by_more(more))
    near = joists.span / 4.0
    yield f"hung {length(plan, near)} from a bearing", stands.each_hung_from(name, lambda hung: {"at": near})
    yield "a second joist beside each", stands.with_joists(name, width=2.0 * joists.width)


def _shared_by_more(more: int) -> Callable[[Hung], dict[str, Any]]:
    return lambda hung: {"shared_by": hung.shared_by + more}


def lifting(key: str) -> Measure:
    """Mass that is lifted at once, kg."""

    def measure(plan: Plan) -> tuple[float, float]:
        each = next(each for each in lifted(plan, weights(plan, (key,))) if each.key == key)
        return each.mass, each.may_lift

    return measure


def lifts(plan: Plan, key: str) -> Iterator[Change]:
    """More people, smaller pieces."""
    stand = plan.stand[key]
    assert stand.lift is not None, "only what is lifted is asked"
    if stand.brought == "whole" and key in plan.box:
        yield "built in place from its boards", stands.with_stand(key, brought="in parts")
    for persons in range(stand.lift.persons + 1, MOST):
        yield f"{persons} people", stands.with_lift(key, persons=persons)
    for lengths in (2, 3, 4):
        if lengths > stand.lengths:
            yield f"{lengths} lengths joined in place", stands.with_stand(key, lengths=lengths)
    yield from lighter(plan, key)


def lighter(plan: Plan, key: str) -> Iterator[Change]:
    if key in plan.box and sum(layer.board is not None for layer in plan.box[key].shell) > 1:
        yield "one layer of casing", stands.with_build(key, lambda box: box.model_copy(update={"shell": box.shell[:1]}))
