"""A joist on two bearings under an even load and some weights: how far it bends, and how hard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sordino.bands import Array

STEPS = 400
"""Places along the joist at which it is looked at."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Load:
    """A weight that hangs `at` m from one bearing, N."""

    force: float
    at: float


def second_moment(breadth: float, depth: float) -> float:
    """I = b d^3 / 12, m4."""
    return breadth * depth**3 / 12.0


def section_modulus(breadth: float, depth: float) -> float:
    """S = b d^2 / 6, m3."""
    return breadth * depth**2 / 6.0


def moment(span: float, line_load: float, loads: Sequence[Load] = ()) -> float:
    """Greatest bending moment, N m: w x (L - x)/2 of a load of `line_load` N/m, and P b x / L up to each weight.

    Found on a grid of 400 steps and under each weight, within 1e-5 of the greatest.
    """
    return float(np.max(_moments(_places(span, loads), span, line_load, loads)))


def sag(span: float, line_load: float, loads: Sequence[Load], modulus: float, inertia: float) -> float:
    """Greatest deflection, m: w x (L^3 - 2 L x^2 + x^3)/(24 E I) and P b x (L^2 - b^2 - x^2)/(6 L E I) added.

    `modulus` Pa, `inertia` m4; shear and creep are left out (creep adds half as much again over years).
    """
    x = _places(span, loads)
    even = line_load * x * (span**3 - 2.0 * span * x**2 + x**3) / 24.0
    return float(np.max(even + sum(_sag_of(x, span, load) for load in loads)) / (modulus * inertia))


def _places(span: float, loads: Sequence[Load]) -> Array:
    return np.concatenate([np.linspace(0.0, span, STEPS + 1), [load.at for load in loads]])


def _moments(x: Array, span: float, line_load: float, loads: Sequence[Load]) -> Array:
    even = line_load * x * (span - x) / 2.0
    return even + sum(
        np.minimum(load.force * (span - load.at) * x, load.force * load.at * (span - x)) / span for load in loads
    )


def _sag_of(x: Array, span: float, load: Load) -> Array:
    """E I times the deflection by one weight: the formula from the bearing that lies on the same side of it."""
    far = span - load.at
    left = far * x * (span**2 - far**2 - x**2)
    y = span - x
    right = load.at * y * (span**2 - load.at**2 - y**2)
    return load.force / (6.0 * span) * np.where(x <= load.at, left, right)
