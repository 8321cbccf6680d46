"""Free jets: how fast air still is at some distance from the opening that it left."""

from __future__ import annotations

import numpy as np

from sordino.physics.air.tabulated import Value
from sordino.tables import table

NOTICED = 0.25
"""Air speed in m/s from which people feel a draught (0.2 to 0.25 in comfort standards) and bare microphones rumble;
recalled."""


def jet_speed(outlet_speed: Value, free_area: Value, distance: Value, face: str) -> Value:
    """Speed on the axis of an isothermal free jet, K V0 sqrt(A0) / x, never above V0 (ASHRAE Fundamentals).

    Speeds in m/s, area in m2, distance in m above 0; `face` as in the table of constants. Off the axis, near
    surfaces and in cooled air it differs: surfaces carry a jet farther, by a factor of up to 1.4.
    """
    return np.minimum(outlet_speed, throw(outlet_speed, free_area, 1.0, face) / distance)


def throw(outlet_speed: Value, free_area: Value, speed: Value, face: str) -> Value:
    """Distance in m at which the axis of the jet has slowed to `speed` m/s: K V0 sqrt(A0) / V."""
    return _constant(face) * outlet_speed * np.sqrt(free_area) / speed


def _constant(face: str) -> float:
    return float(table("air/jet").row("face", face)["constant"])
