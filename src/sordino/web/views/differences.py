"""What must be written for one fitted plan to become another, step by step, and whether that gives the same plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, is_dataclass
from difflib import SequenceMatcher
from math import isclose, isnan
from typing import Any

from pydantic import BaseModel

from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.errors import PlanError
from sordino.plan.fitting import bare_start
from sordino.plan.lines import Path
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.plan.run import Run
from sordino.plan.statement import Plan
from sordino.units import System
from sordino.web.project import edit
from sordino.web.project.values import FITTED, changed_values, plain, table, type_of
from sordino.web.solved.work import Looked

TABLES = ("room", "space", "mover", "box", "junction", "stand", "opening", "joists", "appliance")
"""What is written field by field; runs, shells and modes have ways of their own."""
NUMBERED = ("solved", "share", "build", "name")
"""Fields of a part that follow from others, or from where it stands."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Insert:
    """A part put before another in a run."""

    path: Path
    value: dict[str, Any]


@dataclass(frozen=True, kw_only=True, slots=True)
class Added:
    """A table that was not there."""

    path: Path
    value: dict[str, Any]


Step = tuple[Path, Any] | Insert | Added


def rewritten(text: str, looked: Looked, after: Plan) -> str | None:
    """The text of the project changed so that it gives another plan; None if that can't be written, or is no other."""
    try:
        for step in steps(looked.found.plan, after, looked.source.data):
            text = _done(text, step)
        made = plan_of(parsed(text, "project"))
    except (edit.NoPlace, PlanError):
        return None
    return text if text != looked.source.text and _alike(made, after) else None


def _done(text: str, step: Step) -> str:
    if isinstance(step, Insert):
        return edit.inserted(text, step.path, step.value)
    if isinstance(step, Added):
        return edit.appended(text, step.path, step.value)
    path, value = step
    return edit.without(text, path) if value is None else edit.with_value(text, path, value)


def steps(before: Plan, after: Plan, data: dict[str, Any]) -> Iterator[Step]:
    """One after the other."""
    for key, run in after.run.items():
        if key not in before.run:
            yield Added(path=("run", key), value=_new_run(run, after.units))
        elif run is not before.run[key]:
            yield from _run(key, before, after, data)
    for key, mode in after.mode.items():
        for mover, speed in mode.speeds.items():
            if before.mode[key].speeds.get(mover) != speed:
                yield ("mode", key, "speeds", mover), f"{100.0 * speed:.3g} %"
    for key, shell in after.shell.items():
        if shell is not before.shell[key]:
            yield from _shell(key, before, after)
    for kind in TABLES:
        yield from _tables(kind, before, after, data)


def _tables(kind: str, before: Plan, after: Plan, data: dict[str, Any]) -> Iterator[Step]:
    was, units = getattr(before, kind), after.units
    for key, one in getattr(after, kind).items():
        if key not in was:
            yield Added(path=(kind, key), value=table(one, units))
        elif one is not was[key]:
            yield from changed_values((kind, key), was[key], one, data, units, but=("sound",))
            if kind == "mover" and one.sound != was[key].sound:
                yield (kind, key, "sound"), _sound(one.sound)


def _new_run(run: Run, units: System) -> dict[str, Any]:
    parts = [_part(part, units) for part in run.parts if getattr(part, "kind", "") != "open end"]
    lies = {} if run.within is None else {"in": run.within}
    return {"from": run.start, "to": run.end, "size": run.size.shown(units), **lies, "parts": parts}


def _run(key: str, before: Plan, after: Plan, data: dict[str, Any]) -> Iterator[Step]:
    old, new = before.run[key], after.run[key]
    yield from changed_values(("run", key), old, new, data, after.units, but=("parts",))
    written = data["run"][key].get("parts", [])
    lead = 1 if bare_start(before, _as_written(data, key, old)) else 0
    at: Path = ("run", key, "parts")
    ways = SequenceMatcher(None, _names(old), _names(new), autojunk=False).get_opcodes()
    for what, start, end, first, last in reversed(ways):  # the last first, so that the places of the others hold
        if what == "equal":
            continue
        kept = min(end - start, last - first)
        yield from (((*at, place - lead), None) for place in range(end - 1, start + kept - 1, -1))
        for part in reversed(new.parts[first + kept : last]):
            yield Insert(path=(*at, min(start + kept - lead, len(written))), value=_part(part, after.units))
        for place, index in zip(range(start, start + kept), range(first, first + kept), strict=True):
            if 0 <= place - lead < len(written):
                yield from _changed_part((*at, place - lead), old.parts[place], new.parts[index], data, after.units)


def _names(run: Run) -> list[Any]:
    """What tells the parts of a run apart: boxes keep their names, other parts are the same or not."""
    return [part.box if isinstance(part, BuiltBox) else id(part) for part in run.parts]


def _as_written(data: dict[str, Any], key: str, fitted: Run) -> Run:
    """The run without the open ends that the plan made explicit."""
    count = len(data["run"][key].get("parts", []))
    first = fitted.parts[0] if fitted.parts else None
    skip = 1 if first is not None and getattr(first, "kind", "") == "open end" and len(fitted.parts) > count else 0
    return fitted.model_copy(update={"parts": fitted.parts[skip : skip + count]})


def _changed_part(at: Path, one: Element, other: Element, data: Any, units: System) -> Iterator[tuple[Path, Any]]:
    written = edit.value_at(data, at)
    if type(one) is not type(other):
        kept = {"name": written["name"]} if "name" in written else {}
        yield at, _part(other, units) | kept
        return
    if "size" in written and one.size != other.size:
        yield (*at, "size"), plain(type_of(type(other).model_fields["size"]), other.size, units)
    yield from changed_values(at, one, other, data, units, but=FITTED)


def _part(part: Element, units: System) -> dict[str, Any]:
    if isinstance(part, BuiltBox):
        return {"is": "lined box", "box": part.box}
    found = table(part, units, but=FITTED)
    return {"is": str(getattr(part, "kind", ""))} | {name: value for name, value in found.items() if name != "is"}


def _sound(sound: Any) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, of in type(sound).model_fields.items():
        value = getattr(sound, name)
        if isinstance(value, tuple):
            found[of.alias or name] = [round(level, 1) for level in value if level == level]
        elif value is not None:
            found[name] = plain(type_of(of), value, "metric")
    return found


def _shell(key: str, before: Plan, after: Plan) -> Iterator[tuple[Path, Any]]:
    old, new = before.shell[key], after.shell[key]
    if old.gaps and not new.gaps:
        yield ("shell", key, "gaps"), None
    if new.loss is not None and new.loss != old.loss:
        yield ("shell", key, "layers"), None
        yield ("shell", key, "loss"), [round(band, 1) for band in new.loss if band == band]


def _alike(one: Any, other: Any) -> bool:
    """Whether two plans or pieces of plans say the same, as far as it is written."""
    if isinstance(one, float) and isinstance(other, int | float):
        return isclose(one, other, rel_tol=5e-3, abs_tol=8e-4) or (isnan(one) and isnan(other))
    if isinstance(one, BaseModel) or is_dataclass(one):
        return type(one) is type(other) and all(
            _alike(getattr(one, name, None), getattr(other, name, None)) for name in _fields(one)
        )
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(_alike, one, other))
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_alike(one[key], other[key]) for key in one)
    return bool(one == other)


def _fields(one: Any) -> list[str]:
    names = type(one).model_fields if isinstance(one, BaseModel) else one.__dataclass_fields__
    return [name for name in names if not (isinstance(one, Element) and name in NUMBERED)]
