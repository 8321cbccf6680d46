"""What sweats and what grows mould, held against the dew point and against 80 %."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.airs import OFF, ON
from sordino.assess.damp import Damp, nearness
from sordino.assess.finding import Finding, Standing, standing
from sordino.assess.mould import MOULD, Mould
from sordino.assess.skins import Skin
from sordino.assess.surroundings import weather_known
from sordino.assess.wording import VERDICT, degrees
from sordino.plan.statement import Plan


def moisture_findings(plan: Plan, damp: tuple[Damp, ...], mould: tuple[Mould, ...]) -> Iterator[Finding]:
    """Each box at its dampest and by its mean, and the ducts that are not well."""
    subjects = dict.fromkeys(each.skin.subject for each in damp)
    worst = [max((each for each in damp if each.skin.subject == subject), key=nearness) for subject in subjects]
    wet = [_wet_finding(plan, each) for each in worst]
    sodden = {finding.subject for finding in wet if finding.missed}
    told = wet + [_mould_finding(plan, each) for each in mould if each.skin.subject not in sodden]
    for finding in told:
        if finding.subject in plan.box or finding.low is None or not _well(finding):
            yield finding


def _well(finding: Finding) -> bool:
    """Whether a duct is dry and free of mould, range and all: then the table says so."""
    assert finding.value is not None
    assert finding.limit is not None
    upper = finding.question == "mould"
    return (finding.high or 0.0) <= finding.limit if upper else (finding.low or 0.0) >= finding.limit


def _known(plan: Plan, skin: Skin, condition: str) -> bool:
    """Whether the weather that a finding rests on is stated; a judgement on assumed weather is only a note."""
    space = plan.space.get(skin.within)
    return weather_known(plan, condition) or (space is not None and condition in space.air)


def _wet_finding(plan: Plan, each: Damp) -> Finding:
    known = _known(plan, each.skin, each.condition)
    verdict: Standing = standing(-each.temperature, -each.high, -each.low, -each.limit)
    return Finding(
        subject=each.skin.subject,
        question="moisture",
        mode="",
        standing=verdict if known else "note",
        beside=verdict,
        value=each.temperature,
        low=each.low,
        high=each.high,
        limit=each.limit,
        unit="°C",
        sentence=_wet_words(plan, each, verdict) + ("" if known else " The weather is assumed: state it under [site]."),
        method="steady heat and vapour through the layers, films by orientation and emissivity",
        widest="surface film" if "outside" in each.at else "insulation",
    )


def _wet_words(plan: Plan, each: Damp, verdict: Standing) -> str:
    name, weather = _name(each.skin), each.condition.replace("_", " ")
    running = f"with the air {OFF if each.airs.mode == OFF else ON}"
    told = "wet" if each.wet else "likely dry" if verdict == "likely met" else "dry"
    near = " (a corner)" if each.skin.face == "corner" else ""
    surface = f"{degrees(plan, each.temperature)} {each.at}{near}"
    span = f"{degrees(plan, each.low)} to {degrees(plan, each.high)}"
    dew = f"dew point {degrees(plan, each.dew)}"
    day = f"{'in winter' if weather == 'winter' else f'on a {weather}'}, {running}"
    place = plan.spoken(each.skin.within)
    words = f"{name} in {place}, {day}: {surface} ({span}), {dew}: {told}."
    return words + (_leak_words(each) if each.wet or verdict != "met" else "")


def _leak_words(each: Damp) -> str:
    """Where the moisture comes from, and so where it must be stopped."""
    outward = each.airs.inside.vapour > each.airs.outside.vapour
    if outward:
        return (
            " Room air that reaches the cold casing leaves its water there: seal every seam from inside, and insulate "
            "outside."
        )
    return " The air around it leaves its water there: close the jacket at every seam, collar and strap."


def _name(skin: Skin) -> str:
    return f"The {skin.label}" if skin.label.startswith("box ") else f"{skin.run}, {skin.label}"


def _mould_finding(plan: Plan, each: Mould) -> Finding:
    known = _known(plan, each.skin, each.condition)
    verdict = standing(each.humidity, each.low, each.high, MOULD)
    season = each.condition.replace("_month", "")
    span = f"{100 * each.humidity:.0f} % ({100 * each.low:.0f} to {100 * each.high:.0f})"
    return Finding(
        subject=each.skin.subject,
        question="mould",
        mode="",
        standing=verdict if known else "note",
        beside=verdict,
        value=each.humidity,
        low=each.low,
        high=each.high,
        limit=MOULD,
        unit="of saturation",
        sentence=(
            f"{_name(each.skin)}: over thirty days of {season} the mean humidity {each.at} is {span} against 80 % for "
            f"mould: {VERDICT[verdict]}.{'' if known else ' The weather is assumed: state it under [site].'}"
        ),
        method="mean of air on and off in the month's mean weather; ASHRAE 160-2009",
        widest="how many hours air runs, and the month's weather",
    )
