"""What helps against stale air, heat, wet and mould: the plan changed and the same question asked of it again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from typing import Literal

from sordino.assess.assessment import Assessment
from sordino.assess.damp import damps
from sordino.assess.finding import Finding
from sordino.assess.mould import MOULD, moulds
from sordino.assess.profiles import profile
from sordino.assess.skins import RETARDER, Skin, skins
from sordino.elements.wrap import Wrap
from sordino.kinds import R_VALUE
from sordino.physics.climate import moist
from sordino.plan.statement import Plan
from sordino.search import fitting_in, indoor_edits
from sordino.search.indoor_air import against_air
from sordino.search.indoor_remedy import IndoorRemedy, Tried, spoilt
from sordino.units import show

INSULATIONS = {"metric": (0.7, 1.0, 1.4, 2.1, 2.8, 4.2), "inch": tuple(r * R_VALUE for r in (4, 6, 8, 12, 16, 24))}
"""Thermal resistances that are sold, m2K/W."""
SIDES: tuple[Literal["outside", "inside", "none"], ...] = ("outside", "inside", "none")
WET = ("moisture", "mould")
ASKED = ("fresh air", "carbon dioxide", "cooling", "humidity", *WET)


@dataclass(frozen=True, kw_only=True, slots=True)
class IndoorRemedies:
    """What was tried against one finding, the best first."""

    finding: Finding
    tried: int
    best: tuple[IndoorRemedy, ...]


def indoor_remedies(found: Assessment, finding: Finding) -> IndoorRemedies | None:
    """Try what a builder would against one finding of heat, fresh air or moisture; None of any other."""
    if not asked_indoors(finding):
        return None
    asked = _against_wet if finding.question in WET else against_air
    tried = list(_until_met(asked(found, finding)))
    better = [each for each in tried if abs(each[0].after - each[0].before) > 1e-3 * abs(each[0].before)]
    chosen = _chosen(finding, [each for each, _ in better])
    plans = {id(each): changed for each, changed in better}
    told = tuple(
        replace(each, spoils=spoilt(found, finding.mode, plans[id(each)]), plan=plans[id(each)]) for each in chosen
    )
    return IndoorRemedies(finding=finding, tried=len(tried), best=told)


def asked_indoors(finding: Finding) -> bool:
    """Whether anything would be tried against it."""
    return finding.question in ASKED and finding.value is not None and finding.limit is not None


def _until_met(tried: Iterator[Tried]) -> Iterator[Tried]:
    for each in tried:
        yield each
        if each[0].meets:
            return


def _chosen(finding: Finding, tried: list[IndoorRemedy]) -> tuple[IndoorRemedy, ...]:
    """The first that meets the limit, since they come with the least first; else the one that comes nearest."""
    good = [each for each in tried if each.meets]
    if good:
        return (good[0],)
    upper = finding.question in ("carbon dioxide", "cooling", "humidity", "mould")
    closest = sorted(tried, key=lambda each: each.after if upper else -each.after)
    better = [each for each in closest if (each.after < each.before) == upper]
    return tuple(better[:1])


def _against_wet(found: Assessment, finding: Finding) -> Iterator[Tried]:
    """Insulation outside, the least first, with the retarder on either side; both questions must be met."""
    subject = finding.subject
    for r in INSULATIONS[found.plan.units]:
        for side in SIDES:
            jacket: Literal["plastic film", "bare board"] = "plastic film" if side == "outside" else "bare board"
            wrap = Wrap.model_construct(r=r, jacket=jacket, retarder=side)
            changed = indoor_edits.with_wrap(subject, wrap)(found.plan)
            words = _wrap_words(found.plan, subject, wrap) + fitting_in.crowded(found.plan, changed, subject)
            yield _wet_again(found, finding, changed, words), changed


def _wrap_words(plan: Plan, subject: str, wrap: Wrap) -> str:
    where = "the box" if subject in plan.box else "the ducts"
    side = {
        "outside": "with the vapour retarder on its outside",
        "inside": f"with the vapour retarder on the inside of {where}",
        "none": "open to vapour",
    }
    return f"{_resistance(plan, wrap.r)} round {where} {side[wrap.retarder]}"


def _resistance(plan: Plan, r: float) -> str:
    return f"R-{r / R_VALUE:.0f}" if plan.units == "inch" else show(r, "resistance", "metric")


def _wet_again(found: Assessment, finding: Finding, changed: Plan, words: str) -> IndoorRemedy:
    rooms, subject = found.indoors.rooms, finding.subject
    wet = damps(changed, rooms, subject)
    mean = next((each.humidity for each in moulds(changed, rooms, subject)), 0.0)
    meets = not any(each.wet for each in wet) and mean <= MOULD
    assert finding.value is not None
    if finding.question == "mould":
        return IndoorRemedy(words=words, before=finding.value, after=mean, meets=meets)
    there = _same_place(found, finding, changed)
    return IndoorRemedy(words=words, before=finding.value, meets=meets, **asdict(there))


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Temperature and dew point of an interface, C, and whether it lies between layers."""

    after: float
    dew: float
    between: bool


def _same_place(found: Assessment, finding: Finding, changed: Plan) -> Place:
    """The changed plan where the finding is about; an outside stays the outside."""
    mine = next(
        each
        for each in found.indoors.damp
        if each.skin.subject == finding.subject and each.temperature == finding.value
    )
    old = mine.skin
    faces = skins(changed, old.subject)
    new = next(each for each in faces if (each.run, each.part, each.face) == (old.run, old.part, old.face))
    index = len(new.sheets) if mine.index == len(old.sheets) else _beyond(new, _layers(old, mine.index))
    solved = profile(new, mine.condition, mine.airs)
    dew = moist.dew_point(solved.vapours[index])
    return Place(after=solved.temperatures[index], dew=dew, between=0 < index < len(new.sheets))


def _layers(skin: Skin, index: int) -> int:
    """How many layers lie inside of an interface, retarders not counted."""
    return sum(sheet.name != RETARDER for sheet in skin.sheets[:index])


def _beyond(skin: Skin, layers: int) -> int:
    """The innermost interface with so many layers inside of it."""
    return next(index for index in range(len(skin.sheets) + 1) if _layers(skin, index) == layers)
