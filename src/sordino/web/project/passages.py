"""The text of a project by its tables: each header with all that stands under it, moved or left out as it is."""

from __future__ import annotations

import re
import tomllib
from typing import Any

import tomlkit

from sordino.plan.lines import Path, headers
from sordino.web.project import edit

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_HEAD = re.compile(r"(\s*\[\[?\s*)(.*?)(\s*\]\]?\s*(?:#.*)?)$", re.DOTALL)
_STEP = re.compile(r"""\s*(?:"(?:[^"\\]|\\.)*"|'[^']*'|[A-Za-z0-9_-]+)\s*""")


def written_key(key: str) -> str:
    """A key as it is written: bare where it may be."""
    return key if _BARE.fullmatch(key) else tomlkit.key(key).as_string()


def table_text(text: str, path: Path) -> str:
    """All that stands under headers of one table, with the comments right above them; empty if it has no header."""
    lines = _lines(text)
    return "".join("".join(lines[start:end]) for start, end in _spans(text, lines, path))


def without_table(text: str, path: Path) -> str:
    """The text without one table, whichever way it is written; other comments stay."""
    lines, wanted = _lines(text), _less(tomllib.loads(text), path)
    for start, end in reversed(_spans(text, lines, path)):
        del lines[start:end]
    found = "".join(lines)
    return found if _says(found, wanted) else edit.without(text, path)


def with_table(text: str, path: Path, written: str, value: Any) -> str:
    """The text with one more table at its end: as it is `written`, or on one line if that doesn't give its value."""
    found = _joined(text, written)
    if written and _says(found, None) and edit.value_at(tomllib.loads(found), path) == value:
        return found
    return edit.with_value(text, path, value)


def renamed_table(text: str, path: Path, name: str) -> str:
    """The text with the last step of a table's path called otherwise in every header of it."""
    lines, at = _lines(text), len(path) - 1
    for line, header in headers(text):
        if header[: len(path)] == path:
            lines[line - 1] = _with_step(lines[line - 1], at, written_key(name))
    found, value = "".join(lines), edit.value_at(tomllib.loads(text), path)
    if _says(found, None) and edit.value_at(tomllib.loads(found), (*path[:-1], name)) == value:
        return found
    return edit.with_value(edit.without(text, path), (*path[:-1], name), value)


def _lines(text: str) -> list[str]:
    return [line for line in re.split(r"(?<=\n)", text) if line]


def _spans(text: str, lines: list[str], path: Path) -> list[tuple[int, int]]:
    """From where to where the headers of a table reach, the comments right above them with them."""
    starts = [(line - 1, header) for line, header in headers(text)]
    found = []
    for index, (start, header) in enumerate(starts):
        if header[: len(path)] == path:
            after = starts[index + 1][0] if index + 1 < len(starts) else len(lines)
            found.append((_with_comments(lines, start), _last(lines, start, after)))
    return found


def _with_comments(lines: list[str], start: int) -> int:
    while start > 0 and lines[start - 1].lstrip().startswith("#"):
        start -= 1
    return start


def _last(lines: list[str], start: int, after: int) -> int:
    """Where what is said under a header ends, one empty line with it; comments that lead over to the next stay."""
    end = after
    while end > start + 1 and (not lines[end - 1].strip() or lines[end - 1].lstrip().startswith("#")):
        end -= 1
    return end + 1 if end < after and not lines[end].strip() else end


def _less(data: dict[str, Any], path: Path) -> dict[str, Any]:
    """Data without what stands at a path, and without tables that only held it."""
    step, rest = str(path[0]), path[1:]
    inner = data.get(step)
    left = _less(inner, rest) if rest and isinstance(inner, dict) else {}
    return {key: value for key, value in data.items() if key != step} | ({step: left} if left else {})


def _says(text: str, wanted: dict[str, Any] | None) -> bool:
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return False
    return wanted is None or found == wanted


def _joined(text: str, written: str) -> str:
    ends = "\r\n" if "\r\n" in text else "\n"
    plain = written.replace("\r\n", "\n").strip("\n").replace("\n", ends)
    return f"{text.rstrip()}{ends}{ends}{plain}{ends}" if text.strip() else f"{plain}{ends}"


def _with_step(line: str, at: int, key: str) -> str:
    """A header line with one step of its path replaced."""
    head = _HEAD.match(line)
    assert head is not None, "a header stands in this line"
    found = _STEP.findall(head[2])
    steps = [key if place == at else step for place, step in enumerate(found)]
    return f"{head[1]}{'.'.join(step if place == at else step.strip() for place, step in enumerate(steps))}{head[3]}"
