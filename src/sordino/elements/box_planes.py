"""Planes and what lies between them: how a board's two sides come from where it lies and what it ends at."""

from __future__ import annotations

from dataclasses import dataclass
from math import dist

from sordino.physics.wave import prism as wave

Vector = tuple[float, float, float]
Flat = tuple[float, float]
Tagged = list[tuple[Flat, str]]
"""Corners of a polygon, each with the name of what the edge after it ends at."""
FAR = 1e3
"""Farther than any box reaches, m."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Frame:
    """A place in the box and three directions: two in a face, and outwards."""

    origin: Vector
    u: Vector
    v: Vector
    n: Vector

    def at(self, u: float, v: float, w: float) -> Vector:
        """The point that is so far along the three directions."""
        o, a, b, c = self.origin, self.u, self.v, self.n
        return (
            o[0] + u * a[0] + v * b[0] + w * c[0],
            o[1] + u * a[1] + v * b[1] + w * c[1],
            o[2] + u * a[2] + v * b[2] + w * c[2],
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Plane:
    """A plane, and what ends at it: the points with normal . q below `offset` lie inside."""

    name: str
    normal: Vector
    offset: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Border:
    """A plane as a frame sees it: a u + b v + c w <= bound lies inside."""

    name: str
    a: float
    b: float
    c: float
    bound: float


def borders(frame: Frame, limits: tuple[Plane, ...]) -> tuple[Border, ...]:
    """Planes in a frame's own directions."""
    return tuple(
        Border(
            name=plane.name,
            a=dot(plane.normal, frame.u),
            b=dot(plane.normal, frame.v),
            c=dot(plane.normal, frame.n),
            bound=plane.offset - dot(plane.normal, frame.origin),
        )
        for plane in limits
    )


def cut_flat(low: float, high: float, limits: tuple[Border, ...]) -> Tagged:
    """What lies inside all borders at some height from `low` to `high` over the frame's plane, seen from outside.

    With `low` above `high`, what lies inside them at all heights between the two.
    """
    polygon: Tagged = [((-FAR, -FAR), ""), ((FAR, -FAR), ""), ((FAR, FAR), ""), ((-FAR, FAR), "")]
    nearest = min if low <= high else max
    for each in limits:
        polygon = _clipped(polygon, (each.a, each.b), each.bound - nearest(each.c * low, each.c * high), each.name)
    return polygon


def _clipped(polygon: Tagged, normal: Flat, bound: float, tag: str) -> Tagged:
    """What of a convex polygon lies below `bound` along a direction."""
    sides = [normal[0] * p[0] + normal[1] * p[1] - bound for p, _ in polygon]
    if all(side <= 0.0 for side in sides):
        return polygon
    kept: Tagged = []
    for index, (point, edge) in enumerate(polygon):
        after, here, there = (index + 1) % len(polygon), sides[index], sides[(index + 1) % len(polygon)]
        if here <= 0.0:
            kept.append((point, edge))
        if (here < 0.0) != (there < 0.0) and here != there and here != 0.0 and there != 0.0:
            share = here / (here - there)
            end = polygon[after][0]
            crossing = (point[0] + share * (end[0] - point[0]), point[1] + share * (end[1] - point[1]))
            kept.append((crossing, tag if here < 0.0 else edge))
        elif here == 0.0 and there > 0.0:
            kept[-1] = (point, tag)
    return _distinct(kept)


def _distinct(polygon: Tagged) -> Tagged:
    """Without edges of no length."""
    found = [
        (point, tag)
        for index, (point, tag) in enumerate(polygon)
        if dist(point, polygon[(index + 1) % len(polygon)][0]) > wave.FLAT
    ]
    return found if len(found) > 2 else []


def area(ring: tuple[Flat, ...]) -> float:
    """Area of a polygon, m2."""
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True)) / 2.0


def centroid(ring: tuple[Flat, ...]) -> Flat:
    """Centre of a polygon's area, m."""
    pairs = [(a, b, a[0] * b[1] - a[1] * b[0]) for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True)]
    whole = 3.0 * sum(cross for _, _, cross in pairs)
    x, y = (sum((a[way] + b[way]) * cross for a, b, cross in pairs) / whole for way in (0, 1))
    return x, y


def dot(u: Vector, v: Vector) -> float:
    """Scalar product."""
    return u[0] * v[0] + u[1] * v[1] + u[2] * v[2]
