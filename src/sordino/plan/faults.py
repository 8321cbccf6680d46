"""Mistakes in plain words: what the readers of TOML and of the model object to, and what would do."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ValidationError

from sordino.errors import Refusal
from sordino.names import near
from sordino.plan.lines import Path
from sordino.plan.places import Place, example, keys_of, place
from sordino.quantities import shown
from sordino.units import quoted

Complaint = tuple[Path, str, str]
"""Where (keys as written, list positions from zero), what is wrong, what would do."""

_SYNTAX = {
    "Expected '='": ("a key stands without a value", 'write key = value, as length = "250 mm"'),
    "Expected newline": ("something follows a value on its line", "write one key = value on each line"),
    "Invalid statement": ("this is no key with its value and no table", "write key = value, or [table]"),
    "Invalid initial character for a key": ("a key is missing or has a sign that keys can't have",
                                            "use letters, digits, - and _, or put the key in quotes"),
    "Invalid value": ("the value is not understood",
                      'put texts and quantities in quotes, as length = "250 mm"'),
    "Unterminated string": ("a text is not closed", "close it with the quote that opens it"),
    "Expected ']'": ("the table's name is not closed, or has a space in it", "write it as [room.booth]"),
    "Expected ']]'": ("the table's name is not closed", "write it as [room.booth], with single brackets"),
    "Unclosed array": ("a list is not closed", "close it with ]"),
    "Unclosed inline table": ("a table in braces is not closed", "close it with }"),
    "Duplicate inline table key": ("a key stands twice in a table in braces", "keep one of them"),
    "Cannot overwrite": ("this key has a value already", "keep one of them"),
    "Cannot declare": ("this table is written twice", "join the two under one heading"),
    "Cannot mutate": ("this table or list is closed already", "write all of it in one place"),
    "Cannot redefine": ("this name has a value already", "keep one of them"),
    "Illegal character": ("a text breaks off at the end of its line, or holds a sign that can't be seen",
                          "close the text with the quote that opens it"),
    "Unescaped '\\'": ("a backslash in double quotes starts no known sign", "put the text in single quotes"),
    "Found invalid character": ("a sign stands here that can't be seen", "type the line again"),
}  # fmt: skip
_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_INCHES = re.compile(r'"[^"]*\d""|"[^"]*\d" ?x ?\d')
_UNQUOTED = re.compile(r"=\s*(\d[^\"'#]*?)\s*(?:#.*)?$")
_HEADER = re.compile(r"\s*\[+[\w.\"' -]+\]+\s*(?:#.*)?$")
_KIND = "is"
MOST = 200
"""Objections that are put into words; a file with more of them is no project."""
MISSING = "this key is missing"


def syntax_complaint(error: tomllib.TOMLDecodeError, text: str) -> tuple[int, str, str]:
    """Line, problem and cure for a text that is not TOML."""
    message = str(error)
    found = _PLACE.search(message)
    rows = text.split("\n")
    line = int(found[1]) if found and found[1] else len(text.rstrip().split("\n"))
    row = rows[line - 1] if line <= len(rows) else ""
    problem, cure = next(
        (words for start, words in _SYNTAX.items() if message.startswith(start)),
        ("this line is not understood", 'write key = value, as length = "250 mm"'),
    )
    if _INCHES.search(row):
        return (
            line,
            "an inch sign in double quotes ends the text early",
            "use single quotes, as size = '8\"', or 8 in",
        )
    if _HEADER.match(row) and message.startswith("Invalid value"):
        return line, "a list above this line is not closed", "close it with ]"
    column = int(found[2]) if found and found[2] else 0
    if message.startswith("Invalid initial character") and row[:column].endswith("{"):
        return line, "a table in braces is not closed before the next", "close it with }"
    unquoted = _UNQUOTED.search(row)
    if unquoted and message.startswith("Expected newline"):
        return line, "a quantity stands without quotes", f'put it in quotes, as "{unquoted[1][:40]}"'
    return line, problem, cure


def complaints(error: ValidationError, model: type[BaseModel]) -> list[Complaint]:
    """What a model objects to in the data, one complaint for each mistake, in no order."""
    details = [Detail(place=place(model, item["loc"]), item=dict(item)) for item in error.errors()[:MOST]]
    kept = _without_twins(_without_branches([detail for detail in details if not _is_echo(detail)]))
    found = [(_path(detail), *_words(detail)) for detail in kept]
    more = error.error_count() - MOST
    return [*found, ((), f"{more} more mistakes are not shown", "mend these first")] if more > 0 else found


@dataclass(frozen=True, kw_only=True, slots=True)
class Detail:
    """One objection of the model, with its place in the data."""

    place: Place
    item: dict[str, Any]

    @property
    def type(self) -> str:
        return str(self.item["type"])

    @property
    def error(self) -> Exception | None:
        return self.item.get("ctx", {}).get("error")


def _path(detail: Detail) -> Path:
    said = isinstance(detail.item["input"], dict) and detail.type == "union_tag_invalid"
    return (*detail.place.path, _KIND) if said else detail.place.path


def _is_echo(detail: Detail) -> bool:
    """Whether a list is called too short only because some of its entries were objected to."""
    entries = detail.item["input"]
    short = detail.type == "too_short" and isinstance(entries, list | dict)
    return short and len(entries) >= detail.item["ctx"]["min_length"]


def _without_branches(details: Sequence[Detail]) -> list[Detail]:
    """A value that fits no branch of a choice is one mistake, not one for each branch."""
    plain = [detail for detail in details if detail.place.choice is None]
    choices: dict[Path, list[Detail]] = {}
    for detail in details:
        if detail.place.choice is not None:
            choices.setdefault(detail.place.choice, []).append(detail)
    return plain + [kept for group in choices.values() for kept in _likeliest(group)]


def _likeliest(group: list[Detail]) -> list[Detail]:
    branches: dict[str, list[Detail]] = {}
    for detail in group:
        branches.setdefault(detail.place.branch, []).append(detail)
    inside = [found for found in branches.values() if any(d.place.path != d.place.choice for d in found)]
    if inside:
        return min(inside, key=len)
    return [_joined([found[0] for found in branches.values()])]


def _joined(alternatives: list[Detail]) -> Detail:
    """One objection for a value that is none of the plain things it may be."""
    spoken = [(detail, *_words(detail)) for detail in alternatives]
    value = alternatives[0].item["input"]
    units = [problem for detail, problem, _ in spoken if isinstance(detail.error, Refusal)]
    meant = [problem for problem in units if "does not start with a number" not in problem]
    problem = meant[0] if meant else f"{shown(value)} is not known here"
    cures = dict.fromkeys(cure for _, _, cure in spoken if cure)
    hints = [cure for cure in cures if cure.startswith("did you mean")]
    cure = "; or ".join([*hints, *(cure for cure in cures if cure not in hints)])
    item = alternatives[0].item | {"type": "value_error", "ctx": {"error": Refusal(problem, cure)}}
    return Detail(place=alternatives[0].place, item=item)


def _without_twins(details: list[Detail]) -> list[Detail]:
    """A misspelt key is one mistake: the key that is missing for it is not named again."""
    meant = set()
    for detail in details:
        if detail.type == "extra_forbidden":
            missing = near(str(detail.place.path[-1]), _missing_beside(detail, details))
            meant.add((*detail.place.path[:-1], missing))
    return [detail for detail in details if detail.type != "missing" or detail.place.path not in meant]


def _missing_beside(detail: Detail, details: list[Detail]) -> list[str]:
    table = detail.place.path[:-1]
    return [str(d.place.path[-1]) for d in details if d.type == "missing" and d.place.path[:-1] == table]


def _words(detail: Detail) -> tuple[str, str]:
    """Problem and cure, in plain words."""
    if isinstance(detail.error, Refusal):
        return detail.error.problem.replace("{read}", shown(detail.item["input"])), detail.error.cure
    if detail.error is not None:
        return str(detail.error), ""
    value, context = shown(detail.item["input"]), detail.item.get("ctx", {})
    speak = _SPEAK.get(detail.type)
    if speak is not None:
        return speak(detail)
    for kind, problem, cure in _PLAIN:
        if detail.type == kind:
            return problem.format(value=value, **context), cure.format(value=value, **context)
    return f"{value} can't be used here", _for_instance(detail)


_HEADING = "a table is wanted, as [heading] or {{ key = value }}"
_PLAIN = (
    ("string_too_short", "{value} is too short a text", ""),
    ("string_too_long", "{value} is too long a text", ""),
    ("string_type", "{value} is not a text", "put the text in quotes"),
    ("int_from_float", "{value} is not a whole number", "a whole number is wanted"),
    ("int_type", "{value} is not a number", "a whole number is wanted"),
    ("int_parsing", "{value} is not a number", "a whole number is wanted, without quotes"),
    ("int_parsing_size", "{value} is too large a number", "a whole number is wanted"),
    ("float_type", "{value} is not a number", "a plain number is wanted"),
    ("float_parsing", "{value} is not a number", "a plain number is wanted, without quotes"),
    ("finite_number", "{value} is not a finite number", "a plain number is wanted"),
    ("bool_type", "{value} is neither true nor false", "write true or false, without quotes"),
    ("bool_parsing", "{value} is neither true nor false", "write true or false, without quotes"),
    ("greater_than", "{value} is too little", "more than {gt:g} is wanted"),
    ("greater_than_equal", "{value} is too little", "at least {ge:g} is wanted"),
    ("less_than", "{value} is too much", "less than {lt:g} is wanted"),
    ("less_than_equal", "{value} is too much", "at most {le:g} is wanted"),
    ("tuple_type", "{value} is not a list", "a list is wanted, in square brackets"),
    ("list_type", "{value} is not a list", "a list is wanted, in square brackets"),
    *((kind, "{value} is not a table", _HEADING) for kind in ("dict_type", "model_type", "model_attributes_type")),
)


def _extra(detail: Detail) -> tuple[str, str]:
    key = str(detail.place.path[-1])
    known = keys_of(detail.place.model) if detail.place.model else []
    meant = near(key, known)
    hint = f"did you mean {meant}? " if meant else ""
    return "this key is not known here", f"{hint}known here: {', '.join(known)}"


def _missing(detail: Detail) -> tuple[str, str]:
    if not isinstance(detail.place.path[-1], str):
        return "an entry is missing here", f"the list wants {detail.place.path[-1] + 1} entries"
    key = detail.place.path[-1]
    sample = example(detail.place.model, key) if detail.place.model else None
    return MISSING, f"add it, as {key} = {sample}" if sample else "add it"


def _literal(detail: Detail) -> tuple[str, str]:
    known = [choice.strip("'\"") for choice in re.split(r", | or ", detail.item["ctx"]["expected"])]
    return _choice(detail.item["input"], known)


def _choice(value: Any, known: Sequence[str]) -> tuple[str, str]:
    meant = near(value, known) if isinstance(value, str) else None
    hint = f"did you mean {meant}? " if meant else ""
    return f"{shown(value)} is not known here", f"{hint}known here: {', '.join(known)}"


def _tag(detail: Detail) -> tuple[str, str]:
    table = detail.item["input"]
    known = [tag.strip().strip("'") for tag in detail.item["ctx"]["expected_tags"].split("', '")]
    return _choice(table.get(_KIND) if isinstance(table, dict) else table, known)


def _no_tag(detail: Detail) -> tuple[str, str]:
    known = detail.place.tags
    return (
        f"the key '{_KIND}' is missing",
        f'add what this is, as {_KIND} = "{known[0]}"; known here: {", ".join(known)}',
    )


def _too_few(detail: Detail) -> tuple[str, str]:
    context = detail.item["ctx"]
    return f"too few entries: {context['actual_length']}", f"at least {context['min_length']} wanted"


def _too_many(detail: Detail) -> tuple[str, str]:
    context = detail.item["ctx"]
    return f"too many entries: {len(detail.item['input'])}", f"at most {context['max_length']} wanted"


_SPEAK = {
    "extra_forbidden": _extra,
    "missing": _missing,
    "literal_error": _literal,
    "union_tag_invalid": _tag,
    "union_tag_not_found": _no_tag,
    "too_short": _too_few,
    "too_long": _too_many,
}


def _for_instance(detail: Detail) -> str:
    key = detail.place.path[-1] if detail.place.path else None
    sample = example(detail.place.model, key) if detail.place.model and isinstance(key, str) else None
    return f"for instance {key} = {sample}" if sample else ""


def spelled(path: Path) -> str:
    """A path as people write it: keys joined by dots, list entries counted from 1."""
    return ".".join(str(step + 1) if isinstance(step, int) else _key(step) for step in path)


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z0-9_-]{1,60}", key) else quoted(key)


def sentence(words: str) -> str:
    """Words with a capital at the start and after a question, and a stop at the end."""
    return stopped("? ".join(part[:1].upper() + part[1:] for part in words.split("? ")))


def stopped(words: str) -> str:
    """Words with a stop at the end."""
    return words if not words or words[-1] in ".?!" else f"{words}."
