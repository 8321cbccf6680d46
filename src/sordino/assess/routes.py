"""The ways sound can take through the ducts: from each end of a run to every other end joined to it by duct.

A duct ends at a mover's port, at a room or at a space; junctions join ducts. The plan has no duct loops, so the
ducts joined to one another form a tree and there is one way between any two ends.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sordino.plan.statement import Plan


@dataclass(frozen=True, slots=True)
class Leg:
    """One run as a route passes it: with the air (`forward`) or against it."""

    run: str
    forward: bool

    def nodes(self, plan: Plan) -> tuple[str, str]:
        """Where the leg begins and ends."""
        run = plan.run[self.run]
        return (run.start, run.end) if self.forward else (run.end, run.start)

    def turned(self) -> Leg:
        """The same leg the other way."""
        return Leg(self.run, not self.forward)


@dataclass(frozen=True, slots=True)
class End:
    """Where a duct ends: the mover, room or space, and for a mover the port."""

    kind: Literal["mover", "room", "space"]
    place: str
    port: str = ""


@dataclass(frozen=True, slots=True)
class Route:
    """Legs from one duct end to another."""

    legs: tuple[Leg, ...]
    start: End
    end: End

    def name(self) -> str:
        """The runs passed, in order."""
        return " + ".join(leg.run for leg in self.legs)


def end_at(plan: Plan, node: str) -> End | None:
    """The end that a run's `from` or `to` names; None for a junction."""
    place, _, port = node.partition(".")
    if place in plan.room:
        return End("room", place)
    if place in plan.mover:
        return End("mover", place, port)
    return None if place in plan.junction else End("space", place)


def routes(plan: Plan) -> tuple[Route, ...]:
    """Every route between two duct ends, each in both directions."""
    ends = [Leg(name, forward) for name in plan.run for forward in (True, False)]
    starts = [(leg, end_at(plan, leg.nodes(plan)[0])) for leg in ends]
    return tuple(
        Route(legs, start, end) for leg, start in starts if start is not None for legs, end in _onward(plan, (leg,))
    )


def joined(plan: Plan, runs: set[str]) -> set[str]:
    """These runs and all that are joined to them by junctions."""
    reached, waiting = set(runs), list(runs)
    while waiting:
        path = plan.run[waiting.pop()]
        for node in {path.start, path.end} & set(plan.junction):
            beside = {name for name, other in plan.run.items() if node in (other.start, other.end)} - reached
            reached |= beside
            waiting += beside
    return reached


def arms(plan: Plan, junction: str) -> tuple[Leg, ...]:
    """The runs joined to a junction, each as it leads away from it."""
    away = [Leg(name, True) for name, run in plan.run.items() if run.start == junction]
    return (*away, *(Leg(name, False) for name, run in plan.run.items() if run.end == junction))


def _onward(plan: Plan, legs: tuple[Leg, ...]) -> Iterator[tuple[tuple[Leg, ...], End]]:
    node = legs[-1].nodes(plan)[1]
    end = end_at(plan, node)
    if end is not None:
        yield legs, end
        return
    for arm in arms(plan, node):
        if arm.run not in {leg.run for leg in legs}:
            yield from _onward(plan, (*legs, arm))
