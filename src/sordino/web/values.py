"""What a changed box, run, mover or shell is written as: plain values by their place in the project."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from sordino.elements.box import Box
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.plan.fitting import bare_start
from sordino.plan.lines import Path
from sordino.plan.statement import Plan
from sordino.quantities import Size
from sordino.units import System, show
from sordino.web.written import exactly

KINDS = {
    **{"density": "density", "flow_resistivity": "flow resistivity", "core": "surface mass", "mass": "surface mass"},
    **{"angle": "angle", "damping": "", "pull": "", "radius_ratio": "", "merv": ""},
}
"""Kinds of the numbers that are no length, by the name of their field; no kind is a bare number."""
FITTED = ("size", "within", "name", "solved", "build", "share")
"""Fields of a part that the plan fills in."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Insert:
    """A part put before another in a run."""

    path: Path
    value: dict[str, Any]


def plain(name: str, value: Any, units: System) -> Any:
    """One value as it is written."""
    if isinstance(value, Size):
        return value.shown(units)
    if isinstance(value, BaseModel):
        return table(value, units)
    if isinstance(value, tuple | list):
        return [plain(name, each, units) for each in value]
    if isinstance(value, dict):
        return {key: plain(name, each, units) for key, each in value.items()}
    if isinstance(value, float):
        kind = KINDS.get(name, "length")
        return value if not kind else show(value, "length", units) if kind == "length" else exactly(value, kind, units)
    return value


def table(model: BaseModel, units: System) -> dict[str, Any]:
    """A statement as a table that holds what is not left to its defaults."""
    found = {}
    for name, of in type(model).model_fields.items():
        value = getattr(model, name, None)
        if name not in FITTED and value is not None and (of.is_required() or value != of.default):
            found[of.alias or name] = plain(name, value, units)
    return found


def box_values(key: str, before: Box, after: Box, units: System) -> dict[Path, Any]:
    """What must be written for one box to become another; None leaves a key out."""
    found: dict[Path, Any] = {}
    for name in Box.model_fields:
        old, new = getattr(before, name), getattr(after, name)
        if old == new:
            continue
        if isinstance(new, BaseModel) and isinstance(old, BaseModel):
            for inner in type(new).model_fields:
                if getattr(old, inner) != getattr(new, inner):
                    value = getattr(new, inner)
                    found["box", key, name, inner] = None if value is None else plain(inner, value, units)
        else:
            found["box", key, name] = None if new is None or new == () else plain(name, new, units)
    return found


def plan_values(before: Plan, after: Plan, data: dict[str, Any]) -> Iterator[tuple[Path, Any] | Insert]:
    """What must be written for one fitted plan to become another, as the changes that are tried make it."""
    for key, run in after.run.items():
        if run is not before.run[key]:
            yield from _run(key, before, after, data)
    for key, mode in after.mode.items():
        for mover, speed in mode.speeds.items():
            if before.mode[key].speeds.get(mover) != speed:
                yield ("mode", key, "speeds", mover), f"{100.0 * speed:.3g} %"
    for key, machine in after.mover.items():
        if machine is not before.mover[key]:
            yield ("mover", key, "sound"), _sound(machine.sound)
    for key, shell in after.shell.items():
        if shell is not before.shell[key]:
            yield from _shell(key, before, after)


def new_boxes(before: Plan, after: Plan) -> dict[str, dict[str, Any]]:
    """Tables of the boxes that only the later plan has."""
    return {key: table(box, after.units) for key, box in after.box.items() if key not in before.box}


def _run(key: str, before: Plan, after: Plan, data: dict[str, Any]) -> Iterator[tuple[Path, Any] | Insert]:
    old, new, units = before.run[key], after.run[key], after.units
    if old.size != new.size:
        yield ("run", key, "size"), new.size.shown(units)
    lead = 1 if bare_start(before, _as_written(data, key, old)) else 0
    written = data["run"][key].get("parts", [])
    if len(new.parts) > len(old.parts):
        at = next((i for i, part in enumerate(old.parts) if part is not new.parts[i]), len(old.parts))
        yield Insert(path=("run", key, "parts", at - lead), value=_part(new.parts[at], units))
        return
    for place, (one, other) in enumerate(zip(old.parts, new.parts, strict=True)):
        index = place - lead
        if one is not other and 0 <= index < len(written):
            yield from _changed_part(("run", key, "parts", index), one, other, written[index], units)


def _as_written(data: dict[str, Any], key: str, fitted: Any) -> Any:
    """The run without the open ends that the plan made explicit."""
    count = len(data["run"][key].get("parts", []))
    first = fitted.parts[0] if fitted.parts else None
    skip = 1 if first is not None and getattr(first, "kind", "") == "open end" and len(fitted.parts) > count else 0
    return fitted.model_copy(update={"parts": fitted.parts[skip : skip + count]})


def _changed_part(
    at: Path, one: Element, other: Element, written: dict[str, Any], units: System
) -> Iterator[tuple[Path, Any]]:
    if type(one) is not type(other):
        kept = {"name": written["name"]} if "name" in written else {}
        yield at, _part(other, units) | kept
        return
    for name, of in type(other).model_fields.items():
        old, new = getattr(one, name), getattr(other, name)
        if name == "size" and "size" in written and old != new:
            yield (*at, "size"), new.shown(units)
        if name not in FITTED and old != new:
            yield (*at, of.alias or name), plain(name, new, units)


def _part(part: Element, units: System) -> dict[str, Any]:
    if isinstance(part, BuiltBox):
        return {"is": "lined box", "box": part.box}
    found = table(part, units)
    return {"is": str(getattr(part, "kind", ""))} | {name: value for name, value in found.items() if name != "is"}


def _sound(sound: Any) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, of in type(sound).model_fields.items():
        value = getattr(sound, name)
        if value is None:
            continue
        if isinstance(value, tuple):
            found[of.alias or name] = [round(level, 1) for level in value if level == level]
        else:
            found[name] = f"{value:g} dBA" if name == "rated" else show(value, "length", "metric")
    return found


def _shell(key: str, before: Plan, after: Plan) -> Iterator[tuple[Path, Any]]:
    old, new = before.shell[key], after.shell[key]
    if old.gaps and not new.gaps:
        yield ("shell", key, "gaps"), None
    if new.loss is not None and new.loss != old.loss:
        yield ("shell", key, "layers"), None
        yield ("shell", key, "loss"), [round(band, 1) for band in new.loss if band == band]
