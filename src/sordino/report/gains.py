"""What helps where something does not hang, fit, lift or breathe, in words."""

from __future__ import annotations

from math import isinf

from sordino.assess.assessment import Assessment
from sordino.assess.finding import Finding
from sordino.assess.weight import mass
from sordino.report.advice import Advice, Way
from sordino.report.phrases import count, flow
from sordino.search.gains import Gains
from sordino.search.help import Help
from sordino.search.trial import Gain
from sordino.units import show


def gain_advice(found: Assessment, finding: Finding, helps: Help) -> Advice:
    """Each change that is told of; empty where nothing was tried."""
    mine = next((each for each in helps.gains if each.finding is finding), None)
    if mine is None or not mine.tried:
        return Advice()
    if not mine.best:
        return Advice(rest=f"none of {count(mine.tried, 'change')} tried.")
    ways = tuple(
        Way(words=_gain(found, mine, gain), change=gain.words, plan=gain.plan, meets=gain.meets) for gain in mine.best
    )
    return Advice(ways=ways, rest="" if any(way.meets for way in ways) else "None of these is enough alone.")


def _gain(found: Assessment, mine: Gains, gain: Gain) -> str:
    unit = mine.finding.unit
    cost = f" ({gain.cost})" if gain.cost else ""
    if mine.faults or isinf(gain.limit):
        return f"{gain.words}{cost}"
    before, after, limit = (_figure(found, unit, value) for value in (gain.before, gain.after, gain.limit))
    if mine.finding.question == "fit":
        spare = show(round(abs(gain.limit - gain.after), 3), "length", found.plan.units)
        return f"{gain.words}: {f'{spare} to spare' if gain.meets else f'still {spare} too much'}{cost}"
    if mine.finding.question == "bridge":
        return f"{gain.words}: {after} instead of {before}{cost}"
    still, then = "" if gain.meets else "still ", f" instead of {before}" if after != before else ""
    return f"{gain.words}: {still}{after} of {limit}{then}{cost}"


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
        return f"{value:.{1 if unit == 'Hz' else 0}f} {unit}"
    return count(round(value), "leaf", "leaves") if unit.startswith("leaves") else f"{value:.2f} {unit}"
