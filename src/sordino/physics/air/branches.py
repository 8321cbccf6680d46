"""Loss coefficients of branches; all refer to the velocity pressure in the common (whole flow) duct.

Idelchik ch. 7 for dividing flow; the same author's forms as printed in Crane TP-410 (2009) for joining flow.
A negative value is a gain: the faster stream drags the slower one along.
"""

from __future__ import annotations

import numpy as np

from sordino.physics.air.tabulated import Value, along


def diverging_branch(v_branch: Value, v_main: Value, angle: Value = 90.0) -> Value:
    """Into a branch at `angle` (0 to 90 degrees), A [1 + x^2 - 2 x cos a], x = branch over main velocity.

    A is 1 up to x = 0.8 and 0.9 from x = 1, straight between so that the loss has no step (Idelchik ch. 7).
    """
    ratio = v_branch / v_main
    share = 1.0 - 0.5 * (np.clip(ratio, 0.8, 1.0) - 0.8)
    return share * (1.0 + ratio**2 - 2.0 * ratio * np.cos(np.radians(angle)))


def diverging_run(v_run: Value, v_main: Value) -> Value:
    """Straight on past a branch, 0.4 (1 - v_run / v_main)^2 (Idelchik ch. 7)."""
    return 0.4 * (1.0 - v_run / v_main) ** 2


def converging_branch(flow_ratio: Value, area_ratio: Value, angle: Value = 90.0) -> Value:
    """From a branch into the common duct; ratios are branch over common, angle 30 to 90 degrees (TP-410).

    K = C [1 + (q/a)^2 - 2 (1 - q)^2 - F q^2 / a]; C = 1 for a <= 0.35, else 0.9 (1 - q) up to
    q = 0.4 and 0.55 beyond.
    """
    q, a = np.asarray(flow_ratio, float), np.asarray(area_ratio, float)
    share = np.where(a <= 0.35, 1.0, np.where(q <= 0.4, 0.9 * (1.0 - q), 0.55))
    value = share * (1.0 + (q / a) ** 2 - 2.0 * (1.0 - q) ** 2 - _aim(angle) * q**2 / a)
    return value[()]


def converging_run(flow_ratio: Value, area_ratio: Value, angle: Value = 90.0) -> Value:
    """From the straight duct into the common one; ratios branch over common, angle 30 to 90 degrees (TP-410).

    K = 1 - (1 - q)^2 - F q^2 / a to 60 degrees, 1.55 q - q^2 at 90, straight between.
    """
    wye = 1.0 - (1.0 - flow_ratio) ** 2 - _aim(np.minimum(angle, 60.0)) * flow_ratio**2 / area_ratio
    tee = 1.55 * flow_ratio - flow_ratio**2
    share = np.clip(angle, 60.0, 90.0) / 30.0 - 2.0
    return (1.0 - share) * wye + share * tee


def _aim(angle: Value) -> Value:
    return along("air/converging_factor", "angle", "factor", angle)
