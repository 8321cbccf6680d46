"""Changes to where a thing stands, what it hangs from and what it is made of, each giving a new plan."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sordino.elements.box import Box
from sordino.elements.built_box import BuiltBox
from sordino.elements.damper import Damper
from sordino.elements.element import Element
from sordino.elements.metal_duct import MetalDuct
from sordino.elements.open_end import OpenEnd
from sordino.plan.hanging import Hung
from sordino.plan.run import Run
from sordino.plan.statement import Plan
from sordino.search.edits import Edit, with_parts


def with_stand(key: str, **changed: Any) -> Edit:
    """Other words about where it stands."""

    def edit(plan: Plan) -> Plan:
        stand = plan.stand[key].model_copy(update=changed)
        return plan.model_copy(update={"stand": {**plan.stand, key: stand}})

    return edit


def with_hung(key: str, **changed: Any) -> Edit:
    """Other hangers."""

    def edit(plan: Plan) -> Plan:
        hung = plan.stand[key].hung
        assert hung is not None, "only asked of what hangs"
        return with_stand(key, hung=hung.model_copy(update=changed))(plan)

    return edit


def with_lift(key: str, **changed: Any) -> Edit:
    """Lifted otherwise."""

    def edit(plan: Plan) -> Plan:
        lift = plan.stand[key].lift
        assert lift is not None, "only asked of what is lifted"
        return with_stand(key, lift=lift.model_copy(update=changed))(plan)

    return edit


def with_joists(name: str, **changed: Any) -> Edit:
    """Other joists."""

    def edit(plan: Plan) -> Plan:
        return plan.model_copy(update={"joists": {**plan.joists, name: plan.joists[name].model_copy(update=changed)}})

    return edit


def each_hung_from(name: str, change: Callable[[Hung], dict[str, Any]]) -> Edit:
    """Everything that hangs from these joists hung otherwise; `change` gives what is new of one way of hanging."""

    def edit(plan: Plan) -> Plan:
        for key, stand in plan.stand.items():
            if stand.hung is not None and stand.hung.joists == name:
                plan = with_hung(key, **change(stand.hung))(plan)
        return plan

    return edit


def with_build(key: str, change: Callable[[Box], Box]) -> Edit:
    """The box of that name built otherwise, in the list of boxes and where it stands in its run."""

    def rebuilt(part: Element, box: Box) -> Element:
        if not isinstance(part, BuiltBox) or part.box != key:
            return part
        kept = {name: getattr(part, name) for name in type(part).model_fields if name not in ("build", "solved")}
        return BuiltBox.model_construct(**kept, build=box)

    def edit(plan: Plan) -> Plan:
        box = change(plan.box[key])
        plan = plan.model_copy(update={"box": {**plan.box, key: box}})
        for name, run in plan.run.items():
            if any(isinstance(part, BuiltBox) and part.box == key for part in run.parts):
                plan = with_parts(plan, name, (rebuilt(part, box) for part in run.parts))
        return plan

    return edit


def with_damper_away(run: str) -> Edit:
    """A damper at the grille of a run taken to its other end, fully as it is turned."""

    def edit(plan: Plan) -> Plan:
        parts = list(plan.run[run].parts)
        at = next(index for index, part in enumerate(parts) if isinstance(part, Damper))
        damper = parts.pop(at)
        far = 1 if at > len(parts) / 2 and parts and parts[0].terminal else 0
        far = far if at > len(parts) / 2 else len(parts) - parts[-1].terminal
        return with_parts(plan, run, (*parts[:far], damper, *parts[far:]))

    return edit


def with_make_up(outdoors: str, place: str, like: str, length: float) -> Edit:
    """A bare duct from outdoors to a place, of the size of another run."""

    def edit(plan: Plan) -> Plan:
        size = plan.run[like].size
        ends = OpenEnd.model_construct(kind="open end", size=size)
        duct = MetalDuct.model_construct(kind="metal duct", length=length, size=size)
        made = Run.model_construct(start=outdoors, end=place, size=size, parts=(ends, duct, ends))
        return plan.model_copy(update={"run": {**plan.run, "make-up": made}})

    return edit
