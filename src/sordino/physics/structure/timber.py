"""Dimension lumber: what is on record of a grade, and the stress it may bear."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.kinds import INCH, POUND
from sordino.tables import table

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2."""
PSI = POUND * GRAVITY / INCH**2
"""One pound-force on a square inch, Pa."""
REPETITIVE = 1.15
"""Bending stress of three or more joists that share a load through a deck (National Design Specification 4.3.9)."""
TOGETHER = 24.0 * INCH + 1e-6
"""Widest spacing at which joists under one deck count as helping one another, m."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Lumber:
    """A grade: specific gravity, modulus of elasticity Pa, reference bending stress Pa."""

    wood: str
    gravity: float
    modulus: float
    bending: float


def woods() -> dict[str, str]:
    """Every spelling on record and the grade that it means."""
    return table("structure/lumber").spellings()


def lumber(wood: str) -> Lumber:
    """The grade of that name; KeyError names those on record."""
    row = table("structure/lumber").row("wood", wood)
    return Lumber(
        wood=wood,
        gravity=float(row["gravity"]),
        modulus=float(row["modulus"]) * PSI,
        bending=float(row["bending"]) * PSI,
    )


def size_factor(depth: float) -> float:
    """Factor on the bending stress by the depth of the section (m), from the table; 1.5 below 90 mm, 0.9 above 290."""
    rows = table("structure/size_factor").numbers("depth", "factor")
    deeper = np.searchsorted(rows[:, 0], depth / INCH - 1e-6)
    return float(rows[min(int(deeper), len(rows) - 1), 1])


def load_duration(load: str) -> float:
    """Factor by how long a load stays, as `permanent`; KeyError names those on record."""
    return float(table("structure/load_duration").row("load", load)["factor"])


def allowed_bending(wood: str, depth: float, load: str, shared: bool) -> float:
    """Bending stress that joists of a grade and depth (m) may bear, Fb CD CF Cr, Pa (its section 4.3).

    `shared`: three or more at no more than TOGETHER under one deck. Dry, not incised, braced sideways.
    """
    factor = size_factor(depth) * load_duration(load) * (REPETITIVE if shared else 1.0)
    return lumber(wood).bending * factor
