"""From what was written to what will be built: every part sized, boxes filled in, bare ends made explicit."""

from __future__ import annotations

from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.elements.lined_box import LinedBox
from sordino.elements.metal_duct import MetalDuct
from sordino.elements.open_end import OpenEnd
from sordino.elements.parts import Part
from sordino.plan.run import Run
from sordino.plan.statement import Plan
from sordino.quantities import Size


def fitted(plan: Plan) -> Plan:
    """The plan with its runs fitted: sizes follow from the run and from transitions on the way."""
    return plan.model_copy(update={"run": {name: _fitted_run(plan, run) for name, run in plan.run.items()}})


def _fitted_run(plan: Plan, run: Run) -> Run:
    parts = list(run.parts)
    if bare_start(plan, run):
        parts.insert(0, OpenEnd())
    if bare_end(plan, run):
        parts.append(OpenEnd())
    return run.model_copy(update={"parts": tuple(_sized(plan, run, parts))})


def opens(plan: Plan, node: str) -> bool:
    """Whether a run that ends here opens into a room or space."""
    return node in plan.room or node in plan.space


def bare_start(plan: Plan, run: Run) -> bool:
    """Whether the run opens where it starts and nothing is written to stand there."""
    return opens(plan, run.start) and not (run.parts and run.parts[0].terminal)


def bare_end(plan: Plan, run: Run) -> bool:
    """Whether the run opens where it ends and nothing is written to stand there; a lone grille stands at the start."""
    single = len(run.parts) == 1 and opens(plan, run.start)
    return opens(plan, run.end) and (single or not (run.parts and run.parts[-1].terminal))


def _sized(plan: Plan, run: Run, parts: list[Part]) -> list[Element]:
    size: Size = run.size
    fitted: list[Element] = []
    for part in parts:
        whole = _whole(plan, part).model_copy(update={"size": part.size or size, "within": part.within or run.within})
        size = whole.outlet
        fitted.append(whole)
    return _sharing_cap(fitted)


def _whole(plan: Plan, part: Part) -> Element:
    """The part itself, or the box that stands in its place."""
    if not isinstance(part, LinedBox) or part.box not in plan.box:
        return part
    return BuiltBox.model_construct(kind="lined box", name=part.name, box=part.box, build=plan.box[part.box])


def _sharing_cap(parts: list[Element]) -> list[Element]:
    """Lined lengths of a run share the most that handbooks credit a run of lined duct with, by their length."""
    whole = sum(part.length for part in parts if isinstance(part, MetalDuct) and part.lining is not None)
    return [
        part.sharing(part.length / whole) if isinstance(part, MetalDuct) and part.lining is not None else part
        for part in parts
    ]
