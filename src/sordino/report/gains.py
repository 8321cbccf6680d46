"""What helps where something does not hang, fit, lift or breathe, in words."""

from __future__ import annotations

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.assess.weight import mass
from sordino.report.phrases import count, figure, flow
from sordino.search.gains import Gains
from sordino.search.help import Help
from sordino.search.trial import Gain
from sordino.units import show


def gain_words(found: Assessment, finding: Finding, helps: Help) -> str:
    """A sentence to follow a finding's own; empty where nothing was tried."""
    mine = next((each for each in helps.gains if each.finding is finding), None)
    if mine is None or not mine.tried:
        return ""
    if not mine.best:
        return f" What helps most: none of {count(mine.tried, 'change')} tried."
    told = "; ".join(_gain(found, mine, gain) for gain in mine.best)
    none = "" if any(gain.meets for gain in mine.best) else " None of these is enough alone."
    return f" What helps most: {told}.{none}"


def _gain(found: Assessment, mine: Gains, gain: Gain) -> str:
    unit = mine.finding.unit
    before, after = (_figure(found, unit, value) for value in (gain.before, gain.after))
    if not unit:
        scale = next(iter(found.noise.values())).scale
        before, after = (figure(scale, value) for value in (gain.before, gain.after))
        return f"{gain.words}, with {after} instead of {before}"
    limit = _figure(found, unit, gain.limit)
    if mine.finding.question == "fit":
        spare = _figure(found, unit, abs(gain.limit - gain.after))
        return f"{gain.words}: {f'{spare} to spare' if gain.meets else f'still {spare} too much'}"
    if mine.finding.question == "bridge":
        return f"{gain.words}: {after} instead of {before}"
    moved = f"{after} instead of {before}" if after != before else after
    return f"{gain.words}: {moved} of {limit}" if gain.meets else f"{gain.words}: still {moved} of {limit}"


def _figure(found: Assessment, unit: str, value: float) -> str:
    plan = found.plan
    kinds = {"N": "force", "m": "length"}
    if unit in kinds:
        return show(round(value, 4), kinds[unit], plan.units)
    if unit == "kg":
        return mass(plan, value)
    if unit == "m3/s":
        return flow(plan, value)
    if unit in ("%", "Hz"):
        return f"{value:.{unit == 'Hz'}f} {unit}"
    return count(round(value), "leaf", "leaves") if unit.startswith("leaves") else f"{value:.2f} {unit}"
