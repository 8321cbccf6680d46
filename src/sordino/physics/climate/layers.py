"""A wall of layers between two airs: temperature and vapour pressure at every interface (steady, one-dimensional).

Both fall in proportion to resistance: R = d/k for heat, sd = mu d (metres of still air) for vapour (EN ISO 13788).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate

import numpy as np

from sordino.tables import table

FILM_SD = 0.0075
"""Vapour resistance of a surface film, m of still air (judgement)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """One layer: what it is, its thermal resistance in m2K/W and its vapour resistance in m of still air."""

    name: str
    resistance: float
    sd: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Interfaces:
    """Temperature (C) and vapour pressure (Pa) from the inner surface to the outer, one more than there are layers."""

    temperatures: tuple[float, ...]
    vapours: tuple[float, ...]
    heat: float
    """Heat through the wall, W/m2, outwards positive."""


def interfaces(
    layers: Sequence[Sheet],
    inside: tuple[float, float],
    outside: tuple[float, float],
    inner_film: float,
    outer_film: float,
) -> Interfaces:
    """Solve a wall between two airs, each (temperature C, vapour pressure Pa); films in m2K/W, layers from inside."""
    heat = list(accumulate((layer.resistance for layer in layers), initial=inner_film))
    wet = list(accumulate((layer.sd for layer in layers), initial=FILM_SD))
    warming = (outside[0] - inside[0]) / (heat[-1] + outer_film)
    damping = (outside[1] - inside[1]) / (wet[-1] + FILM_SD)
    return Interfaces(
        temperatures=tuple(inside[0] + warming * along for along in heat),
        vapours=tuple(inside[1] + damping * along for along in wet),
        heat=-warming,
    )


PERMEABILITY = 2.0e-10
"""Water vapour that a metre of still air lets through for each pascal, kg/(m s Pa) (EN ISO 13788)."""


def condensing(layers: Sequence[Sheet], index: int, vapours: tuple[float, float], saturated: float) -> float:
    """Water gathering at an interface held at saturation, kg/m2s: what reaches it less what leaves (EN ISO 13788).

    `vapours` inside and outside and `saturated` at the interface in Pa; `index` counts interfaces from inside.
    """
    before = FILM_SD + sum(layer.sd for layer in layers[:index])
    behind = FILM_SD + sum(layer.sd for layer in layers[index:])
    return PERMEABILITY * ((vapours[0] - saturated) / before + (vapours[1] - saturated) / behind)


@cache
def board(name: str, thickness: float) -> Sheet:
    """A sheet of board by its name on record and its thickness in m."""
    row = table("climate/material").row("name", name)
    return Sheet(
        name=name, resistance=thickness / float(row["conductivity"]), sd=thickness * float(row["vapour_factor"])
    )


@cache
def fibre(thickness: float, density: float = 12.0, name: str = "lining") -> Sheet:
    """Fibre of a thickness in m and a density in kg/m3; it holds vapour up as little as air does."""
    known = table("climate/fibre")
    conductivity = float(np.interp(density, known.numbers("density"), known.numbers("conductivity")))
    return Sheet(name=name, resistance=thickness / conductivity, sd=thickness)


def air_gap(depth: float) -> Sheet:
    """An air space of 20 mm or more: 0.18 m2K/W whatever its depth (EN ISO 6946 table 2, horizontal; memory)."""
    return Sheet(name="air space", resistance=0.18 * min(depth / 0.02, 1.0), sd=depth)


def transmittance(layers: Sequence[Sheet], inner_film: float = 0.13, outer_film: float = 0.13) -> float:
    """U of a wall, W/m2K (EN ISO 6946)."""
    return 1.0 / (inner_film + outer_film + sum(layer.resistance for layer in layers))
