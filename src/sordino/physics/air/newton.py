"""Flows and pressures of a network by a Newton method that goes downhill.

Each branch has a drop(Q) = p_start - p_end; a mover is a branch whose drop is minus its rise. Where all
drops rise with flow, the solution is the least of a convex content, the sum of the areas under the drops
(Cherry 1951; Todini and Pilati 1988 for the linear step; both from memory). How far to go along a Newton
step is found by the slope of that content.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange

PRECISE = 1e-5
"""A drop this small in Pa counts as met."""

COARSE = 0.05
"""A drop this small in Pa is taken where nothing better is found, as between the kinks of a crooked fan curve."""

NOTHING = 1e-12
"""A step along which the content falls by no more than this in W is taken whole."""

STEPS, ROUND, BOLD, PATIENCE = 200, 40, 34, 6
"""Most steps; in each round of steps the bold ones, the rest cautious; idle steps before a coarse balance is taken."""

Curve = Callable[[float], float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Branch:
    """One way for air: its drop, its slope if known, the least slope to work with, and a first flow."""

    drop: Curve
    slope: Curve | None
    least: float
    first: float

    def steepness(self, flow: float, drop: float) -> float:
        """Slope of the drop in Pa/(m3/s), by a small step outwards where no formula is given."""
        if self.slope is not None:
            return self.slope(flow)
        step = math.copysign(max(1e-6 * abs(flow), 1e-9), flow)
        return (self.drop(flow + step) - drop) / step


@dataclass(frozen=True, kw_only=True, slots=True)
class Balance:
    """A solved network: branch flows, free node pressures, the largest error in Pa and in m3/s."""

    flows: Array
    pressures: Array
    residual: float
    imbalance: float


def link_branch(loss: Curve, slope: Curve | None) -> Branch:
    """A passive branch; its first flow is that at about 1 Pa, its least slope that at PRECISE Pa."""
    small, large = abs(loss(1e-3)), abs(loss(1e-2))
    if small <= 0 or large <= small:
        return Branch(drop=loss, slope=slope, least=1e-3, first=1e-2)
    power = min(max(math.log10(large / small), 1.0), 2.0)
    first = 1e-2 * large ** (-1.0 / power)
    return Branch(drop=loss, slope=slope, least=PRECISE ** (1.0 - 1.0 / power) / first, first=min(first, 1.0))


def balance(branches: list[Branch], incidence: Array, given: Array, supplied: Array, first: Array) -> Balance:
    """Solve drop(Q) = A p + b and A'Q = s.

    A: (branches, free nodes), +1 at the start, -1 at the end; b: fixed pressures' share, Pa; s: air supplied
    at each free node, m3/s; `first`: flows to start from. Raises OutOfRange where no balance exists or none
    is found.
    """
    flows = first
    drops = _drops(branches, flows)
    nodes = incidence.shape[1]
    idle = 0
    best = Balance(flows=flows, pressures=np.zeros(nodes), residual=np.inf, imbalance=np.inf)
    for count in range(STEPS):
        step, pressures = _step(branches, incidence, given, supplied, flows, drops, cautious=count % ROUND >= BOLD)
        flows, drops = _walk(
            branches, given, flows, drops, step, balanced=_imbalance(incidence, flows, supplied) < 1e-9
        )
        residual = float(np.abs(drops - incidence @ pressures - given).max(initial=0.0))
        off = _imbalance(incidence, flows, supplied)
        idle += 1
        if residual < best.residual and off < 1e-9 and np.isfinite(pressures).all():
            best, idle = Balance(flows=flows, pressures=pressures, residual=residual, imbalance=off), 0
        if best.residual < PRECISE or (best.residual < COARSE and idle >= PATIENCE):
            return best
    if best.residual < COARSE:
        return best
    raise OutOfRange(
        f"The air flows of {len(branches)} branches and {nodes} nodes did not settle; "
        f"{residual:.3g} Pa and {off:.3g} m3/s remain."
    )


def _drops(branches: list[Branch], flows: Array) -> Array:
    return np.array([branch.drop(flow) for branch, flow in zip(branches, flows.tolist(), strict=True)])


def _imbalance(incidence: Array, flows: Array, supplied: Array) -> float:
    return float(np.abs(flows @ incidence - supplied).max(initial=0.0))


def _slopes(branches: list[Branch], flows: Array, drops: Array) -> Array:
    rows = zip(branches, flows.tolist(), drops.tolist(), strict=True)
    return np.array([branch.steepness(flow, drop) for branch, flow, drop in rows])


def _step(
    branches: list[Branch],
    incidence: Array,
    given: Array,
    supplied: Array,
    flows: Array,
    drops: Array,
    *,
    cautious: bool,
) -> tuple[Array, Array]:
    """Newton step and new pressures; with true slopes if it leads downhill, else with their size.

    A cautious step takes no slope below that of the chord from rest: where a drop is flat, as a fan's below its first
    point, true slopes send the flows to and fro.
    """
    least = np.array([branch.least for branch in branches])
    true = _slopes(branches, flows, drops)
    sizes = np.maximum(np.abs(true), least)
    if cautious:
        sizes = np.maximum(sizes, np.abs(drops) / np.maximum(np.abs(flows), 1e-6))
    elif (true < 0).any():
        step, pressures = _linear(np.where(true < 0, true, sizes), incidence, given, supplied, flows, drops)
        if step @ (drops - given) < 0:
            return step, pressures
    return _linear(sizes, incidence, given, supplied, flows, drops)


def _linear(
    slopes: Array, incidence: Array, given: Array, supplied: Array, flows: Array, drops: Array
) -> tuple[Array, Array]:
    count, nodes = incidence.shape
    matrix = np.zeros((count + nodes, count + nodes))
    matrix[np.arange(count), np.arange(count)] = slopes
    matrix[:count, count:] = -incidence
    matrix[count:, :count] = incidence.T
    right = np.concatenate([given - drops, supplied - flows @ incidence])
    try:
        answer = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        raise OutOfRange(
            "Some part of the air network has no path to a space of known pressure, so nothing fixes its pressure."
        ) from None
    return answer[:count], answer[count:]


def _walk(
    branches: list[Branch], given: Array, flows: Array, drops: Array, step: Array, *, balanced: bool
) -> tuple[Array, Array]:
    """The full step, or from balanced flows the part of it at which the content stops falling."""
    there = flows + step
    drops_there = _drops(branches, there)
    downhill = float(step @ (drops - given))
    uphill = float(step @ (drops_there - given))
    if not balanced or downhill >= -NOTHING or uphill <= 0.5 * -downhill:
        return there, drops_there
    low, high, below, above = 0.0, 1.0, downhill, uphill
    for _ in range(12):
        share = min(max(low - below * (high - low) / (above - below), low + 0.05 * (high - low)), high)
        there = flows + share * step
        drops_there = _drops(branches, there)
        tilt = float(step @ (drops_there - given))
        if abs(tilt) <= 0.3 * -downhill:
            break
        low, high, below, above = (share, high, tilt, above) if tilt < 0 else (low, share, below, tilt)
    return there, drops_there
