"""Surfaces: films of air by orientation and emissivity, and what a clear sky takes."""

from __future__ import annotations

from functools import cache

import numpy as np

from sordino.physics.climate.moist import saturation_pressure
from sordino.tables import table

SHINY, DULL = 0.05, 0.9
"""Emissivities of the two columns of the table of films."""
RADIANT = 5.1
"""Heat radiated by a black surface near 10 degrees C for each kelvin, 4 sigma T^3, W/m2K."""
SKY = {"summer_day": 0.0, "humid_night": 8.0, "winter": 15.0, "summer_month": 4.0, "winter_month": 8.0}
"""How much colder than the air a clear sky is by condition, K (judgement; half of the dry-night figures)."""


@cache
def film(place: str, direction: str, emissivity: float = DULL) -> float:
    """Heat transfer of a surface, W/m2K, straight in emissivity between the two columns (0.05 and 0.9).

    `direction` is the way the heat flows: up, horizontal, down.
    """
    films = table("climate/film")
    rows = zip(films.text("place"), films.text("direction"), films.numbers("low", "high"), strict=True)
    low, high = next(values for where, way, values in rows if (where, way) == (place, direction))
    return float(np.interp(emissivity, [SHINY, DULL], [low, high]))


def sky_drop(condition: str, facing: str, emissivity: float, transfer: float) -> float:
    """How much colder the air seems to a surface outdoors that sees the sky, K: e h_r F dT / h.

    F is 1 for a surface that faces up, a half for an upright one, 0 for one that faces down.
    """
    seen = {"up": 1.0, "side": 0.5, "down": 0.0}[facing]
    return emissivity * RADIANT * seen * SKY[condition] / transfer


def is_wet(temperature: float, vapour: float, margin: float = 1.0) -> bool:
    """Whether a surface lies below the dew point plus a margin in K."""
    return vapour > saturation_pressure(temperature - margin)
