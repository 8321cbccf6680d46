"""All crossings of a fan's rise and a system's need along a grid of flows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, kw_only=True, slots=True)
class Crossing:
    """Where a fan and a system agree: flow m3/s, pressure Pa, and whether a disturbance dies away there."""

    flow: float
    pressure: float
    stable: bool


def crossings_on(
    grid: Sequence[float],
    rise: Callable[[float], float],
    system: Callable[[float], float],
    tolerance: float = 1e-9,
) -> tuple[Crossing, ...]:
    """Crossings of `rise` and `system` seen as a change of sign between neighbours on a grid of flows."""

    def surplus(flow: float) -> float:
        return system(flow) - rise(flow)

    found = []
    known = [(flow, surplus(flow)) for flow in grid]
    for (low, below), (high, above) in pairwise(known):
        if (below < 0) != (above < 0):
            flow = root(surplus, low, high, below, above, tolerance)
            found.append(Crossing(flow=flow, pressure=rise(flow), stable=below < above))
    return tuple(found)


def root(
    gap: Callable[[float], float],
    low: float,
    high: float,
    below: float,
    above: float,
    tolerance: float = 1e-9,
) -> float:
    """Where `gap` is zero between two ends of opposite sign, by false position with halving (Illinois)."""
    side = 0
    for _ in range(100):
        middle = high - above * (high - low) / (above - below)
        value = gap(middle)
        if value == 0 or high - low < 1e-14 + 1e-12 * abs(high) or abs(value) < tolerance:
            return middle
        if (value < 0) == (below < 0):
            low, below = middle, value
            above, side = (above / 2, -1) if side == -1 else (above, -1)
        else:
            high, above = middle, value
            below, side = (below / 2, 1) if side == 1 else (below, 1)
    return middle
