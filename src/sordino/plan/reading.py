"""From a file to a checked statement, or to every mistake in it with its place and next step."""

from __future__ import annotations

import errno
import re
import tomllib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path as File
from typing import Any, TypeVar

from pydantic import ValidationError

from sordino.errors import Fault, PlanError
from sordino.names import near
from sordino.plan import signs
from sordino.plan.faults import MISSING, MOST, Complaint, complaints, sentence, spelled, stopped, syntax_complaint
from sordino.plan.lines import DEEPEST, Path, line_map
from sordino.plan.overlay import Overlaid, overlaid
from sordino.quantities import Statement
from sordino.units import quoted

S = TypeVar("S", bound=Statement)

LARGEST = 2_000_000
"""Most bytes a project file may have."""
LONGEST = 10_000
"""Most characters a line may have."""
DOTS = 64
"""Most dots in one key: the standard reader takes time with their square."""
_WORD = re.compile(r"[^\s,=]+")


@dataclass(frozen=True, kw_only=True, slots=True)
class Document:
    """A project file as read: its name, its text, its keys and values, and the line of each key."""

    path: str
    text: str
    data: dict[str, Any]
    lines: dict[Path, int]

    def line(self, path: Path) -> int | None:
        """The line of a place, or of the nearest table around it."""
        depths = range(len(path), 0, -1)
        return next((self.lines[path[:depth]] for depth in depths if path[:depth] in self.lines), None)


def document(path: File | str) -> Document:
    """Read a project file; a PlanError says why it can't be used."""
    name = str(path)
    try:
        with File(path).open("rb") as stream:
            content = stream.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        raise _refused(name, *_why_unreadable(error)) from None
    if len(content) > LARGEST:
        raise _refused(name, "the file has more than 2 MB", "give a project file, as studio.toml")
    if b"\0" in content:
        raise _refused(name, "the file is not a text", "give a project file, as studio.toml")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise _refused(name, "the text is not UTF-8", "save the file with UTF-8 encoding", line) from None
    return parsed(text, name)


def parsed(text: str, name: str) -> Document:
    """Read the text of a project file; a PlanError says why it can't be used."""
    if not text.strip():
        raise _refused(name, "the file is empty", "start from a fresh one: sordino new studio.toml")
    for number, row in enumerate(text.split("\n"), start=1):
        if len(row) > LONGEST:
            raise _refused(name, f"the line has more than {LONGEST} characters", "break it up", number)
        if row.count(".") > DOTS and max(word.count(".") for word in _WORD.findall(row)) > DOTS:
            raise _refused(name, "the line has an endless dotted key", "a project needs few levels", number)
    try:
        data = tomllib.loads(text)
        lines = line_map(text)
    except tomllib.TOMLDecodeError as error:
        line, problem, cure = syntax_complaint(error, text)
        raise _refused(name, problem, cure, line) from None
    except RecursionError:
        raise _refused(name, "tables or lists are nested too deeply", "a project needs few levels") from None
    except ValueError:
        raise _refused(name, "a number or date in the file can't be read", "look for a huge number") from None
    if not any(True for _ in data):
        raise _refused(name, "the file states nothing", "start from a fresh one: sordino new studio.toml")
    if _too_deep(data):
        raise _refused(name, "tables or lists are nested too deeply", "a project needs few levels")
    return _legible(Document(path=name, text=text, data=data, lines=lines))


def _legible(read: Document) -> Document:
    garbled = [_fault(read, *complaint) for complaint in islice(signs.complaints(read.data), MOST)]
    if garbled:
        raise PlanError(sorted(garbled, key=lambda fault: fault.line or LARGEST))
    return read


def variants(document: Document) -> tuple[str, ...]:
    """Names of the variants that a project states, in file order."""
    stated = document.data.get("variant")
    return tuple(stated) if isinstance(stated, dict) else ()


Checks = Callable[[S], Iterable[Complaint]]
"""What a whole statement is checked for beyond its fields: path, problem and cure of every mistake."""


def validate(document: Document, model: type[S], variant: str | None = None, checks: Checks[S] | None = None) -> S:
    """The checked statement of a project or of one variant; a PlanError has every fault, in file order."""
    changed = _varied(document, variant)
    found: list[Complaint] = []
    statement = None
    try:
        statement = model.model_validate(changed.data)
    except ValidationError as error:
        found = _without_ghosts(complaints(error, model), changed, document.data)
    except RecursionError:
        found = [((), "tables or lists are nested too deeply", "a project needs few levels")]
    if statement is not None and checks is not None and not changed.strays:
        found = list(checks(statement))
    faults = [_located(document, changed, variant, complaint) for complaint in found]
    faults += [_stray(document, variant, complaint) for complaint in changed.strays]
    if faults or statement is None:
        raise PlanError(sorted(dict.fromkeys(faults), key=lambda fault: fault.line or LARGEST))
    return statement


def _without_ghosts(found: list[Complaint], changed: Overlaid, base: Any) -> list[Complaint]:
    """A variant that changes something which isn't there has one mistake, not one for each key it lacks."""
    for at in changed.origins:
        missing = [path[-1] for path, problem, _ in found if path[:-1] == at and problem == MISSING]
        siblings = _siblings(base, at)
        if missing and siblings and at[-1] not in siblings:
            meant = near(str(at[-1]), siblings)
            hint = f"did you mean {meant}? " if meant else ""
            words = (f"there is no {quoted(str(at[-1]))} to change", f"{hint}to add it, write also: ")
            found = [item for item in found if item[0][: len(at)] != at]
            found.append((at, words[0], words[1] + ", ".join(map(str, missing))))
    return found


def _siblings(base: Any, at: Path) -> list[str]:
    for step in at[:-1]:
        base = base.get(step) if isinstance(base, dict) else None
    return list(base) if isinstance(base, dict) else []


def _varied(document: Document, variant: str | None) -> Overlaid:
    if variant is None:
        return Overlaid(data=document.data)
    names = variants(document)
    if variant not in names:
        meant = near(variant, names)
        hint = f"did you mean {meant}? " if meant else ""
        known = f"variants here: {', '.join(names)}" if names else "the file states no variants"
        raise _refused(document.path, f"there is no variant {quoted(variant)}", hint + known)
    change = document.data["variant"][variant]
    if not isinstance(change, dict):
        line = document.line(("variant", variant))
        problem = f"the variant {quoted(variant)} is not a table"
        raise _refused(document.path, problem, f"write it as [variant.{variant}]", line)
    base = {key: value for key, value in document.data.items() if key != "variant"}
    return overlaid(base, change)


def _located(document: Document, changed: Overlaid, variant: str | None, complaint: Complaint) -> Fault:
    path, problem, cure = complaint
    source = changed.source(path) if variant is not None else None
    path = changed.base(path) if source is None else ("variant", str(variant), *source)
    return _fault(document, path, problem, cure)


def _stray(document: Document, variant: str | None, complaint: Complaint) -> Fault:
    path, problem, cure = complaint
    return _fault(document, ("variant", str(variant), *path), problem, cure)


def _fault(document: Document, path: Path, problem: str, cure: str) -> Fault:
    fault = Fault(file=document.path, line=document.line(path), key=spelled(path), problem="", cure="")
    return replace(fault, problem=stopped(problem), cure=sentence(cure))


def _refused(name: str, problem: str, cure: str, line: int | None = None) -> PlanError:
    return PlanError([Fault(file=name, line=line, key="", problem=stopped(problem), cure=sentence(cure))])


def _why_unreadable(error: OSError | ValueError) -> tuple[str, str]:
    reasons = {
        errno.ENOENT: ("there is no such file", "check the name, or start one: sordino new studio.toml"),
        errno.EISDIR: ("this is a folder", "give a project file inside it, as studio.toml"),
        errno.EACCES: ("the file may not be read", "ask for the right to read it"),
        errno.ENOTDIR: ("there is no such file", "check the name: part of it is a file, not a folder"),
    }
    number = error.errno if isinstance(error, OSError) else None
    return reasons.get(number or 0, ("the file can't be read", "check its name and the disk"))


def _too_deep(data: Any) -> bool:
    """Whether anything lies deeper than a project has levels."""
    level, depth = [data], 0
    while level and depth <= DEEPEST:
        tables = [item for item in level if isinstance(item, dict | list)]
        level = [inner for item in tables for inner in (item.values() if isinstance(item, dict) else item)]
        depth += 1
    return bool(level)
