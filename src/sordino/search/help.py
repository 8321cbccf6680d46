"""All that helps a plan where it misses something: for the noise of its rooms, and for the loss between them."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.search.bypasses import Bypasses, bypasses
from sordino.search.gains import Gains, gains
from sordino.search.indoor_help import IndoorRemedies, indoor_remedies
from sordino.search.remedies import Remedies, remedies


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
    missed = [finding for finding in assessment.findings if finding.missed and finding.mode in ("", *modes)]
    pairs = [(finding, bypasses(assessment, finding)) for finding in missed if finding.question == "isolation"]
    return Help(
        noise=tuple(remedies(assessment, each.subject, each.mode) for each in missed if each.question == "noise"),
        isolation=tuple((finding, found) for finding, found in pairs if found is not None),
        gains=tuple(each for each in (gains(assessment, finding) for finding in missed) if each is not None),
        indoors=tuple(
            each for each in (indoor_remedies(assessment, finding) for finding in missed) if each is not None
        ),
    )
