"""What helps against stale air, heat, wet and mould: the plan changed and the same question asked of it again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeVar

from sordino.assess.airflow import air_state
from sordino.assess.assessment import Assessment
from sordino.assess.climate import climate
from sordino.assess.cooling import RoomHeat, room_heats
from sordino.assess.damp import damps
from sordino.assess.finding import Finding
from sordino.assess.freshair import FreshAir, fresh_air
from sordino.assess.mould import MOULD, moulds
from sordino.assess.profiles import profile
from sordino.assess.session import session, whole_mode
from sordino.assess.skins import RETARDER, skins
from sordino.assess.wording import flow_words
from sordino.elements.wrap import Wrap
from sordino.kinds import R_VALUE
from sordino.physics.climate.people import outdoor_air
from sordino.plan.statement import Plan
from sordino.search import indoor_edits
from sordino.search.edits import Edit
from sordino.units import show

INSULATIONS = {"metric": (0.7, 1.0, 1.4, 2.1, 2.8, 4.2), "inch": tuple(r * R_VALUE for r in (4, 6, 8, 12, 16, 24))}
"""Thermal resistances that are sold, m2K/W."""
SIDES: tuple[Literal["outside", "inside", "none"], ...] = ("outside", "inside", "none")
ASKED = ("fresh air", "carbon dioxide", "cooling", "moisture", "mould")


@dataclass(frozen=True, kw_only=True, slots=True)
class IndoorRemedy:
    """A change, the figure it gives in the unit of the finding, and whether that is within the limit."""

    words: str
    before: float
    after: float
    meets: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class IndoorRemedies:
    """What was tried against one finding, the best first."""

    finding: Finding
    tried: int
    best: tuple[IndoorRemedy, ...]


def indoor_remedies(found: Assessment, finding: Finding) -> IndoorRemedies | None:
    """Try what a builder would against one finding of heat, fresh air or moisture; None of any other."""
    if finding.question not in ASKED or finding.value is None or finding.limit is None:
        return None
    asked = _against_wet if finding.question in ("moisture", "mould") else _against_air
    tried = list(_until_met(asked(found, finding)))
    better = [each for each in tried if abs(each.after - each.before) > 1e-3 * abs(each.before)]
    return IndoorRemedies(finding=finding, tried=len(tried), best=_chosen(finding, better))


def _until_met(tried: Iterator[IndoorRemedy]) -> Iterator[IndoorRemedy]:
    for each in tried:
        yield each
        if each.meets:
            return


def _chosen(finding: Finding, tried: list[IndoorRemedy]) -> tuple[IndoorRemedy, ...]:
    """The first that meets the limit, since they come with the least first; else the one that comes nearest."""
    good = [each for each in tried if each.meets]
    if good:
        return (good[0],)
    upper = finding.question in ("carbon dioxide", "cooling", "mould")
    closest = sorted(tried, key=lambda each: each.after if upper else -each.after)
    better = [each for each in closest if (each.after < each.before) == upper]
    return tuple(better[:1])


def _against_wet(found: Assessment, finding: Finding) -> Iterator[IndoorRemedy]:
    """Insulation outside, the least first, with the retarder on either side; both questions must be met."""
    subject = finding.subject
    for r in INSULATIONS[found.plan.units]:
        for side in SIDES:
            jacket: Literal["plastic film", "bare board"] = "plastic film" if side == "outside" else "bare board"
            wrap = Wrap.model_construct(r=r, jacket=jacket, retarder=side)
            changed = indoor_edits.with_wrap(subject, wrap)(found.plan)
            yield _wet_again(found, finding, changed, _wrap_words(found.plan, subject, wrap))


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
    after = mean if finding.question == "mould" else _same_place(found, finding, changed)
    return IndoorRemedy(words=words, before=finding.value, after=after, meets=meets)


def _same_place(found: Assessment, finding: Finding, changed: Plan) -> float:
    """Temperature of the changed plan where the finding is about, in that hour; an outside stays the outside."""
    mine = next(
        each
        for each in found.indoors.damp
        if each.skin.subject == finding.subject and each.temperature == finding.value
    )
    old = mine.skin
    new = next(each for each in skins(changed) if (each.run, each.part, each.face) == (old.run, old.part, old.face))
    added = sum(each.name == RETARDER for each in new.sheets) - sum(each.name == RETARDER for each in old.sheets)
    index = len(new.sheets) if mine.index == len(old.sheets) else mine.index + added
    return profile(new, mine.condition, mine.airs).temperatures[index]


def _against_air(found: Assessment, finding: Finding) -> Iterator[IndoorRemedy]:
    """Faster movers; gear elsewhere against heat; a unit that brings fresh air where there is none."""
    mode, room = finding.mode, finding.subject
    speeds = found.plan.mode[mode].speeds
    if any(speeds.get(name, 1.0) < 1.0 for name in found.plan.mover):
        edit = indoor_edits.with_everything_at(mode, 1.0)
        yield _air_again(found, finding, edit, f"everything at full speed in {mode}")
    if finding.question == "cooling":
        if found.plan.room[room].gear > 0.0:
            yield _air_again(found, finding, indoor_edits.without_gear(room), "the gear outside the room")
        return
    need = _need(found, finding)
    edit = indoor_edits.with_fresh_air_unit(room, need)
    words = f"a heat-recovery unit of {flow_words(found.plan, need)} with ducts in and out"
    yield _air_again(found, finding, edit, words)


def _need(found: Assessment, finding: Finding) -> float:
    """Flow that a new unit is chosen for, a tenth over what is needed."""
    room = found.plan.room[finding.subject]
    rate = outdoor_air(sum(each.count for each in room.people), room.floor_area)
    asked = next(each for each in found.indoors.fresh if (each.room, each.mode) == (finding.subject, finding.mode))
    return 1.1 * (max(rate, asked.need_co2) if finding.question == "carbon dioxide" else rate)


def _air_again(found: Assessment, finding: Finding, edit: Edit, words: str) -> IndoorRemedy:
    changed, mode = edit(found.plan), finding.mode
    before = found.state(mode)
    state = air_state(changed, mode, before.filters, found.air)
    network = climate(changed, state, changed.session.condition)
    told = session(changed, mode, {mode: network}, whole_mode(changed, mode))
    room = finding.subject
    if finding.question == "cooling":
        after = _of(room, room_heats(changed, network, told)).end
    else:
        fresh = _of(room, fresh_air(changed, state, network, told))
        after = fresh.flow if finding.question == "fresh air" else fresh.end
    assert finding.value is not None
    assert finding.limit is not None
    meets = after >= finding.limit if finding.question == "fresh air" else after <= finding.limit
    return IndoorRemedy(words=words, before=finding.value, after=after, meets=meets)


T = TypeVar("T", RoomHeat, FreshAir)


def _of(room: str, found: tuple[T, ...]) -> T:
    return next(each for each in found if each.room == room)
