"""The first length of a duct that meets a face at a slant: from the face to a plane square to the duct.

The plane touches the face where the duct comes closest to it, so the stub is no longer than it must be. It is meshed
on the box's own lines with unknowns of its own, and its cells count by the share of them that lies inside the duct; a
hard wall needs no more, because it is the natural edge of the field.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.line import Point
from sordino.physics.wave.prism import FLAT, Port, Prism, slope

LEAST_SLANT = 1e-4
"""A duct that is less than this off square is square, rad."""
OPENING_POINTS = 96
"""Points each way at which an opening is looked for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stub:
    """Where the axis meets the face, and unit vectors: outwards along the duct and square to the face, across the duct
    in the plane of its slant, and the rest."""

    foot: Array
    axis: Array
    normal: Array
    across: Array
    rest: Array
    halves: tuple[float, float]
    """Half the duct across and along the rest, m."""
    round: bool
    reach: float
    """Length along the axis, m."""

    @property
    def end(self) -> Array:
        """Middle of the plane square to the duct."""
        return self.foot + self.reach * self.axis

    @property
    def along(self) -> Array:
        """Unit vector in the face, in the plane of the slant."""
        flat = self.across - (self.across @ self.normal) * self.normal
        return flat / np.linalg.norm(flat)

    @property
    def opening(self) -> tuple[float, float]:
        """Half the opening in the face along the slant and along the rest, m."""
        return self.halves[0] / float(self.axis @ self.normal), self.halves[1]


def outward(prism: Prism, face: str) -> Point:
    """Unit vector out of the box, square to a face."""
    plain = {
        "left": (-1.0, 0.0, 0.0),
        "right": (1.0, 0.0, 0.0),
        "floor": (0.0, 0.0, -1.0),
        "ceiling": (0.0, 0.0, 1.0),
        "front": (0.0, -1.0, 0.0),
        "back": (0.0, 1.0, 0.0),
    }
    if face in plain:
        return plain[face]
    (x0, z0), (x1, z1) = slope(prism, face)
    long = ((x1 - x0) ** 2 + (z1 - z0) ** 2) ** 0.5
    return -(z1 - z0) / long, 0.0, (x1 - x0) / long


def stub(prism: Prism, port: Port) -> Stub:
    """A port's stub; of no reach where the duct is square to its face."""
    normal = np.asarray(outward(prism, port.face))
    along, rest = _in_face(prism, port.face)
    slant = port.slant if abs(port.slant) > LEAST_SLANT else 0.0
    axis = np.cos(slant) * normal + np.sin(slant) * along
    wide = (port.diameter, port.diameter) if port.diameter is not None else port.sides or (0.0, 0.0)
    return Stub(
        foot=np.asarray(port.centre, float),
        axis=axis,
        normal=normal,
        across=np.cos(slant) * along - np.sin(slant) * normal,
        rest=rest,
        halves=(wide[0] / 2, wide[1] / 2),
        round=port.diameter is not None,
        reach=wide[0] / 2 * abs(np.tan(slant)),
    )


def _in_face(prism: Prism, face: str) -> tuple[Array, Array]:
    """Two unit vectors in a face: along the profile (up on an end, else to larger x), and the rest."""
    along = {"left": (0.0, 0.0, 1.0), "right": (0.0, 0.0, 1.0)}.get(face, (1.0, 0.0, 0.0))
    if face.endswith("slope"):
        (x0, z0), (x1, z1) = slope(prism, face)
        along = (x1 - x0, 0.0, z1 - z0)
    rest = (0, 0, 1) if face in ("front", "back") else (0, 1, 0)
    return np.asarray(along) / np.linalg.norm(along), np.asarray(rest, float)


def opening(port: Port) -> tuple[float, float]:
    """Sides of the hole that a duct needs in its face, along the profile and along the rest: longer at a slant, m."""
    along, rest = (port.diameter, port.diameter) if port.diameter is not None else port.sides or (0.0, 0.0)
    return along / float(np.cos(port.slant)), rest


def slanting(prism: Prism) -> dict[int, Stub]:
    """The stubs of a box by the number of their port."""
    return {number: stub(prism, port) for number, port in enumerate(prism.ports) if abs(port.slant) > LEAST_SLANT}


def bounds(of: Stub) -> tuple[Array, Array]:
    """Least and largest x, y and z of a stub, m."""
    wide, high = of.opening
    signs = [(a, b) for a in (-1, 1) for b in (-1, 1)]
    corners = [of.foot + a * wide * of.along + b * high * of.rest for a, b in signs]
    corners += [of.end + a * of.halves[0] * of.across + b * high * of.rest for a, b in signs]
    return np.min(corners, axis=0), np.max(corners, axis=0)


def wall_depth(of: Stub, points: Array) -> Array:
    """How far points (..., 3) lie inside the duct's wall, m; below 0 outside."""
    u, v = (points - of.foot) @ of.across, (points - of.foot) @ of.rest
    if of.round:
        return of.halves[0] - np.hypot(u, v)
    return np.minimum(of.halves[0] - np.abs(u), of.halves[1] - np.abs(v))


def end_depth(of: Stub, points: Array) -> Array:
    """How far points (..., 3) lie before the stub's outer end, m."""
    return of.reach - (points - of.foot) @ of.axis


def face_height(of: Stub, points: Array) -> Array:
    """How far points (..., 3) lie outside the face, m."""
    return (points - of.foot) @ of.normal


def stub_share(of: Stub, points: Array, steps: Array) -> Array:
    """How much of a small box round each point (..., 3), with sides of `steps`, lies inside the stub: 0 to 1.

    Every wall passes it as a plane would: exactly where it lies along the sides, and on the average elsewhere.
    """
    u, v = (points - of.foot) @ of.across, (points - of.foot) @ of.rest
    share = _before(end_depth(of, points), of.axis, steps) * _before(face_height(of, points), of.normal, steps)
    if of.round:
        out = u[..., None] * of.across + v[..., None] * of.rest
        radius = np.hypot(u, v)
        return share * _before(of.halves[0] - radius, out / np.maximum(radius, FLAT)[..., None], steps)
    share = share * _before(of.halves[0] - np.abs(u), of.across, steps)
    return share * _before(of.halves[1] - np.abs(v), of.rest, steps)


def _before(depth: Array, normal: Array, steps: Array) -> Array:
    return np.clip(0.5 + depth / np.maximum((np.abs(normal) * steps).sum(axis=-1), FLAT), 0.0, 1.0)


def opening_points(of: Stub) -> Array:
    """Points of the face that lie in the opening, (n, 3)."""
    steps = (np.arange(OPENING_POINTS) + 0.5) / OPENING_POINTS * 2 - 1
    u, v = (axis.ravel() for axis in np.meshgrid(steps, steps, indexing="ij"))
    wide, high = of.opening
    points = of.foot + np.outer(u * wide, of.along) + np.outer(v * high, of.rest)
    return points[np.hypot(u, v) < 1] if of.round else points
