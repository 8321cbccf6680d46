"""Spring and rubber hangers: how low they ring and how much of a fan's shaking they let through."""

from __future__ import annotations

import numpy as np

from sordino.physics.air.tabulated import Value
from sordino.physics.structure.timber import GRAVITY

RUBBER, SPRING = 0.05, 0.01
"""Shares of critical damping of rubber and of steel springs (common practice, no source)."""


def ringing_frequency(deflection: Value) -> Value:
    """Natural frequency in Hz of what a hanger sags by under it, sqrt(g/d)/(2 pi); `deflection` in m above 0.

    Of rubber it is higher, by the square root of its dynamic over its static stiffness (1.2 to 2).
    """
    return np.sqrt(GRAVITY / deflection) / (2.0 * np.pi)


def let_through(ratio: Value, damping: float) -> Value:
    """Share of the shaking force that passes, sqrt((1 + (2 z r)^2) / ((1 - r^2)^2 + (2 z r)^2)) (Ogata, eq. 9-14).

    `ratio` forcing over natural frequency; `damping` as a share of critical. Over 1 the hanger makes it worse.
    """
    turn = (2.0 * damping * ratio) ** 2
    return np.sqrt((1.0 + turn) / ((1.0 - ratio**2) ** 2 + turn))
