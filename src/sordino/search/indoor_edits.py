"""Changes against stale air, heat and moisture: wraps, retarders, faster movers, a unit that brings fresh air."""

from __future__ import annotations

from math import ceil, pi, sqrt

from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.elements.wrap import Wrap
from sordino.plan.fitting import fitted
from sordino.plan.mover import Mover
from sordino.plan.room import Space
from sordino.plan.run import Run
from sordino.plan.statement import Plan
from sordino.search.edits import Edit, with_parts

SLOW = 2.0
"""Air speed that a duct for fresh air is sized for, m/s."""
PUSH = 150.0
"""Pressure of a small heat-recovery unit without flow, Pa; it moves half its free flow against half of it."""


def with_wrap(subject: str, wrap: Wrap) -> Edit:
    """Another wrap round a box, or round every duct of a run."""

    def edit(plan: Plan) -> Plan:
        for name, run in plan.run.items():
            parts = [_wrapped(part, subject, name == subject, wrap) for part in run.parts]
            if any(new is not old for new, old in zip(parts, run.parts, strict=True)):
                plan = with_parts(plan, name, parts)
        if subject not in plan.box:
            return plan
        return plan.model_copy(
            update={"box": {**plan.box, subject: plan.box[subject].model_copy(update={"wrap": wrap})}}
        )

    return edit


def _wrapped(part: Element, subject: str, whole_run: bool, wrap: Wrap) -> Element:
    if isinstance(part, BuiltBox):
        if part.box != subject:
            return part
        return part.model_copy(update={"build": part.build.model_copy(update={"wrap": wrap})})
    return part.model_copy(update={"wrap": wrap}) if whole_run and hasattr(part, "wrap") else part


def with_everything_at(mode: str, speed: float) -> Edit:
    """All movers at one speed in a mode."""

    def edit(plan: Plan) -> Plan:
        setting = plan.mode[mode].model_copy(update={"speeds": dict.fromkeys(plan.mover, speed)})
        return plan.model_copy(update={"mode": {**plan.mode, mode: setting}})

    return edit


def without_gear(room: str) -> Edit:
    """The room's gear somewhere else."""
    return lambda plan: _with_room(plan, room, {"gear": 0.0})


def _with_room(plan: Plan, room: str, update: dict[str, object]) -> Plan:
    return plan.model_copy(update={"room": {**plan.room, room: plan.room[room].model_copy(update=update)}})


def fresh_duct(flow: float) -> float:
    """Diameter of a round duct that carries a flow in m3/s slowly, in whole 25 mm, m."""
    return 0.025 * ceil(sqrt(4.0 * flow / SLOW / pi) / 0.025)


def with_fresh_air_unit(room: str, flow: float) -> Edit:
    """A heat-recovery unit of twice the flow at no pressure, joined to the room and to outdoors by short metal duct."""

    def edit(plan: Plan) -> Plan:
        key = f"new-fresh-{room}"
        place = next((name for name, space in plan.space.items() if space.kind == "outside"), f"new-outside-{room}")
        space = plan.space if place in plan.space else {**plan.space, place: Space.model_validate({"is": "outside"})}
        litres = 2e3 * flow
        mover = Mover.model_validate(
            {
                "is": "heat-recovery unit",
                "in": place,
                "curve": [["0 L/s", f"{PUSH} Pa"], [f"{litres:.3f} L/s", "0 Pa"]],
                "sound": {"rated": "30 dBA"},
            }
        )
        ways = (
            (place, f"{key}.outdoor"),
            (f"{key}.supply", room),
            (room, f"{key}.extract"),
            (f"{key}.exhaust", place),
        )
        runs = {f"{key}-{index}": _short(one, other, fresh_duct(flow)) for index, (one, other) in enumerate(ways)}
        wider = plan.model_copy(update={"space": space, "mover": {**plan.mover, key: mover}})
        new = fitted(wider.model_copy(update={"run": runs})).run
        return wider.model_copy(update={"run": {**plan.run, **new}})

    return edit


def _short(start: str, end: str, diameter: float) -> Run:
    return Run.model_validate(
        {
            "from": start,
            "to": end,
            "size": f"{1e3 * diameter:.0f} mm",
            "parts": [{"is": "metal duct", "length": "3 m"}],
        }
    )
