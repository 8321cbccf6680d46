"""Variants of a project as its file states them: what differs between two states, and how it is written."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sordino.plan.lines import Path
from sordino.plan.overlay import overlaid
from sordino.web.project import passages
from sordino.web.project.hand import Hand
from sordino.web.project.written import literal

OWN = ("variant", "test", "title", "units")
"""Keys of a project that its variants share."""
KEYED = 2
"""Steps of a path that name one thing, as a box by its name."""
LONGEST = 90
"""Signs of a value that are shown."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Difference:
    """What a variant has to say for one state of a project to become another."""

    change: dict[str, Any]
    cannot: tuple[Path, ...] = ()
    """Values that the other state leaves out: a variant can't say that."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One thing that a variant says."""

    label: str
    before: str
    after: str


def difference(base: Mapping[str, Any], now: Mapping[str, Any]) -> Difference:
    """What differs between two states of a project, by the rules of `plan.overlay`, in as few words as may be."""
    old, new = shared_out(base), shared_out(now)
    cannot: list[Path] = []
    change = _table(old, new, (), cannot)
    made = overlaid(old, change)
    if not cannot and (made.strays or made.data != new):
        cannot = [(key,) for key in new if made.data.get(key) != new[key]] or [()]
    return Difference(change=change, cannot=tuple(cannot))


def shared_out(data: Mapping[str, Any]) -> dict[str, Any]:
    """The project without what its variants share, and without tables that hold nothing."""
    return {key: value for key, value in data.items() if key not in OWN and value != {}}


def _table(old: dict[str, Any], new: dict[str, Any], at: Path, cannot: list[Path]) -> dict[str, Any]:
    change: dict[str, Any] = {}
    for key, value in new.items():
        if key not in old:
            change[key] = value
        elif not same(old[key], value):
            change[key] = _other(old[key], value, (*at, key), cannot)
    for key in old:
        if key not in new:
            change[key] = False
            if not isinstance(old[key], dict):
                cannot.append((*at, key))
    return change


def same(one: Any, other: Any) -> bool:
    """Whether two values are alike, whatever the order of their keys; `true` and 1 are not."""
    return _spelled(one) == _spelled(other)


def _spelled(value: Any) -> str:
    return json.dumps(value, sort_keys=True, default=str)


def _other(old: Any, new: Any, at: Path, cannot: list[Path]) -> Any:
    if isinstance(old, dict) and isinstance(new, dict):
        return _table(old, new, at, cannot)
    if isinstance(old, list) and isinstance(new, list):
        parts = _parts(old, new, at)
        return new if parts is None else parts
    if isinstance(old, list) and isinstance(new, dict):
        cannot.append(at)
    return new


def _parts(old: list[Any], new: list[Any], at: Path) -> dict[str, Any] | None:
    """Changes of single parts of a list; None if it must be stated whole."""
    if not all(isinstance(part, dict) for part in (*old, *new)):
        return None
    if len(old) == len(new):
        changes = {_part_key(old, place): _part(old[place], new[place], at) for place in _unlike(old, new)}
        return None if None in changes.values() else changes
    left = _left_out(old, new)
    return None if left is None else {_part_key(old, place): False for place in left}


def _unlike(old: list[Any], new: list[Any]) -> list[int]:
    return [place for place, (one, other) in enumerate(zip(old, new, strict=True)) if not same(one, other)]


def _part(old: dict[str, Any], new: dict[str, Any], at: Path) -> dict[str, Any] | None:
    if old.get("is") == new.get("is"):
        cannot: list[Path] = []
        change = _table(old, new, at, cannot)
        return None if cannot else change
    if "is" not in new or old.get("name") != new.get("name"):
        return None
    return {key: value for key, value in new.items() if key != "name"}


def _left_out(old: list[Any], new: list[Any]) -> list[int] | None:
    """Places of the parts that are gone, if nothing else is different."""
    left, rest = [], list(new)
    for place, part in enumerate(old):
        if rest and same(part, rest[0]):
            rest.pop(0)
        else:
            left.append(place)
    return None if rest else left


def _part_key(parts: list[Any], place: int) -> str:
    """What a part is called in a variant: its name if no other has it, else its number."""
    names = [part.get("name") for part in parts]
    own = names[place]
    return own if isinstance(own, str) and names.index(own) == place else str(place + 1)


def variant_text(name: str, base: Mapping[str, Any], change: Mapping[str, Any], hand: Hand) -> str:
    """A variant as it is written in the hand of its project: a header for each thing that differs."""
    return "\n\n".join("\n".join(block) for block in _blocks(("variant", name), base, change, hand))


def _blocks(path: tuple[str, ...], base: Any, change: Mapping[str, Any], hand: Hand) -> Iterator[list[str]]:
    own: list[tuple[str, Any, Any]] = []
    inner: list[tuple[str, Any, Any]] = []
    for key, value in change.items():
        under = _under(base, key)
        deep = isinstance(value, dict) and (len(path) < 2 + KEYED or isinstance(under, dict | list))
        (inner if deep else own).append((key, value, under))
    if own or not inner:
        lines = (f"{passages.written_key(key)} = {hand.written(value)}" for key, value, _ in own)
        yield [f"[{'.'.join(map(passages.written_key, path))}]", *lines]
    for key, value, under in inner:
        yield from _blocks((*path, key), under, value, hand)


def _under(base: Any, key: str) -> Any:
    """What of a project a key of a variant speaks of."""
    if isinstance(base, list):
        named = [part for part in base if isinstance(part, dict) and part.get("name") == key]
        place = int(key) - 1 if key.isascii() and key.isdigit() else -1
        return named[0] if named else base[place] if 0 <= place < len(base) else None
    return base.get(key) if isinstance(base, Mapping) else None


def rows(base: Any, change: Mapping[str, Any], at: tuple[str, ...] = ()) -> Iterator[Row]:
    """What a variant says, value by value."""
    for key, value in change.items():
        under, path = _under(base, key), (*at, key)
        if isinstance(value, dict) and (isinstance(under, dict | list) or len(path) < KEYED):
            yield from rows(under, value, path)
        else:
            yield Row(label=named(path), before=_shown(under), after="left out" if value is False else _shown(value))


def named(path: Path) -> str:
    """A place of the project in words: the thing, then what of it."""
    steps = [str(step).replace("_", " ") if place != 1 else str(step) for place, step in enumerate(path)]
    thing, rest = " ".join(steps[:KEYED]), steps[KEYED:]
    if len(rest) > 1 and rest[0] == "parts":
        rest = [f"part {rest[1]}", *rest[2:]]
    return f"{thing}: {', '.join(rest)}" if rest else thing


def _shown(value: Any) -> str:
    if value is None:
        return "not stated"
    found = _words(value)
    return found if len(found) <= LONGEST else f"{found[: LONGEST - 1]}…"


def _words(value: Any) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{key} {_words(inner)}" for key, inner in value.items())
    if isinstance(value, list):
        return ", ".join(
            str(each.get("is") or _words(each)) if isinstance(each, dict) else _words(each) for each in value
        )
    return value if isinstance(value, str) else literal(value)
