"""What people give off and what they need: heat, moisture, carbon dioxide, outdoor air."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from sordino.physics.climate.moist import EVAPORATION
from sordino.tables import table

OUTDOORS = 420.0
"""Carbon dioxide outdoors, ppm (about 2022; memory)."""
REFERENCE = "man 30-40"
"""Row of the carbon dioxide table that stands for an adult: the range reaches down to women and up to young men."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Person:
    """One person: sensible and latent heat W, share of the sensible heat that is radiant, exercise met."""

    sensible: float
    latent: float
    radiant: float
    met: float

    @property
    def water(self) -> float:
        """Moisture given off, kg/s."""
        return self.latent / EVAPORATION


@cache
def person(activity: str) -> Person:
    """A person by what they do (ASHRAE Fundamentals 2013 ch. 18 table 1, a room at 24 degrees C)."""
    row = table("climate/people").row("activity", activity)
    return Person(**{name: float(row[name]) for name in ("sensible", "latent", "radiant", "met")})


@cache
def co2_rate(met: float, temperature: float = 25.0, pressure: float = 101_325.0, kind: str = REFERENCE) -> float:
    """Carbon dioxide breathed out, m3/s at the room's temperature (C) and pressure (Pa), for 1 to 4 met.

    Straight between the columns of Persily and de Jonge 2017 table 4 (L/s at 0 C and 101 kPa); the ends are held.
    """
    rates = table("climate/co2_rate")
    row = rates.row("person", kind)
    mets = [float(name) for name in rates.columns[1:]]
    at_zero = float(np.interp(met, mets, [float(row[name]) for name in rates.columns[1:]]))
    return 1e-3 * at_zero * (temperature + 273.15) / 273.15 * 101_325.0 / pressure


def outdoor_air(people: float, floor: float, use: str = "stages and studios", effectiveness: float = 1.0) -> float:
    """Outdoor air for people on a floor in m2, m3/s: (Rp P + Ra A) / Ez (ASHRAE 62.1 equations 6.2.2.1 and 6.2.2.3).

    `effectiveness` Ez is 1 where cool air comes from above, 0.8 where warm air does.
    """
    row = table("climate/outdoor_air").row("use", use)
    return 1e-3 * (float(row["per_person"]) * people + float(row["per_area"]) * floor) / effectiveness
