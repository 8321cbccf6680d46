"""Friction along a straight duct, and the diameters that stand for a duct that is not round."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

import numpy as np

from sordino.physics.air.properties import Air
from sordino.physics.air.tabulated import Value
from sordino.tables import table

LAMINAR, TURBULENT = 2000.0, 4000.0
"""Reynolds numbers between which the friction factor passes straight from one law to the other."""


def velocity_pressure(velocity: Value, air: Air) -> Value:
    """Velocity pressure in Pa, rho v^2 / 2, v in m/s."""
    return 0.5 * air.density * velocity**2


def reynolds_number(velocity: Value, hydraulic_diameter: Value, air: Air) -> Value:
    """Reynolds number, rho v D / mu."""
    return air.density * abs(velocity) * hydraulic_diameter / air.viscosity


def hydraulic_diameter(area: Value, perimeter: Value) -> Value:
    """Hydraulic diameter in m, 4 A / P (Huebscher 1948)."""
    return 4.0 * area / perimeter


def roughness(surface: str) -> float:
    """Absolute roughness in m of a named surface; an unknown name is a KeyError that lists the known ones."""
    return float(table("air/roughness").row("surface", surface)["roughness"]) / 1000.0


def friction_factor(reynolds: Value, relative_roughness: Value) -> Value:
    """Darcy friction factor: 64/Re below 2000, Colebrook above 4000, a straight line between.

    Relative roughness e/D from 0 to 0.05. The line between is common practice, no source: it keeps the
    pressure drop rising steadily with flow. At Re = 0 the factor is infinite.
    """
    if isinstance(reynolds, float | int) and isinstance(relative_roughness, float | int):
        return _factor(reynolds, relative_roughness)
    return np.vectorize(_factor, otypes=[float])(reynolds, relative_roughness)


def friction_drop(
    flow: Value,
    area: Value,
    hydraulic_diameter: Value,
    length: Value,
    roughness: Value,
    air: Air,
) -> Value:
    """Pressure drop in Pa along a straight duct, f L/D rho v|v| / 2 (Darcy).

    True velocity and hydraulic diameter. Flow m3/s with sign, area m2, lengths and
    roughness m. Odd and increasing in flow.
    """
    velocity = flow / area
    reynolds = reynolds_number(velocity, hydraulic_diameter, air)
    if isinstance(reynolds, float) and reynolds < LAMINAR:
        return 32.0 * air.viscosity * velocity * length / hydraulic_diameter**2
    held = np.maximum(reynolds, 1e-9) if np.ndim(reynolds) else reynolds
    factor = friction_factor(held, roughness / hydraulic_diameter)
    return factor * length / hydraulic_diameter * 0.5 * air.density * velocity * abs(velocity)


def _factor(reynolds: float, relative_roughness: float) -> float:
    if reynolds < LAMINAR:
        return 64.0 / reynolds if reynolds > 0 else math.inf
    colebrook = _colebrook()
    if reynolds > TURBULENT:
        return colebrook(reynolds, relative_roughness)
    share = (reynolds - LAMINAR) / (TURBULENT - LAMINAR)
    return (1 - share) * 64.0 / LAMINAR + share * colebrook(TURBULENT, relative_roughness)


@cache
def _colebrook() -> Callable[[float, float], float]:
    from fluids.friction import friction_factor as colebrook

    return colebrook
