"""Single-blade dampers and what one must add to balance a branch; angles in degrees from fully open."""

from __future__ import annotations

from typing import Literal

import numpy as np

from sordino.physics.air.tabulated import Value, columns

Shape = Literal["round", "rectangular"]


def blade_damper(angle: Value, shape: Shape = "round") -> Value:
    """Loss coefficient of one blade on the velocity pressure in the duct, 0 to 70 degrees (Weisbach,
    recalled).

    Read with the logarithm straight between rows, held beyond 70 degrees.
    """
    angles, losses = columns("air/blade_damper", "angle", shape)
    return np.exp(np.interp(angle, angles, np.log(losses)))


def blade_angle(coefficient: Value, shape: Shape = "round") -> Value:
    """Blade angle at which the damper has `coefficient`; 0 where even the open blade has more, 70 at the
    most."""
    angles, losses = columns("air/blade_damper", "angle", shape)
    return np.interp(np.log(np.maximum(coefficient, losses[0])), np.log(losses), angles)


def balancing_coefficient(surplus: Value, velocity_pressure: Value) -> Value:
    """Coefficient that takes up a `surplus` in Pa at the branch's velocity pressure in Pa."""
    return surplus / velocity_pressure
