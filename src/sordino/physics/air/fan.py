"""A fan's curve through its maker's points, and where it crosses a system."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sordino.errors import OutOfRange
from sordino.physics.air.tabulated import Value


@dataclass(frozen=True, slots=True)
class FanCurve:
    """Pressure rise in Pa over flow in m3/s, straight between the given points.

    Assumes at least two points with rising flows and a last segment that falls. Below the first point its
    pressure holds; beyond the last point the last segment goes on, through zero.
    """

    flows: tuple[float, ...]
    pressures: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.flows) != len(self.pressures) or len(self.flows) < 2:
            raise OutOfRange("A fan curve needs two points or more, each a flow and a pressure.")
        if any(later <= earlier for earlier, later in pairwise(self.flows)):
            raise OutOfRange("The flows of a fan curve must rise from point to point.")
        if self.pressures[-1] >= self.pressures[-2]:
            raise OutOfRange("The last segment of a fan curve must fall.")

    def pressure(self, flow: Value) -> Value:
        """Pressure rise in Pa at a flow, or at an array of flows."""
        if isinstance(flow, float | int):
            return self._at(flow)
        beyond = self.slope(self.flows[-1]) * np.maximum(flow - self.flows[-1], 0.0)
        return np.interp(flow, self.flows, self.pressures) + beyond

    def _at(self, flow: float) -> float:
        if flow <= self.flows[0]:
            return self.pressures[0]
        place = self._segment(flow)
        return self.pressures[place] + self._steepness(place) * (flow - self.flows[place])

    def slope(self, flow: float) -> float:
        """Slope in Pa/(m3/s) of the segment that starts at or holds `flow`; 0 below the first point."""
        return 0.0 if flow < self.flows[0] else self._steepness(self._segment(flow))

    def _segment(self, flow: float) -> int:
        return min(bisect_right(self.flows, flow) - 1, len(self.flows) - 2)

    def _steepness(self, place: int) -> float:
        rise = self.pressures[place + 1] - self.pressures[place]
        return rise / (self.flows[place + 1] - self.flows[place])

    def extended_low(self, flow: float) -> bool:
        """Whether `flow` lies below the first given point, where the pressure is only held."""
        return flow < self.flows[0]

    def extended_high(self, flow: float) -> bool:
        """Whether `flow` lies beyond the last given point, where the last segment is only continued."""
        return flow > self.flows[-1]

    def at_speed(self, ratio: float, density_ratio: float = 1.0) -> FanCurve:
        """The curve at another speed and air density: flow by n, pressure by n^2 times density (fan laws)."""
        if ratio <= 0 or density_ratio <= 0:
            raise OutOfRange(f"speed ratio {ratio:g} and density ratio {density_ratio:g} must be above 0.")
        scale = ratio**2 * density_ratio
        return FanCurve(tuple(ratio * q for q in self.flows), tuple(scale * p for p in self.pressures))

    @property
    def free_flow(self) -> float:
        """Flow in m3/s at no pressure, continued beyond the last point where need be."""
        places = [i for i, p in enumerate(self.pressures) if p > 0]
        place = min(places[-1], len(self.flows) - 2) if places else 0
        return max(self.flows[place] - self.pressures[place] / self._steepness(place), 0.0) if places else 0.0

    @property
    def humped(self) -> bool:
        """Whether the pressure rises with flow somewhere, so that one system can cross the curve twice."""
        return any(later > earlier for earlier, later in pairwise(self.pressures))
