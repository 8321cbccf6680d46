"""Temperature and vapour through one face: films by orientation, jacket and sky; which interfaces may sweat at all."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.airs import Airs, Found, cases
from sordino.assess.freshair import scatter
from sordino.assess.skins import Skin
from sordino.physics.climate.layers import Interfaces, Sheet, interfaces
from sordino.physics.climate.surfaces import film, sky_drop
from sordino.plan.climate import CONDITIONS
from sordino.plan.statement import Plan

SAME = 0.25
"""Difference of temperature that is none, K."""


def profile(skin: Skin, condition: str, airs: Airs, slower: float = 1.0, thinner: float = 1.0) -> Interfaces:
    """Temperature and vapour through one face; `slower` multiplies the outer film, `thinner` all insulation."""
    outer = _outer_film(skin, condition, airs) * slower
    outside = airs.outside.temperature
    if airs.open_air and skin.face in ("up", "side", "corner"):
        outside -= sky_drop(condition, "up" if skin.face == "up" else "side", skin.emissivity, outer)
    inner = film("moving duct" if airs.moving else "corner" if skin.face == "corner" else "still air", "horizontal")
    return interfaces(
        skin.sheets if thinner == 1.0 else _thinned(skin, thinner),
        (airs.inside.temperature, airs.inside.vapour),
        (outside, airs.outside.vapour),
        1.0 / inner,
        1.0 / outer,
    )


def _thinned(skin: Skin, thinner: float) -> list[Sheet]:
    return [Sheet(name=each.name, resistance=each.resistance * thinner, sd=each.sd) for each in skin.sheets]


def _outer_film(skin: Skin, condition: str, airs: Airs) -> float:
    """Heat transfer outside, by where heat flows and by the jacket."""
    if airs.open_air and condition.startswith("winter"):
        return film("wind", "horizontal", skin.emissivity)
    inward = airs.outside.temperature > airs.inside.temperature
    way = {"up": "down" if inward else "up", "down": "up" if inward else "down"}.get(skin.face, "horizontal")
    return film("corner" if skin.face == "corner" else "still air", way, skin.emissivity)


def may_sweat(warm: float, vapour: float, airs: Airs) -> bool:
    """Not where a surface is as warm as an air that is at least as moist."""
    return not any(
        warm >= air.temperature - SAME and vapour <= 1.02 * air.vapour for air in (airs.inside, airs.outside)
    )


def every_face(plan: Plan, found: Found) -> Iterator[tuple[Skin, str, Airs, Interfaces]]:
    """Every interface of every face of boxes and ducts in every hour, with the air off and on."""
    for skin, condition, states in cases(plan, found, CONDITIONS, ""):
        for airs in states:
            yield skin, condition, airs, profile(skin, condition, airs)


def place_words(made: tuple[Sheet, ...], index: int) -> str:
    """An interface in words, from its index counted from inside."""
    if index == 0:
        return f"on the inner face of the {made[0].name}"
    if index == len(made):
        return f"on the outside of the {made[-1].name}"
    return f"between {made[index - 1].name} and {made[index].name}"


def _both(key: str) -> tuple[float, float]:
    return 1.0 - scatter(key), 1.0 + scatter(key)


def reaches(skin: Skin, condition: str, airs: Airs) -> Iterator[Interfaces]:
    """The face with films and insulation at both ends of what is known of them."""
    for slower in _both("surface film"):
        for thinner in _both("insulation"):
            yield profile(skin, condition, airs, slower, thinner)
