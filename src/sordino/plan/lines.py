"""Where each key of a TOML text stands: the line numbers that TOML readers throw away."""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right

Path = tuple[str | int, ...]
"""Keys and, for lists, positions counted from zero."""

DEEPEST = 32
"""Keys of one header or dotted key that are told apart; the prefixes of longer ones cost their square."""

_BLANK = re.compile(r"(?:[ \t\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_BASIC = re.compile(r'"(?:[^"\\]|\\.)*"')
_LITERAL = re.compile(r"'[^']*'")
_LONG_BASIC = re.compile(r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}', re.DOTALL)
_LONG_LITERAL = re.compile(r"'''(?:[^']|'(?!''))*'{3,5}", re.DOTALL)
_SCALAR = re.compile(r"[^,\]}#\n]+")


def line_map(text: str) -> dict[Path, int]:
    """Line (from 1) of every table, key and list entry of a valid TOML text, by its path; linear in the text.

    A table that is only implied by a longer header or a dotted key has the line of the first of these.
    """
    return _Scan(text.replace("\r\n", "\n")).lines


def headers(text: str) -> tuple[tuple[int, Path], ...]:
    """Line (from 1) and path of every table header of a valid TOML text, in its order."""
    return tuple(_Scan(text.replace("\r\n", "\n")).headers)


class _Scan:
    """One pass over the text; `at` is the place reached."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.breaks = [found.start() for found in re.finditer("\n", text)]
        self.lines: dict[Path, int] = {}
        self.headers: list[tuple[int, Path]] = []
        self.counts: dict[Path, int] = {}
        self._statements()

    def _statements(self) -> None:
        table: Path = ()
        self._skip(_BLANK)
        while self.at < len(self.text):
            if self._sees("["):
                table = self._header()
            else:
                self._pair(table)
            self._skip(_BLANK)

    def _header(self) -> Path:
        line, several = self._line(), self._sees("[[")
        self.at += 2 if several else 1
        keys = self._keys()
        self.at += 2 if several else 1
        path: Path = ()
        for key in keys[:-1]:
            path = self._inside((*path, key), line)
        path = (*path, keys[-1])
        if several:
            self.lines.setdefault(path, line)
            self.counts[path] = self.counts.get(path, 0) + 1
            path = (*path, self.counts[path] - 1)
        self.lines[path] = line
        self.headers.append((line, path))
        return path

    def _inside(self, path: Path, line: int) -> Path:
        """The table a header passes through: of a list of tables, the last one."""
        self.lines.setdefault(path, line)
        return (*path, self.counts[path] - 1) if path in self.counts else path

    def _pair(self, table: Path) -> None:
        line, keys = self._line(), self._keys()
        for depth in range(1, len(keys)):
            self.lines.setdefault((*table, *keys[:depth]), line)
        path = (*table, *keys)
        self.lines[path] = line
        self.at += 1  # the equals sign
        self._skip(_SPACE)
        self._value(path)

    def _keys(self) -> tuple[str, ...]:
        keys = [self._key()]
        while self._sees("."):
            self.at += 1
            keys.append(self._key())
        return tuple(keys[:DEEPEST])

    def _key(self) -> str:
        self._skip(_SPACE)
        start = self.at
        quote = self.text[start]
        self._skip(_BASIC if quote == '"' else _LITERAL if quote == "'" else _BARE)
        written = self.text[start : self.at]
        self._skip(_SPACE)
        return str(tomllib.loads(f"key = {written}")["key"]) if quote in "\"'" else written

    def _value(self, path: Path) -> None:
        if self._sees("["):
            self._array(path)
        elif self._sees("{"):
            self._inline_table(path)
        else:
            self._skip(self._scalar())

    def _scalar(self) -> re.Pattern[str]:
        if self._sees('"'):
            return _LONG_BASIC if self._sees('"""') else _BASIC
        if self._sees("'"):
            return _LONG_LITERAL if self._sees("'''") else _LITERAL
        return _SCALAR

    def _array(self, path: Path) -> None:
        self.at += 1
        self._skip(_BLANK)
        position = 0
        while not self._sees("]"):
            self.lines[(*path, position)] = self._line()
            self._value((*path, position))
            position += 1
            self._next()
        self.at += 1

    def _inline_table(self, path: Path) -> None:
        self.at += 1
        self._skip(_BLANK)
        while not self._sees("}"):
            self._pair(path)
            self._next()
        self.at += 1

    def _next(self) -> None:
        self._skip(_BLANK)
        if self._sees(","):
            self.at += 1
            self._skip(_BLANK)

    def _sees(self, sign: str) -> bool:
        return self.text.startswith(sign, self.at)

    def _skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        if match is not None:
            self.at = match.end()

    def _line(self) -> int:
        return bisect_right(self.breaks, self.at - 1) + 1
