"""Names: what people call a board, a surface or a source and a table knows it by; and names in a row."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from sordino.errors import Refusal
from sordino.tables import table
from sordino.units import quoted

LIKENESS = 0.65
"""Share of letters in common from which a name counts as a slip of another."""
SHORTEST = 3
"""Letters from which the beginning of a word is taken for it."""
_LONGEST = 60


def listed(names: Iterable[str]) -> str:
    """Names in a row, as `a, b and c`; nothing for none."""
    *most, last = [*names] or [""]
    return f"{', '.join(most)} and {last}" if most else last


def near(word: str, known: Iterable[str]) -> str | None:
    """The name that was probably meant: a word of the trade, a slip of the pen, or the one name that holds the word."""
    by_folded = {_folded(name): name for name in known}
    written = _folded(word)
    trade = [name for name in _trade_names(written) if name in by_folded]
    alike = difflib.get_close_matches(written, by_folded, n=1, cutoff=LIKENESS)
    found = trade or alike or _only([name for name in by_folded if written and written in name.split("_")])
    found = found or _only([name for name in by_folded if _begins(written, name)])
    return by_folded[found[0]] if found else None


def _trade_names(written: str) -> list[str]:
    words = table("trade_words")
    pairs = zip(words.text("word"), words.text("name"), strict=True)
    return [_folded(name) for word, name in pairs if _folded(word) == written]


def _only(names: list[str]) -> list[str]:
    return names if len(names) == 1 else []


def _begins(written: str, name: str) -> bool:
    """Whether some word of a name begins with what was written, an s at its end left aside."""
    stem = written.rstrip("s")
    return len(stem) >= SHORTEST and any(word.startswith(stem) for word in name.split("_"))


def _folded(word: str) -> str:
    return word.casefold().replace("-", "_").replace(" ", "_")[:_LONGEST]


@dataclass(frozen=True, kw_only=True, slots=True)
class OnRecord:
    """Marks a text field that names something in a table, read without regard to case."""

    what: str
    names: Callable[[], Mapping[str, str]]
    """What people may write, and the name on record it stands for."""

    def read(self, value: object) -> str:
        """The name on record; a Refusal says which there are."""
        names = self.names()
        if not isinstance(value, str):
            raise Refusal(f"this is no {self.what}", f"a text is wanted, one of: {self._known()}")
        by_folded = {_folded(name): record for name, record in names.items()}
        if _folded(value) in by_folded:
            return by_folded[_folded(value)]
        meant = near(value, names)
        hint = f"did you mean {meant}? " if meant else ""
        raise Refusal(f"{quoted(value)} is no {self.what} on record", f"{hint}on record: {self._known()}")

    def _known(self) -> str:
        return ", ".join(dict.fromkeys(self.names().values()))

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string", "description": f"The name of a {self.what}.", "enum": list(self.names())}
