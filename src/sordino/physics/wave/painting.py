"""Which fluid is where: regions painted in order, air inside the tube last; and which cells need a closer
look."""

from __future__ import annotations

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.element import rule
from sordino.physics.wave.grid import CLOSE, FULL, Grid
from sordino.physics.wave.line import Point, distance
from sordino.physics.wave.prism import Prism, Region
from sordino.physics.wave.stub import slanting

COARSE, FINE = 2, 4
"""Quadrature points each way: exact where a cell holds one fluid, and where it holds several."""


def painted(prism: Prism, points: Array) -> Array:
    """Index of the fluid at points (..., 3) with the tube left out: 0 air, n the n-th fibre."""
    fluid = np.zeros(points.shape[:-1], int)
    for region in prism.regions:
        fluid = np.where(_within(region, points), region.fluid, fluid)
    return fluid


def in_tube(prism: Prism, points: Array) -> Array:
    """Whether points (..., 3) lie inside the flexible duct."""
    return core_share(prism, points, 0.0) > 0.5


def core_share(prism: Prism, points: Array, spacing: Array | float) -> Array:
    """How much of the surroundings of each point (..., 3), `spacing` wide, lies inside the flexible duct: 0 to 1.

    The wall passes a surrounding as a plane would, so volumes, and with them results, change smoothly with the grid.
    """
    if prism.tube is None:
        return np.zeros(points.shape[:-1])
    depth = prism.tube.radius - distance(points, core_line(prism))
    return np.clip(0.5 + depth / np.maximum(spacing, 1e-12), 0.0, 1.0)


def core_line(prism: Prism) -> tuple[Point, ...]:
    """The flexible duct's centreline, carried on into the stubs that begin where it ends."""
    assert prism.tube is not None
    line = list(prism.tube.centreline)
    for of in slanting(prism).values():
        beyond: Point = tuple(of.foot + (of.reach + prism.tube.radius) * of.axis)
        if np.linalg.norm(of.foot - line[0]) < CLOSE:
            line.insert(0, beyond)
        elif np.linalg.norm(of.foot - line[-1]) < CLOSE:
            line.append(beyond)
    return tuple(line)


def mixed(prism: Prism, grid: Grid) -> Array:
    """Cells in which more than one fluid was met at the corners or Gauss points, or that the tube's wall may pass."""
    probes = np.vstack([rule(FULL, COARSE).points, _inner_corners()])
    state = painted(prism, grid.origins[:, None, :] + probes * grid.sizes[:, None, :])
    several: Array = np.any(state != state[:, :1], axis=1)
    if prism.tube is None:
        return several
    gap = np.abs(distance(grid.origins + grid.sizes / 2, core_line(prism)) - prism.tube.radius)
    return several | (gap < np.linalg.norm(grid.sizes, axis=1) / 2)


def _inner_corners() -> Array:
    corners = np.array([(a, b, c) for a in (0, 1) for b in (0, 1) for c in (0, 1)], float)
    return 0.5 + (corners - 0.5) * (1 - 1e-6)


def _within(region: Region, points: Array) -> Array:
    """Inside the region's polygon (crossing number) and between its front and back."""
    x, y, z = np.moveaxis(points, -1, 0)
    inside = np.zeros(x.shape, bool)
    corners = np.asarray(region.polygon)
    for (x0, z0), (x1, z1) in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        if z0 != z1:
            crosses = ((z0 > z) != (z1 > z)) & (x < x0 + (z - z0) * (x1 - x0) / (z1 - z0))
            inside ^= crosses
    return inside & (y > region.front) & (y < region.back)
