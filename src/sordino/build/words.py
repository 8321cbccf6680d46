"""How the steps name parts, lengths, masses and sticks."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.build.part import Stick
from sordino.units import System, show

ONE_PERSON, OVERHEAD = 20.0, 8.0
"""What one person lifts at a bench, and over the head, kg (NIOSH 94-110 with usual distances: 23 and 8.3)."""
STICK_WORDS = {"frame": "frame stick", "cleat": "cleat", "spacer": "spacer"}


def long(millimetres: float, units: System) -> str:
    """A length of the records as people read it."""
    return show(millimetres / 1e3, "length", units)


def mass(kilograms: float, units: System) -> str:
    """A mass as people read it."""
    return show(kilograms, "mass", units)


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """The sentences of one step."""

    work: tuple[str, ...]
    checks: tuple[str, ...] = ()
    photographs: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


def stick_words(stick: Stick, units: System) -> str:
    """One stick: how long, and where it goes."""
    word = STICK_WORDS[stick.use]
    if stick.use == "spacer":
        return f"{stick.label}: a spacer of {long(stick.length, units)} on the {stick.joins[0]}, glued and screwed"
    first, second = stick.joins
    return (
        f"{stick.label}: a {word} of {long(stick.length, units)} in the angle of {first} and {second}, on sealant, "
        "screwed to both as soon as both stand"
    )
