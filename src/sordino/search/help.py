"""All that helps a plan where it misses something: for the noise of its rooms, and for the loss between them."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.search.bypasses import Bypasses, bypasses, is_of
from sordino.search.gains import Gains, asked_of, gains
from sordino.search.indoor_help import IndoorRemedies, asked_indoors, indoor_remedies
from sordino.search.remedies import Remedies, remedies

BETWEEN = ("isolation", "sound from other rooms")
"""Questions of what comes from room to room."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Help:
    """What was tried, by what it was tried for."""

    noise: tuple[Remedies, ...] = ()
    isolation: tuple[tuple[Finding, Bypasses], ...] = ()
    gains: tuple[Gains, ...] = ()
    """For hanging, lifting, fit, bridges and hazards."""
    indoors: tuple[IndoorRemedies, ...] = ()
    """For fresh air, heat and moisture."""


def helping(assessment: Assessment, modes: tuple[str, ...]) -> Help:
    """What helps each missed target of these modes."""
    return _helping(assessment, [each for each in assessment.findings if each.missed and each.mode in ("", *modes)])


def helping_one(assessment: Assessment, finding: Finding) -> Help:
    """What helps against one finding that is missed or worth a look."""
    return _helping(assessment, [finding])


def _helping(assessment: Assessment, findings: list[Finding]) -> Help:
    pairs = [(each, _bypasses(assessment, each)) for each in findings if each.question in BETWEEN]
    return Help(
        noise=tuple(remedies(assessment, each.subject, each.mode) for each in findings if each.question == "noise"),
        isolation=tuple((finding, found) for finding, found in pairs if found is not None),
        gains=tuple(each for each in (gains(assessment, finding) for finding in findings) if each is not None),
        indoors=tuple(
            each for each in (indoor_remedies(assessment, finding) for finding in findings) if each is not None
        ),
    )


def _bypasses(assessment: Assessment, finding: Finding) -> Bypasses | None:
    """For what a room hears of another, what helps the missed loss between them where that is least."""
    if finding.question == "isolation":
        return bypasses(assessment, finding)
    behind = [each for each in _missed_between(assessment, finding.subject) if each.value is not None]
    return bypasses(assessment, min(behind, key=lambda each: each.value or 0.0)) if behind else None


def _missed_between(assessment: Assessment, place: str) -> list[Finding]:
    pairs = [each for each in assessment.isolations if place in (each.source, each.receiver)]
    return [
        finding
        for finding in assessment.findings
        if finding.question == "isolation" and finding.missed and any(is_of(pair, finding) for pair in pairs)
    ]


def can_be_helped(assessment: Assessment, finding: Finding) -> bool:
    """Whether anything would be tried against a finding, without trying it."""
    if not (finding.missed or finding.heed):
        return False
    if finding.question == "sound from other rooms":
        return bool(_missed_between(assessment, finding.subject))
    return finding.question in (*BETWEEN, "noise") or asked_indoors(finding) or asked_of(assessment, finding)
