"""The answer in plain words: one sentence for every room, what helps most, and what else is missed."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.report import layout
from sordino.report.helping import advice
from sordino.report.phrases import count
from sordino.search.help import Help

MARGIN = 15
COUNTED = ("met", "likely met", "likely missed", "missed", "stop")
HEED = "worth a look"
RANK = ("stop", "missed", "likely missed", HEED, "likely met", "met", "note")
"""How findings are told, the worst first."""


def told_as(finding: Finding) -> str:
    """How a finding stands, as one of RANK."""
    return HEED if finding.heed else finding.standing


def rank(finding: Finding) -> int:
    """Its place among findings, 0 for the worst."""
    return RANK.index(told_as(finding))


def summary(found: Assessment, modes: tuple[str, ...]) -> str:
    """How many targets are met and missed, in one sentence."""
    held = targets(found, modes)
    if not held:
        return "No target is set, so nothing is met or missed."
    counts = {name: sum(finding.standing == name for finding in held) for name in COUNTED}
    if counts["met"] == len(held):
        return f"Every target is met, all {len(held)} of them." if len(held) > 1 else "The one target is met."
    return f"Of {count(len(held), 'target')}: {', '.join(f'{n} {name}' for name, n in counts.items() if n)}."


def verdict(found: Assessment, modes: tuple[str, ...], helps: Help) -> list[str]:
    """The first thing a reader sees."""
    told = told_findings(found, modes)
    lines = layout.paragraph(summary(found, modes))
    several = len(found.plan.mode) > 1
    others = list(also_missed(found, modes))
    for finding in (each for each in others if each.standing == "stop"):
        lines += _other(found, finding, helps)
    for finding in told:
        text = finding.sentence + advice(found, finding, helps).sentence
        mode = f"[{finding.mode}] " if several else ""
        lines += ["", *layout.hanging(_margin(finding), mode + text, MARGIN)]
    for finding in (each for each in others if each.standing != "stop"):
        lines += _other(found, finding, helps)
    return lines


def _other(found: Assessment, finding: Finding, helps: Help) -> list[str]:
    """What is missed besides noise, with what helps."""
    text = _label(found, finding) + finding.sentence + advice(found, finding, helps).sentence
    return ["", *layout.hanging(_margin(finding), text, MARGIN)]


def _label(found: Assessment, finding: Finding) -> str:
    """The mode that it holds in, where there are several."""
    return f"[{finding.mode}] " if finding.mode and len(found.plan.mode) > 1 else ""


def _margin(finding: Finding) -> str:
    return finding.standing if finding.standing != "note" else "no target"


def told_findings(found: Assessment, modes: tuple[str, ...]) -> list[Finding]:
    """The noise findings of the answer: each mode where targets differ, else the loudest mode of each place."""
    places: dict[str, list[Finding]] = {}
    for finding in found.findings:
        if finding.question == "noise" and finding.mode in modes:
            places.setdefault(finding.subject, []).append(finding)
    return [finding for group in places.values() for finding in _worth_telling(group)]


def _worth_telling(group: list[Finding]) -> list[Finding]:
    if len({(finding.limit, finding.unit) for finding in group}) > 1:
        return group
    return [max(group, key=lambda finding: (-rank(finding), finding.value or 0.0))]


def targets(found: Assessment, modes: tuple[str, ...]) -> list[Finding]:
    """Findings that are held against something the plan or a table asks for."""
    known = [finding for finding in found.findings if finding.mode in ("", *modes) and finding.standing != "note"]
    return [finding for finding in known if finding.limit is not None or finding.missed]


def also_missed(found: Assessment, modes: tuple[str, ...]) -> Iterator[Finding]:
    """Missed targets that are not a room's noise."""
    for finding in found.findings:
        if finding.missed and finding.question != "noise" and finding.mode in ("", *modes):
            yield finding
