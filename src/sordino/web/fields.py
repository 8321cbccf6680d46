"""What can be typed of one thing of the project: every value that its table states, and a box's usual others."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

import tomlkit

from sordino.elements.box import Box, Fill
from sordino.errors import Refusal
from sordino.plan.lines import Path
from sordino.quantities import Statement
from sordino.units import System, show
from sordino.web.edit import MISSING, value_at

KINDS = ("room", "box", "mover", "run", "mode", "space", "shell", "junction", "stand", "opening", "joists", "appliance")
"""Tables of the project whose things have a page."""
TITLES = {
    **{"room": "Room", "box": "Box", "mover": "Fan or unit", "run": "Way of the air", "mode": "Way of running"},
    **{"space": "Space around", "shell": "Wall, ceiling or floor", "junction": "Branch", "stand": "Where it stands"},
    **{"opening": "Way in", "joists": "Joists", "appliance": "What burns fuel"},
}
UNSAID = (("passes",), ("lining",), ("divider",), ("fill", "density"), ("fill", "facing"))
"""Of a box, fields that are offered even where the file leaves them out."""
PER_PART = {"parts": "part", "shell": "layer", "layers": "layer", "dividers": "divider", "linings": "lining"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """One thing to type or choose."""

    path: Path
    label: str
    value: str
    hint: str = ""
    default: str = ""
    options: tuple[str, ...] = ()
    problem: str = ""

    @property
    def key(self) -> str:
        """The path as a form sends it."""
        return json.dumps(self.path)

    @property
    def id(self) -> str:
        """A name for it in the page."""
        return "f-" + "-".join("".join(c if c.isalnum() else "_" for c in str(step)) for step in self.path)


def fields(data: dict[str, Any], kind: str, key: str, units: System) -> tuple[Field, ...]:
    """The fields of one thing, in the order in which its table has them."""
    table = value_at(data, (kind, key))
    if not isinstance(table, dict):
        return ()
    written = tuple(_fields(table, (kind, key), ""))
    return (*written, *_unsaid(table, key, units)) if kind == "box" else written


def path_of(text: str) -> Path:
    """The path that a form sent; a Refusal if it is none."""
    try:
        steps = json.loads(text)
    except (ValueError, RecursionError):
        steps = None
    if not isinstance(steps, list) or not steps or not all(type(step) in (str, int) for step in steps):
        raise Refusal("this is no place in a project", "load the page again")
    return tuple(steps)


def typed(text: str, before: Any) -> Any:
    """What was typed, as the kind of value that stood there before; None for nothing at all."""
    text = text.strip()
    if not text:
        return None
    if isinstance(before, str):
        return text
    try:
        value = tomllib.loads(f"x = {text}")["x"]
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        value = MISSING
    if before is MISSING or before is None:
        return value if type(value) is int else text
    if value is MISSING and not isinstance(before, list | dict):
        return text
    if value is MISSING:
        raise Refusal(f"this can't be read as what stood there: {text[:40]}", f"write it as {literal(before)[:60]}")
    return value


def literal(value: Any) -> str:
    """A value as a project file has it, on one line."""
    item = tomlkit.item(value)
    return " ".join(item.as_string().split()) if not isinstance(value, dict) else json.dumps(value, ensure_ascii=False)


def _fields(table: dict[str, Any], at: Path, lead: str) -> Iterator[Field]:
    for name, value in table.items():
        path, label = (*at, name), f"{lead}{str(name).replace('_', ' ')}"
        if isinstance(value, dict):
            yield from _fields(value, path, f"{label}: ")
        elif isinstance(value, list) and value and all(isinstance(inner, dict) for inner in value):
            for index, inner in enumerate(value):
                word = PER_PART.get(str(name), str(name))
                what = inner.get("name") or inner.get("is") or inner.get("board") or ""
                yield from _fields(inner, (*path, index), f"{word} {index + 1}{f', {what}' if what else ''}: ")
        else:
            yield _field(path, label, value)


def _field(path: Path, label: str, value: Any) -> Field:
    text = value if isinstance(value, str) else literal(value)
    of = _box_field(path)
    options = _options(of) if of is not None else ("true", "false") if isinstance(value, bool) else ()
    return Field(path=path, label=label, value=text, hint=_hint(of), options=options)


def _box_field(path: Path) -> Any:
    if len(path) < 3 or path[0] != "box":
        return None
    model: type[Statement] = Box
    if path[2] == "fill" and len(path) == 4:
        model = Fill
    elif len(path) != 3:
        return None
    return model.model_fields.get(str(path[-1]))


def _hint(of: Any) -> str:
    return str(of.description or "") if of is not None else ""


def _options(of: Any) -> tuple[str, ...]:
    if get_origin(of.annotation) is Literal:
        return tuple(str(each) for each in get_args(of.annotation))
    return ()


def _unsaid(table: dict[str, Any], key: str, units: System) -> Iterator[Field]:
    for steps in UNSAID:
        if value_at(table, steps) is MISSING:
            path: Path = ("box", key, *steps)
            of = _box_field(path)
            default = Box.model_fields["fill"].default if len(steps) == 2 else Box
            value = getattr(default, steps[-1]) if len(steps) == 2 else of.default
            kind = "density" if steps[-1] == "density" else "length"
            said = show(value, kind, units) if isinstance(value, float) else str(value)
            label = ": ".join(steps)
            yield Field(path=path, label=label, value="", default=said, hint=_hint(of), options=_options(of))
