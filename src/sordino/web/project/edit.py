"""Changes to the text of a project that leave every other character of it as it was."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

import tomlkit
from tomlkit.container import Container, OutOfOrderTableProxy
from tomlkit.items import AbstractTable, InlineTable, Item, Key, Table

from sordino.plan.lines import Path
from sordino.web.project.hand import Hand, hand_of

MISSING = object()


_ready: dict[str, tomlkit.TOMLDocument] = {}


def make_ready(text: str) -> None:
    """Read a text ahead, so that its next change is made at once; it is used up by that."""
    if text not in _ready:
        read = tomlkit.parse(text)
        _ready.clear()
        _ready[text] = read


class NoPlace(LookupError):
    """A path that leads nowhere in the project."""


def with_value(text: str, path: Path, value: Any) -> str:
    """The text with a value at a path; tables on the way are made if they are not there."""
    document = _ready.pop(text, None) or tomlkit.parse(text)
    holder: Any = document
    for depth, step in enumerate(path[:-1]):
        if isinstance(holder, Mapping) and isinstance(step, str) and step not in holder:
            path, value = path[: depth + 1], _nested(path[depth + 1 :], value)
            break
        holder = _inside(holder, step)
    _set(document, path, holder, value, hand_of(text))
    return tomlkit.dumps(document)


def _nested(path: Path, value: Any) -> Any:
    for step in reversed(path):
        if not isinstance(step, str):
            raise NoPlace(f"there is no number {step!r}: there is no list yet")
        value = {step: value}
    return value


def with_values(text: str, changes: Mapping[Path, Any]) -> str:
    """The text with several values, in that order."""
    for path, value in changes.items():
        text = without(text, path) if value is None else with_value(text, path, value)
    return text


def without(text: str, path: Path) -> str:
    """The text without the value at a path; as it was if nothing stands there."""
    document = tomlkit.parse(text)
    holder: Any = document
    try:
        for step in path[:-1]:
            holder = _inside(holder, step)
        del holder[path[-1]]
    except (KeyError, IndexError, TypeError, NoPlace):
        return text
    return tomlkit.dumps(document)


def value_at(data: Any, path: Path) -> Any:
    """The value at a path of what was read; MISSING if there is none."""
    for step in path:
        if isinstance(data, dict) and step in data:
            data = data[step]
        elif isinstance(data, list) and isinstance(step, int) and 0 <= step < len(data):
            data = data[step]
        else:
            return MISSING
    return data


def _inside(holder: Any, step: str | int) -> Any:
    if isinstance(holder, list):
        if isinstance(step, int) and 0 <= step < len(holder):
            return holder[step]
        raise NoPlace(f"there is no number {step!r} in this list")
    if not isinstance(holder, Mapping) or not isinstance(step, str):
        raise NoPlace(f"there is no {step!r} inside of this")
    if step not in holder:
        raise NoPlace(f"there is no {step!r}")
    return holder[step]


def _set(document: Any, path: Path, holder: Any, value: Any, hand: Hand) -> None:
    key = path[-1]
    if isinstance(holder, list):
        if not (isinstance(key, int) and 0 <= key < len(holder)):
            raise NoPlace(f"there is no number {key!r} in this list")
        holder[key] = hand.instead(holder[key], value)
    elif not isinstance(holder, Mapping) or not isinstance(key, str):
        raise NoPlace(f"there is no {key!r} inside of this")
    elif key in holder:
        cast(Any, holder)[key] = hand.instead(holder[key], value)
    elif isinstance(holder, InlineTable):
        above: Any = document
        for step in path[:-2]:
            above = _inside(above, step)
        above[path[-2]] = hand.grown(holder, key, value)
    else:
        _append(holder, str(key), hand.item(value))


def _append(holder: Any, key: str, item: Item) -> None:
    """A new key right after the last one, before the comments that lead over to the next table."""
    if isinstance(holder, OutOfOrderTableProxy):
        holder[key] = item
        return
    body: Container = holder.value if isinstance(holder, AbstractTable) else holder
    last = _last_plain_key(body)
    if last is None:
        holder[key] = item
    else:
        body._insert_after(last, key, item)  # the one way that does not append behind trailing comments


def _last_plain_key(body: Container) -> Key | None:
    """The last key that is not a table with a header of its own."""
    found = [key for key, item in body.body if key is not None and not _headed(item)]
    return found[-1] if found else None


def _headed(item: Any) -> bool:
    return isinstance(item, Table) or type(item).__name__ == "AoT"


def appended(text: str, key: Path, table: Mapping[str, Any]) -> str:
    """The text with a new table under its own header at the end, one key a line."""
    hand = hand_of(text)
    lines = ["", f"[{'.'.join(str(step) for step in key)}]"]
    lines += [f"{name} = {hand.written(value)}" for name, value in table.items()]
    return text.rstrip("\r\n") + hand.end + hand.end.join(lines) + hand.end


def inserted(text: str, path: Path, value: Any) -> str:
    """The text with an entry put into a list before the one at a path."""
    document = tomlkit.parse(text)
    holder: Any = document
    for step in path[:-1]:
        holder = _inside(holder, step)
    if not isinstance(holder, list) or not isinstance(path[-1], int):
        raise NoPlace("this is no list")
    holder.insert(path[-1], hand_of(text).item(value))
    return tomlkit.dumps(document)
