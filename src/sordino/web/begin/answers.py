"""The questions that begin a project, and what was answered, read and checked one by one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import cast

from sordino.errors import Refusal
from sordino.units import System, UnitError, parse
from sordino.web.project.written import length


@dataclass(frozen=True, kw_only=True, slots=True)
class Use:
    """What a room is for, and what follows from it."""

    title: str
    target: str
    loudest: str
    activity: str


USES = {
    "voice": Use(title="recording a voice", target="NC-20", loudest="speech loud", activity="seated"),
    "mixing": Use(title="mixing and listening", target="NC-20", loudest="amplified band", activity="seated"),
    "music": Use(title="practising an instrument", target="NC-25", loudest="brass", activity="seated"),
    "drums": Use(title="playing drums", target="NC-30", loudest="drum kit", activity="drumming"),
}
SPACES = {"attic": "in the loft above", "void": "in a void or cupboard beside", "room": "in another room"}
MOST_ROOMS = 2
SIZES = {"metric": ("3.2 m", "2.6 m", "2.3 m"), "inch": ("10 ft 6 in", "8 ft 6 in", "7 ft 6 in")}
SPARE = {"metric": ("1.4 m", "0.6 m", "0.7 m"), "inch": ("4 ft 6 in", "2 ft", "2 ft 4 in")}
SIDES = ("length", "width", "height")


@dataclass(frozen=True, kw_only=True, slots=True)
class RoomAnswers:
    """One room."""

    name: str
    use: Use
    sides: tuple[str, str, str]
    """As typed."""
    metres: tuple[float, float, float]
    people: int

    @property
    def area(self) -> float:
        """Of its ceiling, m2."""
        return self.metres[0] * self.metres[1]


@dataclass(frozen=True, kw_only=True, slots=True)
class Answers:
    """All of them."""

    title: str
    units: System
    rooms: tuple[RoomAnswers, ...]
    space: str
    spare: tuple[float, float, float]
    """Room for each box, outside, m."""


def in_units(form: Mapping[str, str], units: System) -> dict[str, str]:
    """The sizes of a form in other units: those offered as these offer them, those typed to a tape's step."""
    other: System = "inch" if units == "metric" else "metric"
    found = {name: text for name, text in form.items() if name.rpartition("-")[2] not in SIDES}
    for lead, offered in (("room1", SIZES), ("room2", SIZES), ("spare", SPARE)):
        for index, side in enumerate(SIDES):
            name = f"{lead}-{side}"
            text = form.get(name, "").strip() or offered[units][index]
            found[name] = offered[units][index] if text == offered[other][index] else _in(text, units)
    return found


def _in(text: str, units: System) -> str:
    inches = any(sign in text for sign in ("in", "ft", "'", '"'))
    try:
        return text if inches == (units == "inch") else length(parse(text, "length"), units)
    except UnitError:
        return text  # the answer will be refused in words


def answers(form: Mapping[str, str]) -> Answers:
    """What a form holds; a Refusal says which question wants another answer."""
    units = form.get("units", "metric")
    space = form.get("space", "attic")
    if units not in SIZES or space not in SPACES:
        raise Refusal("this answer is none of those offered", "choose one of them")
    count = _whole(form.get("rooms", "1"), "how many rooms", 1, MOST_ROOMS)
    return Answers(
        title=_name(form.get("title", ""), "My quiet room"),
        units=cast(System, units),
        rooms=tuple(_rooms(form, count)),
        space=space,
        spare=_sides(form, "spare", "room for a box")[1],
    )


def _rooms(form: Mapping[str, str], count: int) -> Iterator[RoomAnswers]:
    for number in range(1, count + 1):
        use = form.get(f"use{number}", "voice")
        if use not in USES:
            raise Refusal("this is none of the uses offered", "choose one of them")
        typed, metres = _sides(form, f"room{number}", f"room {number}")
        yield RoomAnswers(
            name=_name(form.get(f"name{number}", ""), f"Room {number}"),
            use=USES[use],
            sides=typed,
            metres=metres,
            people=_whole(form.get(f"people{number}", "1"), f"people in room {number}", 1, 12),
        )


def _sides(form: Mapping[str, str], lead: str, words: str) -> tuple[tuple[str, str, str], tuple[float, float, float]]:
    typed = tuple(form.get(f"{lead}-{side}", "").strip() for side in SIDES)
    metres = []
    for side, text in zip(SIDES, typed, strict=True):
        try:
            metres.append(parse(text, "length"))
        except UnitError as error:
            raise Refusal(f"{words}, {side}: {error.problem}", error.cure) from None
    return cast(tuple[str, str, str], typed), cast(tuple[float, float, float], tuple(metres))


def _name(text: str, otherwise: str) -> str:
    return " ".join(text.split())[:60] or otherwise


def _whole(text: str, words: str, low: int, high: int) -> int:
    if not (text.strip().isascii() and text.strip().isdigit() and low <= int(text) <= high):
        raise Refusal(f"{words}: {text[:20]!r} is no such number", f"give one from {low} to {high}")
    return int(text)
