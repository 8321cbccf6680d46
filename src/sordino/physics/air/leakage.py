"""Air through the cracks of a closed room, Q = C dp^n, with the sign of the pressure difference."""

from __future__ import annotations

import math

import numpy as np

from sordino.physics.air.tabulated import Value

EXPONENT = 0.65
"""Flow exponent of building cracks, between 0.5 (openings) and 1 (pores); common practice, no source."""


def leakage_drop(flow: Value, coefficient: Value, exponent: float = EXPONENT) -> Value:
    """Pressure difference in Pa that drives `flow` m3/s through cracks of coefficient C (m3/s at 1 Pa); odd in flow."""
    if isinstance(flow, float) and isinstance(coefficient, float):
        return math.copysign((abs(flow) / coefficient) ** (1.0 / exponent), flow)
    return np.copysign((np.abs(flow) / coefficient) ** (1.0 / exponent), flow)


def coefficient_at(flow: Value, dp: Value, exponent: float = EXPONENT) -> Value:
    """Coefficient C in m3/s at 1 Pa from one measured flow at dp above 0 Pa, as with a door fan at 50 Pa."""
    return flow / dp**exponent
