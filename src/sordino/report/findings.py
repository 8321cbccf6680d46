"""All other findings, the worst first."""

from __future__ import annotations

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.report import layout
from sordino.report.freshair import tabled
from sordino.report.verdict import MARGIN, also_missed, rank, told_as, told_findings

TABLED = ("fan", "pressure", "weight")
"""Questions whose plain notes stand in tables of their own."""


def findings(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """What the answer has not said yet."""
    rest = sorted(untold(found, modes), key=rank)
    if not rest:
        return []
    lines = layout.heading("What else was found, worst first")
    for finding in rest:
        mode = f"[{finding.mode}] " if finding.mode and len(found.plan.mode) > 1 else ""
        lines += layout.hanging(told_as(finding), mode + finding.sentence, MARGIN)
    return lines


def untold(found: Assessment, modes: tuple[str, ...]) -> list[Finding]:
    """Findings that neither the answer nor a table states."""
    told = [*told_findings(found, modes), *also_missed(found, modes)]
    return [
        finding
        for finding in found.findings
        if finding.mode in ("", *modes)
        and not any(finding is each for each in told)
        and not (finding.standing == "note" and (finding.question in TABLED or tabled(finding)))
    ]
