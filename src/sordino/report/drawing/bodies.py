"""Boards and sticks seen at a slant: their visible sides as flat shapes, farther ones first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.build.order import Piece
from sordino.build.part import Part, Stick
from sordino.elements.box_planes import Vector
from sordino.report.drawing.records import Ring

ROUND = 48
"""Corners of a round hole."""
TOUCHING = 0.5
"""Bodies that overlap by no more only touch, mm."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Eye:
    """From where things are seen: signs of x, y and z towards the eye."""

    x: float = 1.0
    y: float = -1.0
    z: float = 1.0

    @property
    def towards(self) -> Array:
        """Unit vector to the eye."""
        return np.array([self.x, self.y, self.z]) / 3.0**0.5

    def flat(self, points: Array) -> Array:
        """Points (n, 3) on the drawing, x to the right and y up."""
        right = np.array([-self.y, self.x, 0.0]) / 2.0**0.5
        return np.stack([points @ right, points @ np.cross(self.towards, right)], axis=1)


@dataclass(frozen=True, kw_only=True, slots=True)
class Seen:
    """One visible side of a body on the drawing, mm, y up; holes are rings of their own."""

    rings: tuple[Ring, ...]
    steep: float
    """How squarely it is seen, 0 to 1."""


@dataclass(frozen=True, kw_only=True)
class Body:
    """A piece moved to where it is drawn."""

    piece: Piece
    corners: Array
    seen: tuple[Seen, ...]

    @property
    def label(self) -> str:
        """Its piece's."""
        return self.piece.label

    @property
    def middle(self) -> Array:
        """Of its corners."""
        return self.corners.mean(axis=0)


def body(piece: Piece, eye: Eye, moved: Vector = (0.0, 0.0, 0.0)) -> Body:
    """A piece as the eye sees it, moved by so many mm."""
    low, high = _ends(piece)
    bottom, top = (ring + np.array(moved) for ring in (low, high))
    sides = [
        (top, _axis(piece), _holes(piece, moved, True)),
        (bottom[::-1], -_axis(piece), _holes(piece, moved, False)),
    ]
    for index in range(len(bottom)):
        after = (index + 1) % len(bottom)
        ring = np.array([bottom[index], bottom[after], top[after], top[index]])
        sides.append((ring, np.cross(ring[1] - ring[0], ring[2] - ring[1]), []))
    seen = []
    for ring, normal, holes in sides:
        steep = float(normal @ eye.towards / max(float(np.linalg.norm(normal)), 1e-12))
        if steep > 1e-6:
            seen.append(Seen(rings=tuple(_ring(eye.flat(one)) for one in (ring, *holes)), steep=steep))
    return Body(piece=piece, corners=np.concatenate([bottom, top]), seen=tuple(seen))


def _ring(points: Array) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)


def _axis(piece: Piece) -> Array:
    return np.array(piece.pose.n)


def _ends(piece: Piece) -> tuple[Array, Array]:
    """Corners of a piece's two ends or sides, against the clock seen along its n."""
    pose = piece.pose
    if isinstance(piece, Stick):
        low = [pose.at(u, v, 0.0) for u, v in piece.section]
        high = [pose.at(u, v, piece.length) for u, v in piece.section]
    else:
        low = [pose.at(u, v, 0.0) for u, v in piece.inner]
        high = [pose.at(u, v, piece.thickness) for u, v in piece.outer]
    return np.array(low), np.array(high)


def _holes(piece: Piece, moved: Vector, outer: bool) -> list[Array]:
    if isinstance(piece, Stick):
        return []
    depth = piece.thickness if outer else 0.0
    return [
        np.array([piece.pose.at(u, v, depth) for u, v in hole_ring(piece, index)]) + np.array(moved)
        for index in range(len(piece.holes))
    ]


def hole_ring(part: Part, index: int, corners: int = ROUND) -> Ring:
    """The outline of one hole of a board, in the board's plane."""
    hole = part.holes[index]
    (u, v), (a, b) = hole.centre, hole.half
    if not hole.rounded:
        return (u - a, v - b), (u + a, v - b), (u + a, v + b), (u - a, v + b)
    turns = np.linspace(0.0, 2.0 * np.pi, corners, endpoint=False)
    return tuple((u + a * float(np.cos(turn)), v + b * float(np.sin(turn))) for turn in turns)


def farthest_first(bodies: Sequence[Body], eye: Eye) -> tuple[Body, ...]:
    """Bodies in an order in which each may be drawn over those before it."""
    axes = _directions(bodies)
    spans = [(axes @ one.corners.T) for one in bodies]
    low = np.array([span.min(axis=1) for span in spans])
    high = np.array([span.max(axis=1) for span in spans])
    facing = axes @ eye.towards
    behind = [set(_behind(index, low, high, facing)) for index in range(len(bodies))]
    depth = [float(one.middle @ eye.towards) for one in bodies]
    left, done = set(range(len(bodies))), list[int]()
    while left:
        ready = [index for index in left if not behind[index] & left] or list(left)
        index = min(ready, key=lambda one: depth[one])
        done.append(index)
        left.remove(index)
    return tuple(bodies[index] for index in done)


def _directions(bodies: Sequence[Body]) -> Array:
    found = [np.eye(3)[axis] for axis in range(3)]
    for one in bodies:
        axis = _axis(one.piece)
        if all(abs(abs(float(axis @ other)) - 1.0) > 1e-6 for other in found):
            found.append(axis)
    return np.array(found)


def _behind(index: int, low: Array, high: Array, facing: Array) -> Iterator[int]:
    """Bodies that some plane parts from this one, on the side away from the eye."""
    for other in range(len(low)):
        if other == index:
            continue
        over = np.where(facing > 1e-9, low[index] - high[other], low[other] - high[index])
        over = np.where(np.abs(facing) > 1e-9, over, -np.inf)
        back = np.where(facing > 1e-9, low[other] - high[index], low[index] - high[other])
        back = np.where(np.abs(facing) > 1e-9, back, -np.inf)
        if over.max() >= -TOUCHING and over.max() > back.max():
            yield other
