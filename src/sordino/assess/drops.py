"""What takes pressure along a run: entry, parts in order, junctions, exit, each as a function of the flow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sordino.elements.element import Element
from sordino.elements.filter import Filter
from sordino.elements.grille import Grille
from sordino.elements.open_end import OpenEnd
from sordino.physics.air.areas import entry_sharp, exit_loss
from sordino.physics.air.friction import velocity_pressure
from sordino.physics.air.properties import Air
from sordino.plan.run import Run
from sordino.plan.statement import Plan

FRICTION_POWER = 1.9
"""Power of the flow by which friction grows, for the slope of a run only."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """One line of a pressure ledger."""

    label: str
    drop: float
    scatter: str


def lines(plan: Plan, name: str, flow: float, filters: str, air: Air) -> tuple[Line, ...]:
    """The pressure ledger of a run at a flow: entry, parts in order, junctions, exit."""
    return tuple(
        Line(label=take.label, drop=take.drop(flow), scatter=take.scatter)
        for take in takes_of(plan, name, filters, air)
    )


@dataclass(frozen=True, slots=True)
class Take:
    """Something along a run that takes pressure, as a function of the flow."""

    label: str
    scatter: str
    drop: Callable[[float], float]
    squared: bool = False
    """Whether the drop goes exactly by the square of the flow, so that one figure each way says it all."""


def takes_of(plan: Plan, name: str, filters: str, air: Air) -> tuple[Take, ...]:
    run = plan.run[name]
    inside = [
        Take(part.label(), part.loss_scatter, _soiled(part, filters).pressure_curve(air), part.squared)
        for part in run.parts
    ]
    first, last = _sections(run)
    return (
        *_end_take(plan, name, run.start, first, air, leaving=False),
        *inside,
        *_end_take(plan, name, run.end, last, air, True),
    )


def _sections(run: Run) -> tuple[float, float]:
    """Clear areas of a run's two ends, m2; an opening smaller than its duct counts as it is."""
    if not run.parts:
        return run.size.area, run.size.area
    return _clear(run.parts[0], run.parts[0].section.area), _clear(run.parts[-1], run.parts[-1].outlet.area)


def _clear(part: Element, area: float) -> float:
    return min(area, part.mouth.area) if isinstance(part, Grille | OpenEnd) else area


def _end_take(plan: Plan, name: str, node: str, area: float, air: Air, leaving: bool) -> tuple[Take, ...]:
    """What is lost where a run meets a junction, or opens into a room or space; a mover's port takes nothing."""
    dynamic = float(velocity_pressure(1.0 / area, air))
    if node in plan.junction:
        lost = _junction_coefficient(plan, node, name, area, joining=leaving) * dynamic
        return (Take(f"{plan.junction[node].kind} {node}", "branch", lambda flow: lost * flow * flow, True),)
    if node.partition(".")[0] in plan.mover:
        return ()
    blowing, drawing = exit_loss * dynamic, float(entry_sharp()) * dynamic
    forward, backward = (blowing, drawing) if leaving else (drawing, blowing)
    label = "exit" if leaving else "entry"
    return (Take(label, "area change", lambda flow: (forward if flow >= 0 else backward) * flow * flow, True),)


def _junction_coefficient(plan: Plan, node: str, name: str, area: float, joining: bool) -> float:
    """Loss coefficient of one arm on its own velocity pressure."""
    inward = [_sections(run)[1] for run in plan.run.values() if run.end == node]
    onward = [_sections(run)[0] for run in plan.run.values() if run.start == node]
    junction = plan.junction[node]
    if joining and (len(inward) > 1 or junction.kind == "plenum"):
        return junction.joining_coefficient(name, area, sum(onward), sum(inward))
    if not joining and (len(onward) > 1 or junction.kind == "plenum"):
        return junction.leaving_coefficient(name, area, sum(inward), sum(onward))
    return 0.0


def _soiled(part: Element, filters: str) -> Element:
    if isinstance(part, Filter) and filters == "dirty":
        return part.model_copy(update={"soiling": 1.0})
    return part


class Curve:
    """Pressure loss of a run over its flow, odd and rising, and its slope; the last flow asked for is remembered."""

    def __init__(self, takes: tuple[Take, ...]) -> None:
        self.drops = [take.drop for take in takes if not take.squared]
        squared = [take for take in takes if take.squared]
        self.forward, self.backward = (sum(take.drop(flow) for take in squared) for flow in (1.0, -1.0))
        self.known = (0.0, 0.0)

    def loss(self, flow: float) -> float:
        """Pa at m3/s."""
        if flow == 0.0:
            return 0.0
        whole = self._square(flow) * flow * flow + self._rest(flow)
        return whole if flow > 0 else -whole

    def slope(self, flow: float) -> float:
        """Pa/(m3/s), friction taken to go by FRICTION_POWER of the flow: near enough to step by."""
        size = max(abs(flow), 1e-6)
        near = flow if abs(flow) > 1e-6 else 1e-6
        return 2.0 * self._square(flow) * size + FRICTION_POWER * self._rest(near) / size

    def _square(self, flow: float) -> float:
        return self.forward if flow > 0 else self.backward

    def _rest(self, flow: float) -> float:
        if self.known[0] != flow:
            self.known = (flow, sum([drop(flow) for drop in self.drops]))
        return self.known[1]
