"""The falling cover of a fan curve: the curve with the hollow left of each hump filled up to the hump."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

SAMPLES = 32
WIDEST = 1e3
"""No mover of a small building passes more, m3/s; a rise that never falls to zero is followed this far."""

Curve = Callable[[float], float]


def free_flow(rise: Curve) -> float:
    """A flow in m3/s by which the rise has fallen to zero, at most twice the least such; 0 if none rises."""
    if rise(0.0) <= 0:
        return 0.0
    flow = 1e-3
    while rise(flow) > 0 and flow < WIDEST:
        flow *= 2.0
    return flow


def falling_cover(rise: Curve, widest: float) -> Curve | None:
    """The least never-rising curve on or above `rise`, or None where `rise` falls all the way already."""
    flows = [widest * i / SAMPLES for i in range(SAMPLES + 1)]
    heights = [rise(flow) for flow in flows]
    if all(later <= earlier + 1e-9 for earlier, later in pairwise(heights)):
        return None
    peaks = [_peak(rise, flows, heights, i) for i in range(1, SAMPLES) if heights[i] >= heights[i - 1]]

    def cover(flow: float) -> float:
        return max([rise(flow), *(height for at, height in peaks if at > flow)])

    return cover


def _peak(rise: Curve, flows: list[float], heights: list[float], i: int) -> tuple[float, float]:
    """Flow and height of the top near sample i, by golden section between its neighbours."""
    low, high = flows[i - 1], flows[i + 1]
    for _ in range(30):
        left, right = high - 0.618034 * (high - low), low + 0.618034 * (high - low)
        low, high = (low, right) if rise(left) >= rise(right) else (left, high)
    top = 0.5 * (low + high)
    return max((top, rise(top)), (flows[i], heights[i]), key=lambda point: point[1])
