"""What helps against stale air, heat, wet and mould, in words."""

from __future__ import annotations

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.assess.wording import degrees
from sordino.report.phrases import count, flow
from sordino.search.help import Help
from sordino.search.indoor_help import IndoorRemedies, IndoorRemedy


def indoor_words(found: Assessment, finding: Finding, helps: Help) -> str:
    """A sentence to follow a finding's own; empty where nothing was tried."""
    mine = next((each for each in helps.indoors if each.finding is finding), None)
    if mine is None or not mine.tried:
        return ""
    if not mine.best:
        return f" What helps most: none of {count(mine.tried, 'change')} tried."
    best = mine.best[0]
    told = f" What helps most: {best.words}: {_figure(found, finding, best.after)} instead of "
    told += _figure(found, finding, best.before)
    return f"{told}{_then(finding, best, mine)}."


def _figure(found: Assessment, finding: Finding, value: float) -> str:
    if finding.question == "fresh air":
        return flow(found.plan, value)
    if finding.question == "carbon dioxide":
        return f"{value:.0f} ppm"
    if finding.question == "mould":
        return f"{100 * value:.0f} %"
    return degrees(found.plan, value)


def _then(finding: Finding, best: IndoorRemedy, mine: IndoorRemedies) -> str:
    if best.meets:
        dry = {"moisture": ", dry in all seasons", "mould": ", dry in all seasons"}
        return dry.get(finding.question, ", enough")
    if finding.question in ("moisture", "mould"):
        return f"; none of {count(mine.tried, 'wrap')} tried keeps it dry in all seasons"
    return ", not enough alone"
