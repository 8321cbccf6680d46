"""Where mould may grow: over 80 % on the mean of thirty days, between 5 and 40 degrees C (ASHRAE 160-2009)."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sordino.assess.airs import Airs, Found, cases
from sordino.assess.freshair import scatter
from sordino.assess.profiles import may_sweat, place_words, profile, reaches
from sordino.assess.skins import Skin
from sordino.physics.climate import moist
from sordino.plan.climate import MONTHS
from sordino.plan.statement import Plan

MOULD = 0.8
"""Mean humidity at a surface above which mould grows."""
COLDEST_MOULD, WARMEST_MOULD = 5.0, 40.0
SHUT = 10.0
"""Vapour resistance on both sides behind which nothing grows, m of still air (judgement)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Mould:
    """The mean humidity of thirty days at the dampest interface of a box or of a run's ducts."""

    skin: Skin
    condition: str
    states: tuple[Airs, Airs]
    """Off and on."""
    index: int
    humidity: float
    low: float
    high: float
    temperature: float

    @property
    def at(self) -> str:
        """Which interface."""
        return place_words(self.skin.sheets, self.index)


def moulds(plan: Plan, found: Found, subject: str = "") -> tuple[Mould, ...]:
    """The dampest interface of every box and every run's ducts on the mean of thirty days, or of one subject only."""
    worst: dict[str, Mould] = {}
    for skin, condition, (off, *running) in cases(plan, found, MONTHS, subject):
        for airs in running or [off]:
            one = _mean(plan, skin, condition, (off, airs))
            if one is not None and (skin.subject not in worst or one.humidity > worst[skin.subject].humidity):
                worst[skin.subject] = one
    return tuple(_mould_with_range(plan, each) for each in worst.values())


def _mean(plan: Plan, skin: Skin, condition: str, states: tuple[Airs, Airs]) -> Mould | None:
    """Humidity at each interface, weighted by the time that air runs; the dampest that mould can live at."""
    solved = (profile(skin, condition, states[0]), profile(skin, condition, states[1]))
    best: Mould | None = None
    for index in range(len(skin.sheets) + 1):
        points = [(each.temperatures[index], each.vapours[index]) for each in solved]
        if not _fed(skin, index) or not any(map(may_sweat, *zip(*points, strict=True), states)):
            continue
        warm, mean = _weighted(plan.session.hours, points)
        if COLDEST_MOULD <= warm <= WARMEST_MOULD and (best is None or mean > best.humidity):
            best = Mould(
                skin=skin,
                condition=condition,
                states=states,
                index=index,
                humidity=mean,
                low=mean,
                high=mean,
                temperature=warm,
            )
    return best


def _fed(skin: Skin, index: int) -> bool:
    """Whether vapour reaches an interface from at least one side."""
    sides = (skin.sheets[:index], skin.sheets[index:])
    return min(sum(each.sd for each in side) for side in sides) < SHUT


def _weighted(share: float, points: list[tuple[float, float]]) -> tuple[float, float]:
    """Mean temperature and humidity of (off, on) by the share of time on; nothing is damper than wet."""
    off, on = (min(vapour / moist.saturation_pressure(warm), 1.0) for warm, vapour in points)
    return (1.0 - share) * points[0][0] + share * points[1][0], (1.0 - share) * off + share * on


def _mould_with_range(plan: Plan, each: Mould) -> Mould:
    """The same with the range that films, insulation and the month's weather leave."""
    pairs = zip(*(reaches(each.skin, each.condition, airs) for airs in each.states), strict=True)
    means = [
        _weighted(plan.session.hours, [(made.temperatures[each.index], made.vapours[each.index]) for made in pair])[1]
        for pair in pairs
    ]
    wide = scatter("thirty days of weather")
    return replace(each, low=min(*means, each.humidity) - wide, high=min(max(*means, each.humidity) + wide, 1.0))
