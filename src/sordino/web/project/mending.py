"""A text that can't be used as a project, to be put right on the page: its faults, each with the line that it is in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sordino.errors import Fault, PlanError


@dataclass(frozen=True, kw_only=True, slots=True)
class Mending:
    """A text as it was typed or read, and what is wrong with it."""

    text: str
    faults: tuple[Fault, ...] = ()

    def line(self, number: int) -> str:
        """One line of the text, as far as it helps to find it."""
        lines = self.text.split("\n")
        return lines[number - 1].strip()[:120] if 0 < number <= len(lines) else ""


def mending(text: str, read: Callable[[str], object]) -> Mending:
    """What is wrong with a text, by what its reader says."""
    try:
        read(text)
    except PlanError as error:
        return Mending(text=text, faults=error.faults)
    return Mending(text=text)
