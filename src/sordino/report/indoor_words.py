"""What helps against stale air, heat, wet and mould, in words."""

from __future__ import annotations

from sordino.assess.assessment import Assessment
from sordino.assess.damp import MARGIN
from sordino.assess.finding import Finding
from sordino.assess.wording import degrees
from sordino.report.advice import Advice, Way
from sordino.report.phrases import count, figure, flow
from sordino.search.help import Help
from sordino.search.indoor_help import IndoorRemedies
from sordino.search.indoor_remedy import IndoorRemedy

TOLD = 0.3
"""From how far on a dew point counts as moved, K."""


def indoor_words(found: Assessment, finding: Finding, helps: Help) -> str:
    """A sentence to follow a finding's own; empty where nothing was tried."""
    return indoor_advice(found, finding, helps).sentence


def indoor_advice(found: Assessment, finding: Finding, helps: Help) -> Advice:
    """The one change that is told of; empty where nothing was tried."""
    mine = next((each for each in helps.indoors if each.finding is finding), None)
    if mine is None or not mine.tried:
        return Advice()
    if not mine.best:
        return Advice(rest=f"none of {count(mine.tried, 'change')} tried.")
    best = mine.best[0]
    told = f"{best.words}: {_figure(found, finding, best.after)} instead of {_figure(found, finding, best.before)}"
    told += f"{_dew(found, finding, best)}{_then(found, finding, best, mine)}"
    assert best.plan is not None, "told of with its plan"
    way = Way(words=told, change=best.words, plan=best.plan, meets=best.meets)
    return Advice(ways=(way,), rest=_spoils(found, best))


def _dew(found: Assessment, finding: Finding, best: IndoorRemedy) -> str:
    """The dew point, where the change moves it."""
    if best.dew is None or finding.limit is None or abs(best.dew + MARGIN - finding.limit) < TOLD:
        return ""
    before, after = (degrees(found.plan, value) for value in (finding.limit - MARGIN, best.dew))
    return f" over a dew point of {after} instead of {before}" if before != after else ""


def _spoils(found: Assessment, best: IndoorRemedy) -> str:
    """What it costs: noise targets that are then missed."""
    lost = [
        f"{figure(each.scale, each.after)} instead of {figure(each.scale, each.before)} in the "
        f"{found.plan.place_name(each.place).lower()} misses {figure(each.scale, each.target)}"
        for each in best.spoils
    ]
    return f"But then {', '.join(lost)}: treat its ducts against the noise as well." if lost else ""


def _figure(found: Assessment, finding: Finding, value: float) -> str:
    if finding.question == "fresh air":
        return flow(found.plan, value)
    if finding.question == "carbon dioxide":
        return f"{value:.0f} ppm"
    if finding.question in ("mould", "humidity"):
        return "fog" if value > 1.0 else f"{100 * value:.0f} %"
    return degrees(found.plan, value)


def _then(found: Assessment, finding: Finding, best: IndoorRemedy, mine: IndoorRemedies) -> str:
    if best.meets and best.dew is not None and best.after < best.dew + MARGIN:
        dew = degrees(found.plan, best.dew)
        if best.between:
            return f", near the dew point of {dew}, but too little vapour gets there to matter, and dry in all seasons"
        return (
            f", as warm as the air along it, whose dew point is {dew}: no more comes out of that air on it, and all "
            "else stays dry in all seasons; lay it to fall to a drain"
        )
    if best.meets:
        dry = {"moisture": ", dry in all seasons", "mould": ", dry in all seasons"}
        return dry.get(finding.question, ", enough")
    if finding.question in ("moisture", "mould"):
        return f"; none of {count(mine.tried, 'wrap')} tried keeps it dry in all seasons"
    return ", not enough alone"
