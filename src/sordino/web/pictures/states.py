"""How a thing of the plan stands: in words, and as a sign that is told by its shape."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.assessment import Assessment
from sordino.assess.finding import MISSED, Finding
from sordino.report.verdict import HEED, RANK, told_as
from sordino.web.pictures import marks

WORDS = {"note": "no target"}
NAMED = (*MISSED, HEED)
"""Standings that say what it is about."""
SIGN = 7.0
"""Half the height of a sign, px."""
_SHAPES = {
    "met": '<circle r="6.5" class="full"/><path d="M-3 0L-1 2.6L3.2 -2.6" class="cut"/>',
    "likely met": '<circle r="6" class="hollow"/><path d="M-3 0L-1 2.6L3.2 -2.6" class="stroke"/>',
    "likely missed": '<path d="M0 -7L7 5.6L-7 5.6Z" class="hollow"/><path d="M0 -2.4V2M0 3.4V4.2" class="stroke"/>',
    "missed": '<path d="M0 -7.4L7.4 0L0 7.4L-7.4 0Z" class="full"/><path d="M-2.3 -2.3L2.3 2.3M2.3 -2.3L-2.3 2.3" '
    'class="cut"/>',
    "stop": '<path d="M-3 -7.2H3L7.2 -3V3L3 7.2H-3L-7.2 3V-3Z" class="full"/><path d="M-4 0H4" class="cut"/>',
    HEED: '<rect x="-6" y="-6" width="12" height="12" class="hollow"/><path d="M0 -3.4V1M0 2.9V3.7" class="stroke"/>',
    "note": '<rect x="-5" y="-5" width="10" height="10" class="hollow"/>',
}
"""Disc: fine. Triangle, diamond, octagon: worse and worse. Full: sure. Hollow: only likely. Square: not judged, with a
mark in it where it is worth a look all the same."""


@dataclass(frozen=True, kw_only=True, slots=True)
class State:
    """How one thing stands."""

    standing: str
    """One of `report.verdict.RANK`."""
    worst: tuple[Finding, ...]
    """Findings that stand so; none for what nothing was asked of."""

    @property
    def words(self) -> str:
        """As `missed: noise, fit`, `met`, or `no target`."""
        told = WORDS.get(self.standing, self.standing)
        asked = list(dict.fromkeys(finding.question for finding in self.worst))
        return f"{told}: {', '.join(asked)}" if self.standing in NAMED else told


def state(found: Assessment, key: str) -> State:
    """The state of a thing by its key, which no two things of a plan share."""
    mine = [finding for finding in found.findings if finding.subject == key]
    worst = min((told_as(finding) for finding in mine), key=RANK.index, default="note")
    return State(standing=worst, worst=tuple(finding for finding in mine if told_as(finding) == worst != "note"))


def sign(standing: str, at: marks.XY) -> str:
    """The sign of a standing round a point."""
    return marks.element(
        "g",
        _SHAPES[standing],
        class_=f"sign {standing.replace(' ', '-')}",
        transform=f"translate({marks.number(at[0])} {marks.number(at[1])})",
    )


def sign_svg(standing: str) -> str:
    """The sign alone, for use in running text; the words beside it tell the same."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" class="sign-alone" viewBox="-8 -8 16 16" width="16" height="16" '
        f'aria-hidden="true">{sign(standing, (0.0, 0.0))}</svg>'
    )
