"""What the page says of an assessment: how the targets stand, and every finding with its place, the worst first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.plan.statement import Plan
from sordino.report.verdict import RANK, rank, targets, told_as
from sordino.web.fields import KINDS


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """One finding as the page shows it."""

    finding: Finding
    mode: str
    href: str
    """Page of the thing it speaks of; empty if it has none."""

    @property
    def words(self) -> str:
        """The standing in words."""
        return "no target" if self.stands == "note" else self.stands

    @property
    def stands(self) -> str:
        """How it stands, for its sign."""
        return told_as(self.finding)


def worst(found: Assessment) -> str:
    """The standing of the worst target; `note` if there is none."""
    held = targets(found, tuple(found.plan.mode))
    return min((finding.standing for finding in held), key=RANK.index, default="note")


def told(found: Assessment, findings: Iterable[Finding] | None = None) -> list[Told]:
    """Findings, the worst first and otherwise in the order in which they were made."""
    several = len(found.plan.mode) > 1
    chosen = found.findings if findings is None else findings
    ordered = sorted(chosen, key=rank)
    return [
        Told(finding=each, mode=each.mode if several else "", href=href(found.plan, each.subject)) for each in ordered
    ]


def of_thing(found: Assessment, key: str) -> list[Told]:
    """What was found of one thing."""
    return told(found, [finding for finding in found.findings if finding.subject == key])


def href(plan: Plan, key: str) -> str:
    """The page of a thing by its key."""
    kind = kind_of(plan, key)
    return f"/{kind}/{key}" if kind else ""


def kind_of(plan: Plan, key: str) -> str:
    """The table that a key stands in; empty if in none."""
    return next((kind for kind in KINDS if kind != "mode" and key in getattr(plan, kind)), "")


def title(plan: Plan, kind: str, key: str) -> str:
    """What a thing is called on the page."""
    return plan.place_name(key) if kind in ("room", "space", "mover") else key
