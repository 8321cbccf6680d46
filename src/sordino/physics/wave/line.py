"""Centrelines: polylines with rounded bends, the distance to them, and points spread over the tube around
them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange

Point = tuple[float, float, float]
CLOSE = 1e-9
"""Points nearer than this are one point, m."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Skin:
    """Points on a tube's wall (n, 3) and the area each stands for (n,), m2."""

    points: Array
    areas: Array


def rounded(vertices: Sequence[Point], radius: float, step: float = np.pi / 24) -> tuple[Point, ...]:
    """A centreline through straight runs joined by arcs of `radius`, m; `step` is the turn between two arc
    points, rad.

    An arc that does not fit its runs is refused with the largest radius that would.
    """
    corners = np.asarray(vertices, float)
    runs = np.linalg.norm(np.diff(corners, axis=0), axis=1)
    runs[1:-1] /= 2  # the first and last run bend at one end only, the others share theirs between two
    line = [corners[:1]]
    for index, three in enumerate(zip(corners[:-2], corners[1:-1], corners[2:], strict=True)):
        line.append(_arc(*three, radius, step, min(runs[index : index + 2])))
    points = np.vstack([*line, corners[-1:]])
    apart = np.linalg.norm(np.diff(points, axis=0), axis=1) > CLOSE  # arcs that touch share a point
    return tuple((float(x), float(y), float(z)) for x, y, z in points[np.concatenate([[True], apart])])


def _arc(before: Array, corner: Array, after: Array, radius: float, step: float, room: float) -> Array:
    """The arc at a corner, if it fits `room` along both its runs."""
    back, ahead = before - corner, after - corner
    back, ahead = back / np.linalg.norm(back), ahead / np.linalg.norm(ahead)
    half = np.arccos(np.clip(back @ ahead, -1, 1)) / 2
    if np.pi / 2 - half < 1e-6:
        return corner[None]
    if radius / np.tan(half) > room * (1 + 1e-9):
        raise OutOfRange(f"bend radius is {radius:g} m; {room * np.tan(half):.3g} m is the most that fits there")
    centre = corner + radius / np.sin(half) * (back + ahead) / np.linalg.norm(back + ahead)
    turn = np.pi - 2 * half
    angles = np.linspace(-turn / 2, turn / 2, max(2, int(np.ceil(turn / step)) + 1))[:, None]
    inward = (corner - centre) / np.linalg.norm(corner - centre)
    sideways = (ahead - back) / np.linalg.norm(ahead - back)
    return centre + radius * (np.cos(angles) * inward + np.sin(angles) * sideways)


def distance(points: Array, line: Sequence[Point]) -> Array:
    """Distance from points (..., 3) to a polyline, m."""
    x, y, z = (np.ascontiguousarray(each) for each in np.moveaxis(points, -1, 0))  # seven times as fast as (..., 3)
    nearest = np.full(x.shape, np.inf)
    for start, end in pairwise(np.asarray(line, float)):
        along = end - start
        dx, dy, dz = x - start[0], y - start[1], z - start[2]
        share = np.clip((dx * along[0] + dy * along[1] + dz * along[2]) / (along @ along), 0, 1)
        dx -= share * along[0]
        dy -= share * along[1]
        dz -= share * along[2]
        nearest = np.minimum(nearest, dx * dx + dy * dy + dz * dz)
    return np.sqrt(nearest)


def skin(line: Sequence[Point], radius: float, spacing: float) -> Skin:
    """Points over the wall of the tube around a centreline, about `spacing` apart, m.

    In a bend the outer wall is longer than the centreline and the inner shorter: areas carry the factor 1 - r
    kappa.
    """
    corners = np.asarray(line, float)
    frames = _frames(corners)
    rings = max(8, int(np.ceil(2 * np.pi * radius / spacing)))
    angles = 2 * np.pi * (np.arange(rings) + 0.5) / rings
    circle = radius * np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    points, areas = [], []
    for start, end, first, last in zip(corners[:-1], corners[1:], frames[:-1], frames[1:], strict=True):
        count = max(1, int(np.ceil(np.linalg.norm(end - start) / spacing)))
        share = ((np.arange(count) + 0.5) / count)[:, None, None]
        lower, upper = start + circle @ first, end + circle @ last
        points.append(((1 - share) * lower + share * upper).reshape(-1, 3))
        strip = np.linalg.norm(upper - lower, axis=-1) / count * 2 * np.pi * radius / rings
        areas.append(np.tile(strip, count))
    return Skin(points=np.vstack(points), areas=np.concatenate(areas))


def _frames(corners: Array) -> Array:
    """Two unit vectors across the line at each corner, in the plane that halves the bend there."""
    along = np.diff(corners, axis=0)
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    tangents = np.vstack([along[:1], along[:-1] + along[1:], along[-1:]])
    tangents /= np.linalg.norm(tangents, axis=1, keepdims=True)
    frames, side = [], _any_across(tangents[0])
    for tangent in tangents:
        side = side - (side @ tangent) * tangent
        side = side / np.linalg.norm(side)
        frames.append(np.stack([side, np.cross(tangent, side)]))
    return np.array(frames)


def _any_across(tangent: Array) -> Array:
    return np.eye(3)[int(np.argmin(np.abs(tangent)))]
