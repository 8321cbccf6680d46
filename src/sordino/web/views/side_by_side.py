"""Variants side by side by their targets: how each stands in each, which is best, and which misses fewest."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.finding import Finding
from sordino.names import listed
from sordino.plan.statement import Plan
from sordino.report.phrases import figure
from sordino.report.verdict import rank, targets, told_as
from sordino.search.comparison import Column
from sordino.web.views import telling


@dataclass(frozen=True, kw_only=True, slots=True)
class Cell:
    """How one target stands in one variant; without a standing where it does not arise."""

    words: str
    stands: str
    other: bool
    """Whether it is not as in the first column."""
    best: bool
    """Whether it is better than in at least one other, and worse than in none."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """One target in all variants."""

    label: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Score:
    """One variant: its targets missed, or likely to be, of all; whether none misses fewer though some miss more."""

    name: str
    missed: int
    held: int
    first: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class SideBySide:
    """All of it."""

    scores: tuple[Score, ...]
    lines: tuple[Line, ...]
    alike: int
    """Targets that are met in all, alike."""
    verdict: str


def side_by_side(columns: tuple[Column, ...]) -> SideBySide:
    """Targets of a project and its variants, those of noise first, then the worst."""
    scores = _scores(columns)
    known = [_by_name(column) for column in columns]
    names = dict.fromkeys(name for each in known for name in each)
    rows = [[each.get(name) for each in known] for name in names]
    shown = sorted((row for row in rows if _worth_showing(row)), key=_order)
    return SideBySide(
        scores=scores,
        lines=tuple(_line(columns, row) for row in shown),
        alike=len(rows) - len(shown),
        verdict=_verdict(scores),
    )


def _by_name(column: Column) -> dict[str, Finding]:
    found = column.assessment
    called, held = telling.names(found), targets(found, tuple(found.plan.mode))
    told = [
        each for each in found.findings if each.heed or each.question == "noise" or any(each is one for one in held)
    ]
    return {called[id(each)]: each for each in told}


def _scores(columns: tuple[Column, ...]) -> tuple[Score, ...]:
    held = [targets(column.assessment, tuple(column.assessment.plan.mode)) for column in columns]
    missed = [sum(each.missed for each in mine) for mine in held]
    least = min(missed)
    return tuple(
        Score(name=column.name, missed=count, held=len(mine), first=count == least < max(missed))
        for column, count, mine in zip(columns, missed, held, strict=True)
    )


def _verdict(scores: tuple[Score, ...]) -> str:
    best = [score.name for score in scores if score.first]
    if not best:
        return f"Each misses as many targets: {scores[0].missed}."
    fewest = min(score.missed for score in scores)
    return f"Fewest targets are missed by {listed(best)}: {fewest}."


def _worth_showing(row: list[Finding | None]) -> bool:
    stands = {None if each is None else told_as(each) for each in row}
    noise = any(each is not None and each.question == "noise" for each in row)
    return noise or len(stands) > 1 or any(each is not None and (each.missed or each.heed) for each in row)


def _order(row: list[Finding | None]) -> tuple[bool, int]:
    known = [each for each in row if each is not None]
    return known[0].question != "noise", min(rank(each) for each in known)


def _line(columns: tuple[Column, ...], row: list[Finding | None]) -> Line:
    one = next(each for each in row if each is not None)
    worth = [_worth(each) for each in row]
    there = [value for each, value in zip(row, worth, strict=True) if each is not None]
    best, differ = max(there), len(set(there)) > 1
    plan = next(column.assessment.plan for column, each in zip(columns, row, strict=True) if each is not None)
    return Line(
        label=_label(plan, one),
        cells=tuple(
            Cell(
                words=_words(each),
                stands="" if each is None else told_as(each),
                other=value != worth[0],
                best=differ and each is not None and value == best,
            )
            for each, value in zip(row, worth, strict=True)
        ),
    )


def _worth(finding: Finding | None) -> tuple[float, ...]:
    """The more the better: how it stands, and for noise how quiet; what does not arise is as good as met."""
    if finding is None:
        return (5.0, 0.0)
    noise = finding.question == "noise" and finding.value is not None
    return float(rank(finding)), -float(round(finding.value or 0.0)) if noise else 0.0


def _words(finding: Finding | None) -> str:
    if finding is None:
        return "does not arise"
    stands = told_as(finding) if told_as(finding) != "note" else "no target"
    if finding.question == "noise" and finding.value is not None:
        return f"{figure(finding.unit, finding.value)}, {stands}"
    return stands


def _label(plan: Plan, finding: Finding) -> str:
    mode = f", {finding.mode}" if finding.mode and len(plan.mode) > 1 else ""
    thing = finding.subject
    name = plan.place_name(thing) if thing in plan.room | plan.space | plan.mover else thing
    if finding.question != "noise":
        return f"{name}: {finding.question}{mode}"
    return f"{name}: noise{mode}{'' if finding.limit is None else f', against {_limit(finding)}'}"


def _limit(finding: Finding) -> str:
    return f"{finding.limit:g} dBA" if finding.unit == "dBA" else f"{finding.unit} {finding.limit:g}"
