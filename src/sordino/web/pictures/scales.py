"""Round figures along a scale."""

from __future__ import annotations

import math

ROUND = (1.0, 2.0, 5.0, 10.0)


def nice_step(low: float, high: float, most: int) -> float:
    """The smallest of 1, 2, 5 times a power of ten that divides a scale into at most `most` parts."""
    raw = (high - low) / most
    power = 10.0 ** math.floor(math.log10(raw))
    return next(each * power for each in ROUND if each * power >= raw * (1.0 - 1e-9))


def nice_steps(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round figures from `low` to `high`."""
    step = nice_step(low, high, most)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return tuple(step * index for index in range(first, last + 1))
