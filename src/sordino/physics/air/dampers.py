"""Single-blade dampers and what one must add to balance a branch; angles in degrees from fully open."""

from __future__ import annotations

from typing import Literal

import numpy as np

from sordino.physics.air.tabulated import Value, columns

SHUT_ANGLE, SHUT = 89.0, 1e6
"""From this angle on a blade is shut; its loss coefficient then is that of a crack of a thousandth (judgement)."""
Shape = Literal["round", "rectangular"]


def blade_damper(angle: Value, shape: Shape = "round") -> Value:
    """Loss coefficient of one blade on the velocity pressure in the duct, 0 to 70 degrees (Weisbach,
    recalled).

    Read with the logarithm straight between rows, and on in the same line beyond 70 degrees; a blade at 90 degrees is
    taken as SHUT, which leaves its crack.
    """
    angles, losses = columns("air/blade_damper", "angle", shape)
    known = np.log(losses)
    steepness = (known[-1] - known[-2]) / (angles[-1] - angles[-2])
    beyond = np.maximum(np.asarray(angle, float) - angles[-1], 0.0) * steepness
    open_blade = np.exp(np.interp(angle, angles, known) + beyond)
    return np.where(np.asarray(angle, float) >= SHUT_ANGLE, SHUT, open_blade)[()]


def blade_angle(coefficient: Value, shape: Shape = "round") -> Value:
    """Blade angle at which the damper has `coefficient`; 0 where even the open blade has more, 70 at the
    most."""
    angles, losses = columns("air/blade_damper", "angle", shape)
    return np.interp(np.log(np.maximum(coefficient, losses[0])), np.log(losses), angles)


def balancing_coefficient(surplus: Value, velocity_pressure: Value) -> Value:
    """Coefficient that takes up a `surplus` in Pa at the branch's velocity pressure in Pa."""
    return surplus / velocity_pressure
