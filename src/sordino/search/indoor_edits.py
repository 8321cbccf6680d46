"""Changes against stale air, heat and moisture: wraps, retarders, faster movers, units that cool or bring air."""

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
"""Pressure of a small unit without flow, Pa; it moves what it is chosen for against half of that."""
SLACK = 1.1
"""What it moves against nothing, as a share of that."""


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
    """All movers at a speed in a mode; what is faster stays as it is."""

    def edit(plan: Plan) -> Plan:
        speeds = {name: max(plan.mode[mode].speeds.get(name, 1.0), speed) for name in plan.mover}
        setting = plan.mode[mode].model_copy(update={"speeds": speeds})
        return plan.model_copy(update={"mode": {**plan.mode, mode: setting}})

    return edit


def without_gear(room: str) -> Edit:
    """The room's gear somewhere else."""
    return lambda plan: _with_room(plan, room, {"gear": 0.0})


def _with_room(plan: Plan, room: str, update: dict[str, object]) -> Plan:
    return plan.model_copy(update={"room": {**plan.room, room: plan.room[room].model_copy(update=update)}})


def _with_mover(name: str, update: dict[str, object]) -> Edit:
    return lambda plan: plan.model_copy(
        update={"mover": {**plan.mover, name: plan.mover[name].model_copy(update=update)}}
    )


def with_moisture_recovery(name: str, share: float) -> Edit:
    """A heat-recovery unit that hands on a share of the moisture."""
    return _with_mover(name, {"moisture_recovery": share})


def with_cooling(name: str, power: float) -> Edit:
    """A ducted unit that can take a heat away, sensible and latent, W."""
    return _with_mover(name, {"cooling": power})


def fresh_duct(flow: float) -> float:
    """Diameter of a round duct that carries a flow in m3/s slowly, in whole 25 mm, m."""
    return 0.025 * ceil(sqrt(4.0 * flow / SLOW / pi) / 0.025)


def with_fresh_air_unit(room: str, flow: float) -> Edit:
    """A heat-recovery unit of this flow in m3/s, joined to the room and to outdoors by short metal duct."""

    def edit(plan: Plan) -> Plan:
        key, place = f"new-fresh-{room}", _outdoors(plan, room)
        ways = (
            (place, f"{key}.outdoor"),
            (f"{key}.supply", room),
            (room, f"{key}.extract"),
            (f"{key}.exhaust", place),
        )
        return _with_machine(plan, key, "heat-recovery unit", place, flow, ways)

    return edit


def with_cooler(room: str, flow: float) -> Edit:
    """A unit that cools and recirculates this flow in m3/s, joined to the room by short metal duct."""

    def edit(plan: Plan) -> Plan:
        key, place = f"new-cooler-{room}", _outdoors(plan, room)
        return _with_machine(plan, key, "ducted unit", place, flow, ((f"{key}.supply", room), (room, f"{key}.return")))

    return edit


def taken_from_outdoors(room: str, place: str) -> Edit:
    """Every run that begins in a place begins outdoors instead."""

    def edit(plan: Plan) -> Plan:
        key = _outdoors(plan, room)
        run = {
            name: each.model_copy(update={"start": key}) if each.start == place else each
            for name, each in plan.run.items()
        }
        return _with_space(plan, key).model_copy(update={"run": run})

    return edit


def _with_space(plan: Plan, place: str) -> Plan:
    if place in plan.space:
        return plan
    return plan.model_copy(update={"space": {**plan.space, place: Space.model_validate({"is": "outside"})}})


def _outdoors(plan: Plan, room: str) -> str:
    return next((name for name, space in plan.space.items() if space.kind == "outside"), f"new-outside-{room}")


def _with_machine(plan: Plan, key: str, kind: str, place: str, flow: float, ways: tuple[tuple[str, str], ...]) -> Plan:
    litres = 1e3 * flow
    mover = Mover.model_validate(
        {
            "is": kind,
            "in": place,
            "curve": [
                ["0 L/s", f"{PUSH} Pa"],
                [f"{litres:.3f} L/s", f"{PUSH / 2.0} Pa"],
                [f"{SLACK * litres:.3f} L/s", "0 Pa"],
            ],
            "sound": {"rated": "30 dBA"},
        }
    )
    runs = {f"{key}-{index}": _short(one, other, fresh_duct(flow)) for index, (one, other) in enumerate(ways)}
    wider = _with_space(plan, place).model_copy(update={"mover": {**plan.mover, key: mover}})
    new = fitted(wider.model_copy(update={"run": runs})).run
    return wider.model_copy(update={"run": {**plan.run, **new}})


def _short(start: str, end: str, diameter: float) -> Run:
    return Run.model_validate(
        {
            "from": start,
            "to": end,
            "size": f"{1e3 * diameter:.0f} mm",
            "parts": [{"is": "metal duct", "length": "3 m"}],
        }
    )
