"""The paper that a book is printed on."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.report.drawing.records import XY
from sordino.units import System

TOP, BOTTOM, TITLE = 18.0, 17.0, 13.0
"""Margins and the room of a page's title, mm."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Paper:
    """A size of paper, mm, by its name in shops and in the typesetter."""

    name: str
    key: str
    width: float
    height: float

    @property
    def content(self) -> float:
        """Width between the margins."""
        return self.width - 2.0 * self.margin

    @property
    def margin(self) -> float:
        """At the left and right, mm."""
        return 15.0

    @property
    def room(self) -> XY:
        """What one drawing under a page's title may take."""
        return self.content, self.height - TOP - BOTTOM - TITLE


PAPERS = {
    "a4": Paper(name="A4", key="a4", width=210.0, height=297.0),
    "letter": Paper(name="Letter", key="us-letter", width=215.9, height=279.4),
}


def usual(units: System) -> Paper:
    """The paper of those who measure so."""
    return PAPERS["letter" if units == "inch" else "a4"]
