"""The angles inside a box in which a stick can lie: between two faces, and under or beside a divider."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import acos, cos, pi, sin, tan
from typing import Literal

from sordino.build.faces import inside_planes
from sordino.elements.box_dividers import OPEN
from sordino.elements.box_planes import Flat, Frame, Plane, Vector, dot
from sordino.elements.box_sheets import Sheet, frames, profile_edges
from sordino.physics.wave import prism as wave

Ends = tuple[Vector, Vector]


@dataclass(frozen=True, kw_only=True, slots=True)
class Angle:
    """A straight line in which two boards meet, m: `frame` has u along the first board, n along the line."""

    frame: Frame
    length: float
    opening: float
    """Between the two boards, rad."""
    joins: tuple[str, str]
    use: Literal["frame", "cleat"]


def edges(prism: wave.Prism) -> Iterator[Angle]:
    """Along every edge of the inside."""
    walls = {plane.name: plane for plane in inside_planes(frames(prism))}
    ring = profile_edges(prism)
    for index, (name, a, _) in enumerate(ring):
        before = ring[index - 1][0]
        ends = ((a[0], 0.0, a[1]), (a[0], prism.width, a[1]))
        yield _angle(ends, walls[before], walls[name], (before, name), "frame")
    for name, a, b in ring:
        for side, y in (("back", prism.width), ("front", 0.0)):
            yield _angle(((a[0], y, a[1]), (b[0], y, b[1])), walls[name], walls[side], (name, side), "frame")


def beside(sheet: Sheet, prism: wave.Prism, far: bool) -> Iterator[Angle]:
    """Along every edge of a divider that meets a face of the box, on its near side or its far one."""
    walls = {plane.name: plane for plane in inside_planes(frames(prism))}
    ring, height = (sheet.outer, sheet.depth) if far else (sheet.inner, 0.0)
    normal = sheet.frame.n if far else (-sheet.frame.n[0], -sheet.frame.n[1], -sheet.frame.n[2])
    sign = 1.0 if far else -1.0
    place = sheet.frame.at(0.0, 0.0, height)
    # what lies on this side of the board is the inside, so the board's own normal looks away from it
    own = Plane(name=sheet.face, normal=(-normal[0], -normal[1], -normal[2]), offset=-sign * dot(sheet.frame.n, place))
    for index, end in enumerate(sheet.ends):
        if end in walls and end != OPEN:
            a, b = ring[index], ring[(index + 1) % len(ring)]
            ends = (sheet.frame.at(*a, height), sheet.frame.at(*b, height))
            yield _angle(ends, walls[end], own, (end, sheet.face), "cleat")


def _angle(ends: Ends, one: Plane, other: Plane, joins: tuple[str, str], use: Literal["frame", "cleat"]) -> Angle:
    start, stop = ends
    way = tuple(b - a for a, b in zip(start, stop, strict=True))
    length = sum(step * step for step in way) ** 0.5
    along: Vector = (way[0] / length, way[1] / length, way[2] / length)
    u = _within(one.normal, other.normal)
    v: Vector = (-one.normal[0], -one.normal[1], -one.normal[2])
    if dot(cross(u, v), along) < 0.0:
        start, along = stop, (-along[0], -along[1], -along[2])
    opening = pi - acos(max(-1.0, min(1.0, dot(one.normal, other.normal))))
    frame = Frame(origin=start, u=u, v=v, n=along)
    return Angle(frame=frame, length=length, opening=opening, joins=joins, use=use)


def _within(one: Vector, other: Vector) -> Vector:
    """The unit vector in the first plane, at right angles to the angle's line, that leads away from the second."""
    share = dot(one, other)
    x, y, z = (share * a - b for a, b in zip(one, other, strict=True))
    long = (x * x + y * y + z * z) ** 0.5
    return (x / long, y / long, z / long)


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def stick_section(opening: float, side: float) -> tuple[Flat, ...]:
    """The section that fills an angle with both its boards touched over about `side`: square, or ripped to a bevel."""
    if abs(opening - pi / 2.0) < 1e-6:
        return (0.0, 0.0), (side, 0.0), (side, side), (0.0, side)
    back = side * cos(opening) / sin(opening)
    if back < side * 0.7:
        return (0.0, 0.0), (side, 0.0), (side, side), (back, side)
    return (0.0, 0.0), (side, 0.0), (side, side * tan(opening))
