"""What a change that was tried did to the project: its finding, the targets, and what got worse."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.assessment import Assessment
from sordino.report.verdict import rank, targets
from sordino.web.views import telling
from sordino.web.views.telling import Told


@dataclass(frozen=True, kw_only=True, slots=True)
class Trial:
    """A change that was tried, and the state of the project that it led to."""

    number: int
    words: str
    before: str
    """The project's text without it."""
    name: str = ""
    """The finding it was tried against."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Count:
    """Targets missed, or likely to be, of all."""

    missed: int
    held: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """What it did."""

    words: str
    was: Told | None
    now: Told | None
    before: Count
    after: Count
    worse: tuple[Told, ...]
    """Found now that are missed or worth a look, and were not, or less."""
    better: tuple[Told, ...]
    """Found before that were, and are no more."""


def outcome(trial: Trial, before: Assessment, after: Assessment) -> Outcome:
    """What a trial did."""
    was, now = ({each.name: each for each in telling.told(found)} for found in (before, after))
    return Outcome(
        words=trial.words,
        was=was.get(trial.name),
        now=now.get(trial.name),
        before=_count(before),
        after=_count(after),
        worse=tuple(each for name, each in now.items() if _worse(was.get(name), each)),
        better=tuple(each for name, each in was.items() if name != trial.name and _gone(each, now.get(name))),
    )


def _count(found: Assessment) -> Count:
    held = targets(found, tuple(found.plan.mode))
    return Count(missed=sum(each.missed for each in held), held=len(held))


def _bad(told: Told) -> bool:
    return told.finding.missed or told.finding.heed


def _worse(was: Told | None, now: Told) -> bool:
    return _bad(now) and (was is None or rank(now.finding) < rank(was.finding))


def _gone(was: Told, now: Told | None) -> bool:
    return _bad(was) and (now is None or not _bad(now))
