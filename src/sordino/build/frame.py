"""The sticks inside a box: along its edges and beside its dividers, wherever they lie in fibre, clear of the air.

Panel edges hold screws badly, so boards are screwed to sticks. A stick ends where the air passage, a duct, a divider or
another stick begins, and stretches too short to hold two screws are left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from sordino.bands import Array
from sordino.build.angles import Angle, beside, edges, stick_section
from sordino.build.faces import MM, inside_planes
from sordino.build.part import Stick
from sordino.elements.box_planes import Flat, Frame, dot
from sordino.elements.box_sheets import Sheet, frames
from sordino.physics.wave import prism as wave
from sordino.physics.wave.line import distance
from sordino.physics.wave.painting import painted

STEP = 0.005
"""Distance at which a stick's way is looked at, m; it is cut shorter by as much at both ends."""
SHORTEST = 0.08
"""Room for two screws, m (judgement)."""
FREE = 0.003
"""Room between a stick and the flexible duct, m."""
HAIR = 0.001
"""Room between a stick and whatever ends it, m."""
SLANTED = 0.006
"""The same where one lies at a slant to the other, whose corner might reach in between the points looked at, m."""
GRID = 5
"""Points along each side of a stick's section."""


def sticks(prism: wave.Prism, boards: tuple[Sheet, ...], side: float, face: str, prefix: str = "") -> tuple[Stick, ...]:
    """Every stick of `side` m, those farthest from the face that closes last first, labelled S1, S2, ..."""
    found: list[tuple[Angle, float, float]] = []
    for angle in edges(prism):
        found += [(angle, *stretch) for stretch in _stretches(angle, prism, boards, side, found)]
    for board in boards:
        found += _cleats(board, prism, boards, side, found)
    laid = sorted((_stick(one, low, high, side) for one, low, high in found), key=lambda one: -_depth(one, prism, face))
    return tuple(_labelled(one, f"{prefix}S{number}") for number, one in enumerate(laid, 1))


Laid = list[tuple[Angle, float, float]]


def _cleats(board: Sheet, prism: wave.Prism, boards: tuple[Sheet, ...], side: float, before: Laid) -> Laid:
    """Cleats on the near side of a divider; on its far side where there is no room on the near one."""
    found: Laid = []
    for near, far in zip(beside(board, prism, False), beside(board, prism, True), strict=True):
        for angle in (near, far):
            here = _stretches(angle, prism, boards, side, [*before, *found])
            found += [(angle, *stretch) for stretch in here]
            if here:
                break
    return found


def _stretches(
    angle: Angle, prism: wave.Prism, boards: tuple[Sheet, ...], side: float, before: Laid
) -> list[tuple[float, float]]:
    """Where along an angle a stick can lie, m."""
    count = int(angle.length / STEP)
    if count < 3:
        return []
    along = np.linspace(0.0, angle.length, count + 1)
    flat = _lattice(stick_section(angle.opening, side))
    points = _points(angle.frame, flat, along)
    free: Array = (painted(prism, points) > 0) & _inside(prism, points)
    if prism.tube is not None:
        free &= distance(points, prism.tube.centreline) > prism.tube.radius + FREE
    for board in boards:
        free &= ~_in_sheet(board, points, _room(angle.frame, board.frame))
    for other, low, high in before:
        free &= ~_in_stick(other, low, high, side, points, _room(angle.frame, other.frame))
    return list(_runs(np.all(free, axis=1), along))


def _runs(free: Array, along: Array) -> Iterator[tuple[float, float]]:
    """Stretches of free places, one step shorter at each end where something ends them."""
    turns = np.flatnonzero(np.diff(np.concatenate([[0], free.astype(int), [0]])))
    for first, last in pairwise(turns):
        if free[first]:
            low = along[first] + (STEP if first > 0 else 0.0)
            high = along[last - 1] - (STEP if last < len(along) else 0.0)
            if high - low >= SHORTEST:
                yield float(low), float(low) + int(MM * (high - low) + 1e-6) / MM


def _lattice(section: tuple[Flat, ...]) -> Array:
    """Points all over a section, a hair inside its rim, shape (n, 2)."""
    corners = np.array(section if len(section) == 4 else (*section, section[-1]))
    shares = np.linspace(0.0, 1.0, GRID)
    s, t = (axis.ravel()[:, None] for axis in np.meshgrid(shares, shares))
    spread = (1 - s) * (1 - t) * corners[0] + s * (1 - t) * corners[1] + s * t * corners[2] + (1 - s) * t * corners[3]
    middle = corners.mean(axis=0)
    return middle + (spread - middle) * 0.99


def _points(frame: Frame, flat: Array, along: Array) -> Array:
    """Points of a section at each place along, shape (places, n, 3)."""
    u, v, n = (np.array(way) for way in (frame.u, frame.v, frame.n))
    across = flat[:, :1] * u + flat[:, 1:] * v
    return np.array(frame.origin) + across[None] + along[:, None, None] * n


def _local(frame: Frame, points: Array) -> tuple[Array, Array, Array]:
    away = points - np.array(frame.origin)
    u, v, n = (away @ np.array(way) for way in (frame.u, frame.v, frame.n))
    return u, v, n


def _inside(prism: wave.Prism, points: Array) -> Array:
    """Regions of fibre may reach past a slope."""
    walls = inside_planes(frames(prism))
    return np.all([points @ np.array(wall.normal) < wall.offset for wall in walls], axis=0)


def _room(one: Frame, other: Frame) -> float:
    """Room to leave between things in two frames, m."""
    turned = np.array([one.u, one.v, one.n]) @ np.array([other.u, other.v, other.n]).T
    return HAIR if np.all(np.abs(turned - np.round(turned)) < 1e-6) else SLANTED


def _in_sheet(board: Sheet, points: Array, room: float) -> Array:
    u, v, w = _local(board.frame, points)
    us, vs = ([point[axis] for point in board.blank] for axis in (0, 1))
    past = room - HAIR + 1e-6
    inside = (w > -past) & (w < board.depth + past) & (u > min(us) - room) & (u < max(us) + room)
    return inside & (v > min(vs) - room) & (v < max(vs) + room)


def _in_stick(angle: Angle, low: float, high: float, side: float, points: Array, room: float) -> Array:
    """Within the block round a stick."""
    u, v, n = _local(angle.frame, points)
    section = stick_section(angle.opening, side)
    us, vs = ([corner[axis] for corner in section] for axis in (0, 1))
    across = (u > min(us) - room) & (u < max(us) + room) & (v > min(vs) - room) & (v < max(vs) + room)
    return across & (n > low - room) & (n < high + room)


def _stick(angle: Angle, low: float, high: float, side: float) -> Stick:
    base, (x, y, z) = angle.frame, angle.frame.at(0.0, 0.0, low)
    section = tuple((MM * u, MM * v) for u, v in stick_section(angle.opening, side))
    pose = Frame(origin=(MM * x, MM * y, MM * z), u=base.u, v=base.v, n=base.n)
    length = round(MM * (high - low), 6)
    return Stick(label="", length=length, section=section, pose=pose, joins=angle.joins, use=angle.use)


def _depth(stick: Stick, prism: wave.Prism, face: str) -> float:
    """How far the farthest point of a stick lies from the face that closes the box, mm."""
    wall = next(plane for plane in inside_planes(frames(prism)) if plane.name == face)
    corners = [stick.pose.at(u, v, w) for u, v in stick.section for w in (0.0, stick.length)]
    return max(MM * wall.offset - dot(wall.normal, corner) for corner in corners)


def _labelled(stick: Stick, label: str) -> Stick:
    return replace(stick, label=label)
