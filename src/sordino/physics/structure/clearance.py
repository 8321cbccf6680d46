"""Whether a thing goes in: a profile within a clear space, a board through an opening, a length round a corner.

Profiles are convex rings of (across, up) in m; clear spaces may be any simple ring.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sordino.bands import Array

Ring = Sequence[tuple[float, float]]
CIRCLE = 64
"""Corners that stand for a quarter-round clearance all the way round."""
STEPS = 200
"""Angles at which a corner is tried, three times over, each time between the neighbours of the best."""
CONTACT = 1e-7
"""Overlap up to which two faces count as touching, m."""


def outline(
    length: float, height: float, left_cut: tuple[float, float], right_cut: tuple[float, float]
) -> tuple[tuple[float, float], ...]:
    """A rectangle with its top corners cut, each by (along, down), m; anticlockwise from the lower left."""
    (left_run, left_drop), (right_run, right_drop) = left_cut, right_cut
    corners = [(0.0, 0.0), (length, 0.0)]
    corners += [(length, height - right_drop), (length - right_run, height)] if right_run else [(length, height)]
    corners += [(left_run, height), (0.0, height - left_drop)] if left_run else [(0.0, height)]
    return tuple(corners)


def surrounded(ring: Ring, below: float, above: float, aside: float) -> Array:
    """Points whose hull is a convex profile with room round it: its sum with an ellipse of those half axes, m."""
    turn = np.linspace(0.0, 2.0 * np.pi, CIRCLE, endpoint=False)
    x, z = aside * np.cos(turn), np.sin(turn)
    z = z * np.where(z >= 0.0, above, below)
    corners = np.array(ring)
    spread = (corners[:, None, :] + np.stack([x, z], axis=-1)[None]).reshape(-1, 2)
    return np.asarray(spread)


def room_to_move(ring: Ring | Array, space: Ring) -> float:
    """Area of all places (m2) that a convex profile can be pushed to within a clear space, unturned; -1 if it has none.

    A place is barred if it lies outside, or where some edge of the space would cut the profile: the sum of that edge
    and the profile mirrored through its first corner. Touching is allowed.
    """
    from shapely import MultiPoint, Polygon, union_all

    shape = np.array(ring)
    middle = shape.mean(axis=0)
    shape = middle + (shape - middle) * (1.0 - CONTACT / max(float(np.ptp(shape)), CONTACT))
    mirrored = shape[0] - shape
    inside, edges = Polygon(space), zip(space, (*space[1:], space[0]), strict=True)
    barred = [MultiPoint(np.concatenate([mirrored + a, mirrored + b])).convex_hull for a, b in edges]
    free = inside.difference(union_all(barred))
    if free.is_empty:
        return -1.0
    return float(free.area)


def goes_in(ring: Ring | Array, space: Ring) -> bool:
    """Whether a convex profile fits a clear space somewhere, unturned.

    In a convex space each edge bars a half plane of places, so clipping answers at once; else as `room_to_move` does.
    """
    corners = np.array(space)
    corners = corners[np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=-1) > 0.0]
    edges = np.roll(corners, -1, axis=0) - corners
    turns = edges[:, 0] * np.roll(edges[:, 1], -1) - edges[:, 1] * np.roll(edges[:, 0], -1)
    if np.all(turns >= 0.0) or np.all(turns <= 0.0):
        outward = np.stack([edges[:, 1], -edges[:, 0]], axis=-1) * (1.0 if turns.sum() > 0.0 else -1.0)
        outward /= np.linalg.norm(outward, axis=-1, keepdims=True)
        reach = np.sum(outward * corners, axis=-1) - np.max(np.array(ring) @ outward.T, axis=0)
        return _any_left(outward, reach + CONTACT)
    return room_to_move(ring, space) >= 0.0


def _any_left(outward: Array, reach: Array) -> bool:
    """Whether some point lies within all half planes n . t <= reach, clipped one after another."""
    far = 1e4
    left = [(-far, -far), (far, -far), (far, far), (-far, far)]
    for (x, z), limit in zip(outward.tolist(), reach.tolist(), strict=True):
        over = [x * a + z * b - limit for a, b in left]
        kept: list[tuple[float, float]] = []
        for index, (point, beyond) in enumerate(zip(left, over, strict=True)):
            (a, b), before = left[index - 1], over[index - 1]
            if (beyond > 0.0) != (before > 0.0):
                share = before / (before - beyond)
                kept.append((a + share * (point[0] - a), b + share * (point[1] - b)))
            if beyond <= 0.0:
                kept.append(point)
        left = kept
    return bool(left)


def passes_rectangle(first: float, second: float, width: float, height: float) -> bool:
    """Whether a section of `first` by `second` m passes a rectangular opening, straight or turned in its plane.

    Straight, or where it is longer than the opening, b >= (2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2))/(p^2 + q^2)
    (Carver 1957, problem E 1225).
    """
    p, q = max(first, second), min(first, second)
    a, b = max(width, height), min(width, height)
    if p <= a + CONTACT and q <= b + CONTACT:
        return True
    if q > b or p <= a:
        return False
    need = (2.0 * p * q * a + (p**2 - q**2) * np.sqrt(p**2 + q**2 - a**2)) / (p**2 + q**2)
    return bool(b >= need - CONTACT)


def longest_round_corner(first: float, second: float, thickness: float) -> float:
    """Longest board of a thickness that turns from a passage of width `first` into one of `second`, m.

    The least over the angle of (a sin t + b cos t - c)/(sin t cos t); (a^(2/3) + b^(2/3))^(3/2) for no thickness.
    Minus one if it is too thick for either. Unturned in the upright direction.
    """
    if thickness > min(first, second):
        return -1.0
    angles = np.linspace(1e-3, np.pi / 2.0 - 1e-3, STEPS)
    for _ in range(2):
        lengths = _spanned(angles, first, second, thickness)
        least = int(np.argmin(lengths))
        angles = np.linspace(angles[max(least - 1, 0)], angles[min(least + 1, STEPS - 1)], STEPS)
    return float(np.min(_spanned(angles, first, second, thickness)))


def _spanned(t: Array, first: float, second: float, thickness: float) -> Array:
    return np.asarray((first * np.sin(t) + second * np.cos(t) - thickness) / (np.sin(t) * np.cos(t)))
