"""The parts as solids, mm, for checks and for the model: manifold3d."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from sordino.build.part import Hole, Part, Stick
from sordino.elements.box_planes import Flat, Frame, Vector
from sordino.elements.box_sheets import profile_edges
from sordino.physics.wave import prism as wave

if TYPE_CHECKING:
    from manifold3d import Manifold
else:
    Manifold = Any

SEGMENTS = 96
"""Sides of a round hole."""
PAST = 5.0
"""How far a drill goes past a board on both sides, mm."""


def solid(part: Part | Stick) -> Manifold:
    """A board with its bevels and holes, or a stick, where it stands in the box."""
    if isinstance(part, Stick):
        return hull([part.pose.at(*corner, w) for corner in part.section for w in (0.0, part.length)])
    body = hull([*_raised(part.pose, part.inner, 0.0), *_raised(part.pose, part.outer, part.thickness)])
    for hole in part.holes:
        body = body - drilled(part, hole)
    return body


def _raised(pose: Frame, ring: tuple[Flat, ...], height: float) -> list[Vector]:
    return [pose.at(u, v, height) for u, v in ring]


def drilled(part: Part, hole: Hole) -> Manifold:
    """What a hole takes out, running past the board on both sides."""
    ring = _round(hole) if hole.rounded else _square(hole)
    return hull([part.pose.at(u, v, w) for u, v in ring for w in (-PAST, part.thickness + PAST)])


def _round(hole: Hole) -> list[Flat]:
    """A polygon of the area of the circle or ellipse."""
    turn = 2.0 * np.pi / SEGMENTS
    swell = float((turn / np.sin(turn)) ** 0.5)
    (u, v), (a, b) = hole.centre, hole.half
    return [(u + swell * a * float(np.cos(turn * i)), v + swell * b * float(np.sin(turn * i))) for i in range(SEGMENTS)]


def _square(hole: Hole) -> list[Flat]:
    (u, v), (a, b) = hole.centre, hole.half
    return [(u - a, v - b), (u + a, v - b), (u + a, v + b), (u - a, v + b)]


def hull(corners: list[Vector]) -> Manifold:
    """The convex body of these corners."""
    from manifold3d import Manifold

    return Manifold.hull_points(np.array(corners))


def cavity(prism: wave.Prism) -> Manifold:
    """The inside of the box as it is meant."""
    ring = [a for _, a, _ in profile_edges(prism)]
    return hull([(1e3 * x, 1e3 * y, 1e3 * z) for x, z in ring for y in (0.0, prism.width)])


def pushed_in(part: Part | Stick, way: Vector, far: float) -> Manifold:
    """What a part passes on its way to its place from `far` mm off along `way`."""
    if isinstance(part, Stick):
        here = [part.pose.at(*corner, w) for corner in part.section for w in (0.0, part.length)]
    else:
        here = [*_raised(part.pose, part.inner, 0.0), *_raised(part.pose, part.outer, part.thickness)]
    there = [(x + far * way[0], y + far * way[1], z + far * way[2]) for x, y, z in here]
    return hull([*here, *there])
