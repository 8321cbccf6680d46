"""The hand a project file is written in: its quotes, its spaces and its line ends, kept in what is put into it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import tomlkit
from tomlkit.items import Array, InlineTable, Item, String

_BRACE = re.compile(r"\{(?=[ \w\"'])( ?)")
_UNQUOTABLE = re.compile(r"['\x00-\x08\x0a-\x1f\x7f]")
"""What can't stand between single quotes."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hand:
    """How new values are written."""

    roomy: bool
    """Whether a table on one line has a space inside its braces."""
    end: str
    """What ends a line."""

    def written(self, value: Any) -> str:
        """A plain value: tables stand on one line, of several in a list each on its own."""
        if isinstance(value, dict):
            inner = ", ".join(f"{_key(key)} = {self.written(each)}" for key, each in value.items())
            return "{}" if not inner else f"{{ {inner} }}" if self.roomy else f"{{{inner}}}"
        if isinstance(value, list | tuple):
            rows = [self.written(each) for each in value]
            if len(rows) > 1 and all(isinstance(each, dict) for each in value):
                return "".join((f"[{self.end}", *(f"  {row},{self.end}" for row in rows), "]"))
            return f"[{', '.join(rows)}]"
        return tomlkit.item(value).as_string()

    def item(self, value: Any) -> Item:
        """The same to be put into a document."""
        return self._read(self.written(value))

    def instead(self, old: Any, value: Any) -> Any:
        """A value in the place of another, in its quotes; a list of as many in its spaces, with its comments."""
        if isinstance(old, String) and isinstance(value, str):
            single = old.as_string().startswith("'") and not _UNQUOTABLE.search(value)
            return tomlkit.string(value, literal=single)
        if isinstance(old, Array) and isinstance(value, list | tuple) and len(old) == len(value):
            for index, each in enumerate(value):
                if old[index] != each:
                    old[index] = self.instead(old[index], each)
            return old
        return self.item(value)

    def grown(self, table: InlineTable, key: str, value: Any) -> Item:
        """A table on one line with one key more, after the others."""
        body = table.as_string()[1:-1]
        held = body.rstrip()
        if not held:
            return self.item({key: value})
        more = f"{_key(key)} = {self.written(value)}"
        return self._read(f"{{{held.rstrip(',')}, {more}{body[len(held) :]}}}")

    def _read(self, text: str) -> Item:
        found = tomlkit.parse(f"x = {text}").item("x")
        assert isinstance(found, Item), "one key has one value"
        found.trivia.trail = self.end
        return found


def hand_of(text: str) -> Hand:
    """How a text is written, by what most of it does."""
    braces = _BRACE.findall(text)
    return Hand(roomy=2 * braces.count(" ") >= len(braces), end="\r\n" if "\r\n" in text else "\n")


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else tomlkit.item(key).as_string()
