"""How much refrigerant a room can take if all of it leaks there."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

import numpy as np

from sordino.tables import table

RELEASE = {"floor": 0.6, "window": 1.0, "wall": 1.8, "ceiling": 2.2}
"""Height of a leak by where the indoor unit is mounted, m (IEC 60335-2-40, as tabled by makers)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Refrigerant:
    """Safety class; lower flammability limit and concentration limit, kg/m3 (NaN: does not burn)."""

    name: str
    safety: str
    lower_flammability: float
    limit: float

    @property
    def burns(self) -> bool:
        """Whether it can burn."""
        return not np.isnan(self.lower_flammability)


def refrigerants() -> dict[str, str]:
    """Every spelling on record and the refrigerant that it means."""
    return table("structure/refrigerant").spellings()


def refrigerant(name: str) -> Refrigerant:
    """The refrigerant of that name; KeyError names those on record."""
    row = table("structure/refrigerant").row("name", name)
    lower = float(row["lfl"]) if row["lfl"] else nan
    return Refrigerant(name=name, safety=row["class"], lower_flammability=lower, limit=float(row["limit"]))


def charge_by_volume(limit: float, volume: float) -> float:
    """Charge that would reach a concentration limit (kg/m3) in a closed room of `volume` m3, kg (ASHRAE 15 7.3)."""
    return limit * volume


def charge_by_floor(lower_flammability: float, floor_area: float, release_height: float) -> float:
    """Largest charge of what burns slowly, 2.5 LFL^1.25 h0 sqrt(A) kg (IEC 60335-2-40:2018 annex GG, unventilated).

    `lower_flammability` kg/m3, `floor_area` m2, `release_height` m. Up to `charge_without_limit` it asks for nothing.
    """
    return float(2.5 * lower_flammability**1.25 * release_height * np.sqrt(floor_area))


def charge_without_limit(lower_flammability: float) -> float:
    """Charge below which that rule asks for no floor area, 6 m3 x LFL, kg (IEC 60335-2-40:2018)."""
    return 6.0 * lower_flammability
