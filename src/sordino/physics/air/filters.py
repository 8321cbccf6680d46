"""Pressure drop of a filter from one rated point."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.errors import OutOfRange
from sordino.physics.air.tabulated import Value, columns


@dataclass(frozen=True, kw_only=True, slots=True)
class FilterRating:
    """One point of a clean filter: face velocity in m/s and drop in Pa."""

    velocity: float
    drop: float


def filter_drop(
    face_velocity: Value,
    reference_velocity: Value,
    reference_drop: Value,
    exponent: float = 1.35,
    dirty_factor: Value = 1.0,
) -> Value:
    """Drop in Pa, dp_ref (v / v_ref)^n times the dirty factor, odd in velocity (m/s).

    n from 1.2 to 1.5 for pleated media, common practice, no source; a dirty factor of 2 is a usual change
    point.
    """
    ratio = np.abs(face_velocity) / reference_velocity
    return np.copysign(dirty_factor * reference_drop * ratio**exponent, face_velocity)


def pleated_filter(depth: float, merv: int) -> FilterRating:
    """Rated point of a pleated filter 25, 50 or 100 mm deep (given in m, nearest taken) of MERV 11 or 13."""
    depths, grades, velocities, drops = columns("air/pleated_filter", "depth", "merv", "velocity", "drop")
    rows = np.flatnonzero(grades == merv)
    if rows.size == 0:
        raise OutOfRange(f"MERV {merv} has no rated point; known are {sorted(set(grades.astype(int)))}.")
    row = rows[np.argmin(np.abs(depths[rows] - 1000.0 * depth))]
    return FilterRating(velocity=float(velocities[row]), drop=float(drops[row]))
