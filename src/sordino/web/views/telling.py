"""What the page says of an assessment: how the targets stand, and every finding with its place, the worst first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import blake2s
from urllib.parse import quote

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.plan.statement import Plan
from sordino.report.verdict import RANK, rank, targets, told_as
from sordino.search.help import can_be_helped
from sordino.web.views.fields import KINDS


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """One finding as the page shows it."""

    finding: Finding
    mode: str
    href: str
    """Page of the thing it speaks of, in its way of running; empty if it has none."""
    name: str
    """What tells it from all others, also from one state of the project to the next."""
    can_be_helped: bool = False
    help_at: str = ""
    """Address of the view with what would help, or without it if that is shown."""
    help_from: str = ""
    """Address of the piece that tells it, if it is shown."""

    @property
    def words(self) -> str:
        """The standing in words."""
        return "no target" if self.stands == "note" else self.stands

    @property
    def first(self) -> bool:
        """Whether it is told at first sight: what is missed, and what a room hears of the others."""
        return self.finding.missed or self.finding.question == "sound from other rooms"

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
    called = names(found)
    return [
        Told(
            finding=each,
            mode=each.mode if several else "",
            href=href(found.plan, each.subject, each.mode if several else ""),
            name=called[id(each)],
            can_be_helped=can_be_helped(found, each),
        )
        for each in sorted(chosen, key=rank)
    ]


def names(found: Assessment) -> dict[int, str]:
    """A name for each finding, by its identity: what it is about, and the how manieth of that."""
    counts: Counter[tuple[str, ...]] = Counter()
    called = {}
    for each in found.findings:
        about = (each.subject, each.question, each.mode, each.method, each.unit)
        counts[about] += 1
        called[id(each)] = blake2s("\n".join((*about, str(counts[about]))).encode(), digest_size=6).hexdigest()
    return called


def named(found: Assessment, name: str) -> Finding | None:
    """The finding of a name."""
    called = names(found)
    return next((each for each in found.findings if called[id(each)] == name), None)


def worst_mode(found: Assessment, key: str) -> str:
    """The way of running in which a thing stands worst: by its noise, else by all that is found of it."""
    mine = [each for each in found.findings if each.subject == key and each.mode in found.plan.mode]
    noise = [each for each in mine if each.question == "noise"]
    ranked = sorted(noise or mine, key=lambda each: (rank(each), (each.limit or 0.0) - (each.value or 0.0)))
    return ranked[0].mode if ranked else next(iter(found.plan.mode))


def about(found: Assessment, key: str) -> list[Finding]:
    """What was found of one thing."""
    return [finding for finding in found.findings if finding.subject == key]


def href(plan: Plan, key: str, mode: str = "") -> str:
    """The page of a thing by its key, in a way of running."""
    kind = kind_of(plan, key)
    return f"/{kind}/{key}{f'?mode={quote(mode)}' if mode else ''}" if kind else ""


def kind_of(plan: Plan, key: str) -> str:
    """The table that a key stands in; empty if in none."""
    return next((kind for kind in KINDS if kind != "mode" and key in getattr(plan, kind)), "")


def title(plan: Plan, kind: str, key: str) -> str:
    """What a thing is called on the page."""
    return plan.place_name(key) if kind in ("room", "space", "mover") else key
