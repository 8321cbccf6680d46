"""What can be typed of one thing of the project: every value that its table states, and a box's usual others."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sordino.errors import Refusal
from sordino.plan.lines import Path
from sordino.units import System
from sordino.web.project import written
from sordino.web.project.edit import MISSING, value_at
from sordino.web.project.written import literal
from sordino.web.views.stated import NO, YES, Stated, stated

KINDS = ("room", "box", "mover", "run", "mode", "space", "shell", "junction", "stand", "opening", "joists", "appliance")
"""Tables of the project whose things have a page."""
TITLES = {
    **{"room": "Room", "box": "Box", "mover": "Fan or unit", "run": "Way of the air", "mode": "Way of running"},
    **{"space": "Space around", "shell": "Wall, ceiling or floor", "junction": "Branch", "stand": "Where it stands"},
    **{"opening": "Way in", "joists": "Joists", "appliance": "What burns fuel"},
}
UNSAID = (("passes",), ("lining",), ("divider",), ("fill", "density"), ("fill", "facing"))
"""Of a box, fields that are offered even where the file leaves them out."""
LABELS = {"is": "kind"}
"""Keys that say little by themselves."""
POINTS = "; a comma within a point, a semicolon after it"
_IN_FILE = re.compile(r",? as \[\[.*\]\]")
"""How the file itself would have a list, which a field does not ask for."""
PER_PART = {
    "patches": "patch",
    "gaps": "gap",
    "ties": "tie",
    "parts": "part",
    "shell": "layer",
    "layers": "layer",
    "dividers": "divider",
    "linings": "lining",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """One thing to type or choose."""

    path: Path
    label: str
    value: str
    hint: str = ""
    default: str = ""
    options: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    """What may be typed, where a table has names for it."""
    problem: str = ""

    @property
    def key(self) -> str:
        """The path as a form sends it."""
        return json.dumps(self.path)

    def said(self, option: str) -> str:
        """An option as people say it."""
        return {YES: "yes", NO: "no"}.get(option, option)

    @property
    def id(self) -> str:
        """A name for it in the page."""
        return "f-" + "-".join("".join(c if c.isalnum() else "_" for c in str(step)) for step in self.path)


def fields(data: dict[str, Any], kind: str, key: str, units: System) -> tuple[Field, ...]:
    """The fields of one thing, in the order in which its table has them."""
    table = value_at(data, (kind, key))
    if not isinstance(table, dict):
        return ()
    said = tuple(_fields(table, (kind, key), "", data))
    return (*said, *_unsaid(table, key, units, data)) if kind == "box" else said


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
    value = _read(text)
    if before is MISSING or before is None:
        return value if type(value) is int else text
    if value is MISSING and isinstance(before, list) and (rows := _rows(before)):
        return _listed(text, rows)
    if value is MISSING and not isinstance(before, list | dict):
        return text
    if value is MISSING:
        raise Refusal(f"this can't be read as what stood there: {text[:40]}", f"write it as {literal(before)[:60]}")
    return value


def _read(text: str) -> Any:
    """A text as a project file would have it; MISSING if it could not."""
    try:
        return tomllib.loads(f"x = {text}")["x"]
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        return MISSING


def _rows(value: list[Any]) -> tuple[list[Any], ...]:
    """A list as rows of plain values, one row unless it is a list of lists; none if it can't be told with commas."""
    rows = tuple(value) if value and all(isinstance(row, list) for row in value) else (value,)
    cells = [cell for row in rows for cell in row]
    plain = all(isinstance(cell, int | float) or (isinstance(cell, str) and _bare(cell)) for cell in cells)
    return rows if cells and plain else ()


def _bare(text: str) -> bool:
    return bool(text.strip()) and text == text.strip() and not any(sign in text for sign in ",;[]\"'")


def _listed(text: str, before: tuple[list[Any], ...]) -> Any:
    """Values between commas, rows between semicolons; texts where texts stood."""
    texts = isinstance(before[0][0], str)
    rows = [[_cell(cell.strip(), texts) for cell in row.split(",")] for row in text.split(";")]
    if len(before) > 1 or len(rows) > 1:
        return rows
    alone = len(rows[0]) == 1 and not texts and isinstance(rows[0][0], str)
    return text if alone else rows[0]


def _cell(text: str, is_text: bool) -> Any:
    value = _read(text)
    return text if is_text or type(value) not in (int, float) else value


def plain(value: Any) -> str:
    """A value as a field shows it: lists with commas, points with semicolons."""
    if isinstance(value, str):
        return value
    if isinstance(value, list) and (rows := _rows(value)):
        return "; ".join(", ".join(cell if isinstance(cell, str) else literal(cell) for cell in row) for row in rows)
    return literal(value)


def _fields(table: dict[str, Any], at: Path, lead: str, data: dict[str, Any]) -> Iterator[Field]:
    for name, value in table.items():
        path, label = (*at, name), f"{lead}{LABELS.get(str(name), str(name).replace('_', ' '))}"
        if isinstance(value, dict):
            yield from _fields(value, path, f"{label}: ", data)
        elif isinstance(value, list) and value and all(isinstance(inner, dict) for inner in value):
            for index, inner in enumerate(value):
                word = PER_PART.get(str(name), str(name))
                what = inner.get("name") or inner.get("is") or inner.get("board") or ""
                yield from _fields(inner, (*path, index), f"{word} {index + 1}{f', {what}' if what else ''}: ", data)
        else:
            yield _field(path, label, plain(value), stated(data, path))


def _field(path: Path, label: str, value: str, of: Stated, default: str = "") -> Field:
    hint = _IN_FILE.sub("", of.help) + (POINTS if ";" in value else "")
    return Field(path=path, label=label, value=value, hint=hint, default=default, options=of.options, names=of.names)


def _default(value: Any, kind: str, units: System) -> str:
    """What stands if nothing is stated, as a reader says it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and kind:
        return written.length(value, units) if kind == "length" else written.exactly(value, kind, units, figures=2)
    return "" if value is None else str(value)


def _unsaid(table: dict[str, Any], key: str, units: System, data: dict[str, Any]) -> Iterator[Field]:
    for steps in UNSAID:
        if value_at(table, steps) is MISSING:
            path: Path = ("box", key, *steps)
            of = stated(data, path)
            default = _default(of.default, "density" if steps[-1] == "density" else "length", units)
            yield _field(path, ": ".join(steps), "", of, default)
