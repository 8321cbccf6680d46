"""Names on record: what people call a board, a surface or a source, and the name a table knows it by."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from sordino.errors import Refusal
from sordino.units import quoted

LIKENESS = 0.65
"""Share of letters in common from which a name counts as a slip of another."""
_LONGEST = 60


def near(word: str, known: Iterable[str]) -> str | None:
    """The name that was probably meant: a slip of the pen, or a longer name that holds the word."""
    by_folded = {_folded(name): name for name in known}
    written = _folded(word)
    alike = difflib.get_close_matches(written, by_folded, n=1, cutoff=LIKENESS)
    holding = [name for name in by_folded if written and written in name.split("_")]
    found = alike or (holding if len(holding) == 1 else [])
    return by_folded[found[0]] if found else None


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
