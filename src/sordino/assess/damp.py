"""Where boxes and ducts sweat: colder than the dew point there plus 1 K.

A surface that is as warm as an air at least as moist is left out, and so are interfaces that hardly any water reaches.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sordino.assess.airs import Airs, Found, cases
from sordino.assess.profiles import SAME, may_sweat, place_words, profile, reaches
from sordino.assess.skins import Skin
from sordino.physics.climate import moist
from sordino.physics.climate.layers import condensing
from sordino.physics.climate.surfaces import is_wet
from sordino.plan.climate import CONDITIONS
from sordino.plan.statement import Plan

MARGIN = 1.0
"""K above the dew point that count as wet."""
TRICKLE = 5e-3 / 86_400.0
"""Water gathering between layers that is let pass, kg/m2s: 5 g/m2 a day, 500 g/m2 in a season (judgement)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Damp:
    """The dampest interface of one face in one condition; temperatures C."""

    skin: Skin
    condition: str
    airs: Airs
    index: int
    """Of the interface, counted from inside."""
    temperature: float
    low: float
    high: float
    dew: float
    humidity: float
    leaks: bool = False
    """Whether the moister of both airs, let in by a seam, would wet any interface that it does not wet now."""

    @property
    def at(self) -> str:
        """Which interface, as `between lining and plywood`."""
        return place_words(self.skin.sheets, self.index)

    @property
    def limit(self) -> float:
        """Temperature that it must not fall below."""
        return self.dew + MARGIN

    @property
    def wet(self) -> bool:
        """Whether it is."""
        return self.temperature < self.limit


def damps(plan: Plan, found: Found, subject: str = "") -> tuple[Damp, ...]:
    """The dampest interface of every box and every run's ducts in every condition, or of one subject only."""
    worst: dict[tuple[str, str], Damp] = {}
    for skin, condition, states in cases(plan, found, CONDITIONS, subject):
        for airs in states:
            one = _dampest(skin, condition, airs, plan.session.hours)
            key = (skin.subject, condition)
            if one is not None and (key not in worst or nearness(one) > nearness(worst[key])):
                worst[key] = one
    return tuple(_with_range(each) for each in worst.values())


def nearness(each: Damp) -> float:
    """How far it lies below its limit, K; negative above."""
    return each.limit - each.temperature


def _dampest(skin: Skin, condition: str, airs: Airs, share: float) -> Damp | None:
    """The interface that is farthest below, or least above, its limit."""
    solved = profile(skin, condition, airs)
    points = enumerate(zip(solved.temperatures, solved.vapours, strict=True))
    near = [
        (vapour / moist.saturation_pressure(warm - MARGIN), index)
        for index, (warm, vapour) in points
        if may_sweat(warm, vapour, airs) and _gathers(skin, index, (warm, vapour), airs, share)
    ]
    if not near:
        return None
    _, index = max(near)
    warm, vapour = solved.temperatures[index], solved.vapours[index]
    return Damp(
        skin=skin,
        condition=condition,
        airs=airs,
        index=index,
        temperature=warm,
        low=warm,
        high=warm,
        dew=moist.dew_point(vapour),
        humidity=vapour / moist.saturation_pressure(warm),
    )


def _gathers(skin: Skin, index: int, point: tuple[float, float], airs: Airs, share: float) -> bool:
    """Between tight layers too little vapour passes to matter, whatever the steady balance says in the end.

    Water gathers only while its state lasts: `share` of the time the air is on.
    """
    warm, vapour = point
    saturated = moist.saturation_pressure(warm - MARGIN)
    if index in (0, len(skin.sheets)) or vapour <= saturated:
        return True
    rate = condensing(skin.sheets, index, (airs.inside.vapour, airs.outside.vapour), saturated)
    return rate * (share if airs.moving else 1.0 - share) >= TRICKLE


def _with_range(each: Damp) -> Damp:
    """The same with the range that films and insulation leave."""
    found = [made.temperatures[each.index] for made in reaches(each.skin, each.condition, each.airs)]
    low, high = min(*found, each.temperature), max(*found, each.temperature)
    return replace(each, low=low, high=high, leaks=_wet_by_leaks(each))


def _wet_by_leaks(each: Damp) -> bool:
    """Air that gets to a colder layer carries far more water there than goes through boards."""
    airs = each.airs
    moister = max((airs.inside, airs.outside), key=lambda air: air.vapour)
    inner = profile(each.skin, each.condition, airs).temperatures[1:-1]
    return any(is_wet(warm, moister.vapour) for warm in inner if warm < moister.temperature - SAME)
