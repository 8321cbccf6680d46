"""Loss coefficients of bends on the velocity pressure in the duct; angles in degrees from 0 to 180.

Between rows the tables are read straight, beyond their ends the last value holds.
"""

from __future__ import annotations

import numpy as np

from sordino.physics.air.tabulated import Value, along, between
from sordino.tables import table


def angle_factor(angle: Value) -> Value:
    """Factor on a 90 degree radius bend for another angle (SMACNA table A-7 note 1)."""
    return along("air/elbow_angle_factor", "angle", "factor", angle)


def reynolds_factor(reynolds: Value) -> Value:
    """Factor on a mitred bend by Reynolds number: 1.40 at 10 000, 1 from 140 000 (SMACNA A-7 note 2)."""
    return along("air/elbow_reynolds_factor", "reynolds", "factor", reynolds)


def smooth_round(r_over_d: Value, angle: Value = 90.0) -> Value:
    """Smooth round bend by centreline radius over diameter, 0.5 to 2.5 (SMACNA table A-7A)."""
    return along("air/elbow_smooth_round", "r_over_d", "c", r_over_d) * angle_factor(angle)


def gored_round(pieces: int, r_over_d: Value, angle: Value = 90.0) -> Value:
    """Round bend of three, four or five pieces, r/D 0.5 to 2 (SMACNA table A-7B); more count as five."""
    column = {3: "three", 4: "four"}.get(max(pieces, 3), "five")
    return along("air/elbow_gored_round", "r_over_d", column, r_over_d) * angle_factor(angle)


def pleated_round(diameter: Value, angle: Value = 90.0) -> Value:
    """Pleated (adjustable) round bend of r/D 1.5, diameter 100 to 400 mm in m (ASHRAE 2009 CD3-5, CD3-7)."""
    return _by_diameter("air/elbow_pleated", diameter, angle)


def _by_diameter(name: str, diameter: Value, angle: Value) -> Value:
    """Straight through 0, 45 and 90 degrees; beyond 90 the angle factor."""
    full = along(name, "diameter", "c90", 1000.0 * diameter)
    half = along(name, "diameter", "c45", 1000.0 * diameter)
    low = half * np.minimum(angle, 45.0) / 45.0
    return low + (full - half) * (np.clip(angle, 45.0, 90.0) / 45.0 - 1.0) + full * _beyond(angle)


def _beyond(angle: Value) -> Value:
    return np.maximum(angle_factor(angle) - 1.0, 0.0)


def mitred_round(angle: Value, reynolds: Value) -> Value:
    """Mitred round bend without vanes, 0 to 90 degrees (SMACNA table A-7C and note 2); more than 90 holds."""
    return along("air/elbow_mitred_round", "angle", "c", angle) * reynolds_factor(reynolds)


def mitred_rectangular(angle: Value, height: Value, width: Value, reynolds: Value) -> Value:
    """Mitred rectangular bend without vanes, 0 to 90 degrees, width in the plane of turn (ASHRAE CR3-6)."""
    return between("air/elbow_mitred_rectangular", angle, height / width) * reynolds_factor(reynolds)


def smooth_rectangular(r_over_w: Value, h_over_w: Value, angle: Value = 90.0) -> Value:
    """Smooth rectangular bend without vanes, r/W 0.5 to 2, H/W 0.25 to 8 (ASHRAE CR3-1)."""
    return between("air/elbow_smooth_rectangular", r_over_w, h_over_w) * angle_factor(angle)


def vaned_mitre(vanes: str = "single") -> float:
    """Mitred right-angle bend with single or double thickness turning vanes; recalled values."""
    return float(table("air/elbow_vaned").row("vanes", vanes)["c"])


def flexible_bend(angle: Value, r_over_d: Value) -> Value:
    """Bend in stretched flexible duct, over the loss of an equal straight length, for r/D of 1 and more.

    2.0 at 90 and 1.25 at 45 degrees whatever the radius above 1, the larger reading of the measurements.
    Below r/D 1 it grows as the smooth bend does (judgement): such a bend kinks.
    """
    tight = smooth_round(np.minimum(r_over_d, 1.0)) / smooth_round(1.0)
    return along("air/elbow_flexible", "angle", "c", angle) * tight
