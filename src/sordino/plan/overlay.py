"""Variants: a named overlay of a project that holds only what differs.

The rules, for a change laid over a base:

- a table over a table merges, key by key;
- a table over a list of parts changes single parts: each key is a part's `name` or its number, from 1;
  a part whose `is` changes is replaced (its name stays), any other is merged;
- `false` over a table or a part leaves it out;
- anything else replaces what was there.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from sordino.names import near
from sordino.plan.lines import Path
from sordino.units import quoted


@dataclass(frozen=True, kw_only=True, slots=True)
class Overlaid:
    """A changed project, where its changes were written, and changes that found nothing to change."""

    data: dict[str, Any]
    origins: dict[Path, Path] = field(default_factory=dict)
    """For each place the change wrote: its path inside the change."""
    strays: list[tuple[Path, str, str]] = field(default_factory=list)
    """Path inside the change, problem, cure."""

    moves: dict[Path, Path] = field(default_factory=dict)
    """For each part that a part left out before it has moved up: its path in the base."""

    def source(self, path: Path) -> Path | None:
        """Where in the change a place of the result was written; None if it stands in the base."""
        return _traced(self.origins, path)

    def base(self, path: Path) -> Path:
        """Where in the base a place of the result stands."""
        return _traced(self.moves, path) or path


def _traced(known: dict[Path, Path], path: Path) -> Path | None:
    for depth in range(len(path), 0, -1):
        if path[:depth] in known:
            return (*known[path[:depth]], *path[depth:])
    return None


def overlaid(base: dict[str, Any], change: dict[str, Any]) -> Overlaid:
    """The base with the change laid over it, with where each change was written and which found nothing.

    Neither is altered.
    """
    out = Overlaid(data={})
    out.data.update(_merged(out, base, change, (), ()))
    return out


def _merged(out: Overlaid, base: dict[str, Any], change: dict[str, Any], at: Path, source: Path) -> dict[str, Any]:
    merged = dict(base)
    for key, new in change.items():
        if new is False and isinstance(base.get(key), dict):
            del merged[key]
        elif new is False and key not in base and _named_tables(base):
            out.strays.append(((*source, key), *_nothing_to_leave_out(list(base), key)))
        else:
            merged[key] = _changed(out, base.get(key), new, (*at, key), (*source, key))
    return merged


def _named_tables(table: dict[str, Any]) -> bool:
    """Whether a table holds nothing but tables, as [box] does, so that `false` can only mean one of them."""
    return bool(table) and all(isinstance(value, dict) for value in table.values())


def _nothing_to_leave_out(names: list[str], key: str) -> tuple[str, str]:
    meant = near(key, names)
    hint = f"did you mean {meant}? " if meant else ""
    return f"there is no {quoted(key)} to leave out", f"{hint}there are: {', '.join(names)}"


def _changed(out: Overlaid, old: Any, new: Any, at: Path, source: Path) -> Any:
    if isinstance(new, dict) and isinstance(old, dict):
        return _merged(out, old, new, at, source)
    if isinstance(new, dict) and isinstance(old, list):
        return _parts(out, old, new, at, source)
    out.origins[at] = source
    return new


def _parts(out: Overlaid, old: list[Any], change: dict[str, Any], at: Path, source: Path) -> list[Any]:
    changes = {}
    for key, new in change.items():
        position = _position(old, key)
        if position is None:
            out.strays.append(((*source, key), *_nothing_to_change(old, key)))
        else:
            changes[position] = (key, new)
    parts: list[Any] = []
    for position, part in enumerate(old):
        key, new = changes.get(position, ("", None))
        here = (*at, len(parts))
        if new is not False:
            out.moves[here] = (*at, position)
            parts.append(part if new is None else _part(out, part, new, here, (*source, key)))
    return parts


def _part(out: Overlaid, old: Any, new: Any, at: Path, source: Path) -> Any:
    if not (isinstance(old, dict) and isinstance(new, dict)):
        return _changed(out, old, new, at, source)
    if "is" in new and new["is"] != old.get("is"):
        out.origins[at] = source
        return ({"name": old["name"]} if "name" in old else {}) | new
    return _merged(out, old, new, at, source)


def _position(parts: list[Any], key: str) -> int | None:
    names = [part.get("name") if isinstance(part, dict) else None for part in parts]
    if key in names:
        return names.index(key)
    if key.isascii() and key.isdigit() and len(key) < 6 and 1 <= int(key) <= len(parts):
        return int(key) - 1
    return None


def _nothing_to_change(parts: list[Any], key: str) -> tuple[str, str]:
    names = [str(part["name"]) for part in parts if isinstance(part, dict) and "name" in part]
    meant = near(key, names)
    hint = f"did you mean {meant}? " if meant else ""
    known = f"names here: {', '.join(names)}; numbers" if names else "numbers"
    return f"there is no part {quoted(key)} to change", f"{hint}{known}: 1 to {len(parts)}"
