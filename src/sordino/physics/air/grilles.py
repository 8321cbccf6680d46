"""Loss coefficients of grille faces on the velocity pressure of the whole face; free area as a fraction, 0
to 1.

The face alone: what a duct end loses as an entry or exit comes on top. A free area of 0 gives infinity.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from sordino.physics.air.tabulated import Value
from sordino.tables import table

WALL_FRICTION = 0.02
"""Friction factor taken for the short passages of a thick plate (Idelchik diagram 4-15)."""


def perforated_face(free_area: Value) -> Value:
    """Thin sharp-edged perforated plate, (1 + 0.707 sqrt(1 - f) - f)^2 / f^2 (Idelchik diagram 8-1)."""
    solid = 1.0 - np.asarray(free_area, float)
    return ((0.707 * np.sqrt(solid) + solid) ** 2 / (1.0 - solid) ** 2)[()]


def egg_crate(free_area: Value, depth_over_cell: Value = 1.0) -> Value:
    """Grid of open cells as a thick plate, depth over the cell's hydraulic diameter 0.015 up (Idelchik 4-15).

    (0.5 s^0.75 + t s^1.375 + s^2 + 0.02 l) / f^2, s = 1 - f, t = (2.4 - l) 10^-(0.25 + 0.535 l^8 / (0.05 +
    l^8)).
    """
    free = np.asarray(free_area, float)
    solid, deep = 1.0 - free, np.minimum(depth_over_cell, 2.4)
    bend = (2.4 - deep) * 10.0 ** -(0.25 + 0.535 * deep**8 / (0.05 + deep**8))
    walls = 0.5 * solid**0.75 + bend * solid**1.375 + solid**2 + WALL_FRICTION * depth_over_cell
    return (walls / free**2)[()]


def bar_grille(free_area: Value, edge: Literal["square", "round nose", "round"] = "square") -> Value:
    """Parallel bars, beta (bar / gap)^(4/3), with beta by the bars' edge (Kirschmer 1926, bar racks in
    water)."""
    return _bar_shape(edge) * ((1.0 - free_area) / free_area) ** (4.0 / 3.0)


def _bar_shape(edge: str) -> float:
    return float(table("air/bar_shape").row("edge", edge)["beta"])
