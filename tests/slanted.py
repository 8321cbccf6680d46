"""Boxes with ducts at a slant, and the same boxes as meshes that follow every wall, for a general library."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import skfem

from sordino.bands import Array
from sordino.physics.wave.prism import Cut, Port, Prism
from sordino.physics.wave.stub import Stub, stub

SLICE = 0.02
"""Width of the flat boxes, m."""
MORE = 0.04
"""Length of duct that the other mesh has beyond the stub, m."""


def oblique(length: float = 0.8, high: float = 0.2, run: float = 0.15) -> Prism:
    """A straight duct whose far end is cut by a slope; the duct that goes on from there stands at a slant to it."""
    middle = (length - run / 2, SLICE / 2, high / 2)
    return Prism(
        length=length,
        width=SLICE,
        height=high,
        right=Cut(run=run, drop=high),
        ports=(
            Port(face="left", centre=(0.0, SLICE / 2, high / 2), sides=(high, SLICE)),
            Port(face="right slope", centre=middle, sides=(high, SLICE), slant=float(np.arctan2(run, high))),
        ),
    )


def under_a_roof(first: float, second: float) -> Prism:
    """A flat box with one duct in an end and one in a slope, at those slants, rad."""
    return Prism(
        length=0.9,
        width=SLICE,
        height=0.6,
        right=Cut(run=0.45, drop=0.35),
        ports=(
            Port(face="left", centre=(0.0, SLICE / 2, 0.3), sides=(0.14, SLICE), slant=first),
            Port(face="right slope", centre=(0.675, SLICE / 2, 0.425), sides=(0.12, SLICE), slant=second),
        ),
    )


def round_through(slant: float) -> Prism:
    """A box between two round ducts that lean up alike, off its middle."""
    return Prism(
        length=0.5,
        width=0.4,
        height=0.45,
        ports=(
            Port(face="left", centre=(0.0, 0.2, 0.2), diameter=0.16, slant=slant),
            Port(face="right", centre=(0.5, 0.2, 0.2), diameter=0.16, slant=slant),
        ),
    )


def leaning(prism: Prism, first: float, second: float) -> Prism:
    """The same box, its ducts at those slants."""
    ports = (replace(prism.ports[0], slant=first), replace(prism.ports[1], slant=second))
    return replace(prism, ports=ports)


def flat_mesh(prism: Prism, refined: int) -> tuple[skfem.MeshTri, list[tuple[Array, Array]]]:
    """Triangles of `under_a_roof`, stubs and all, and both ends of each duct's end line."""
    rims, ends = zip(*(_rims(stub(prism, port)) for port in prism.ports), strict=True)
    (low, high), (upper, lower) = rims
    corners = [(0.0, 0.0), (0.9, 0.0), (0.9, 0.25), lower, upper, (0.45, 0.6), (0.0, 0.6), high, low]
    points = [np.array(corner) for corner in corners] + [np.array((0.45, 0.25))]
    fan = [(index, (index + 1) % 9, 9) for index in range(9)]
    lines = []
    for number, hole in enumerate(((8, 7), (4, 3))):
        beyond, near = ends[number]
        points.append(beyond)
        fan.append((*hole, len(points) - 1))
        lines.append((points[hole[near]], beyond))
    return skfem.MeshTri(np.array(points).T, np.array(fan).T).refined(refined), lines


def _rims(of: Stub) -> tuple[tuple[Array, Array], tuple[Array, int]]:
    """Both rims of a hole in the profile; the far corner of the duct's end, and which rim the end line begins at."""
    rims = tuple((of.foot + sign * of.opening[0] * of.along)[[0, 2]] for sign in (-1, 1))
    ends = tuple((of.end + sign * of.halves[0] * of.across)[[0, 2]] for sign in (-1, 1))
    near = int(np.argmin([np.linalg.norm(rim - end) for rim, end in zip(rims, ends, strict=True)]))
    return (rims[0], rims[1]), (ends[1 - near], near)


@dataclass(frozen=True, kw_only=True)
class Plane:
    """Points of a face (n, 2), its quadrilaterals, and which of them lie in the hole."""

    points: Array
    quads: Array
    inside: Array


def holed(width: float, height: float, middle: Array, halves: Array, sides: int = 4) -> Plane:
    """A rectangle with an elliptic hole: a square core, rings out to the hole's edge, rings on to the rectangle.

    The edge has 4 `sides` straight pieces and the ellipse's own area.
    """
    count, steps = 4 * sides, np.linspace(-1, 1, sides + 1)
    core = np.array([(u, v) for u in steps for v in steps]) * 0.45 * halves + middle
    at = np.arange((sides + 1) ** 2).reshape(sides + 1, sides + 1)
    quads = [(at[i, j], at[i + 1, j], at[i + 1, j + 1], at[i, j + 1]) for i in range(sides) for j in range(sides)]
    loop = np.concatenate([at[:0:-1, -1], at[0, :0:-1], at[:-1, 0], at[-1, :-1]])
    angles = 2 * np.pi * np.arange(count) / count + np.pi / 4
    swell = np.sqrt(2 * np.pi / count / np.sin(2 * np.pi / count))
    edge = middle + swell * halves * np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    corners = np.array([(width, height), (0.0, height), (0.0, 0.0), (width, 0.0)])
    shares = (np.arange(sides) / sides)[:, None]
    outer = np.concatenate([corners[k] + shares * (corners[(k + 1) % 4] - corners[k]) for k in range(4)])
    points, inside, here, before = [core], [True] * len(quads), loop, core[loop]
    for ring, flag in ((edge, True), (outer, False)):
        for share in (0.5, 1.0):
            there = sum(len(part) for part in points) + np.arange(count)
            points.append(before + share * (ring - before))
            turn = np.roll(np.arange(count), -1)
            quads += list(zip(here, there, there[turn], here[turn], strict=True))
            inside += [flag] * count
            here = there
        before = ring
    return Plane(points=np.concatenate(points), quads=np.array(quads), inside=np.array(inside))


def round_mesh(prism: Prism, layers: int = 6, ducts: int = 3) -> skfem.MeshHex:
    """Hexahedra of `round_through`: one plane drawn through the box, and out along each duct to a square end."""
    first, _ = bases = [stub(prism, port) for port in prism.ports]
    plane = holed(prism.width, prism.height, np.array((0.2, 0.2)), np.array(first.opening)[::-1])
    count, bored = len(plane.points), np.unique(plane.quads[plane.inside])
    levels = np.linspace(0.0, prism.length, layers + 1)
    points = [np.column_stack([np.full(count, x), plane.points]) for x in levels]
    bricks = [np.column_stack([plane.quads + k * count, plane.quads + (k + 1) * count]) for k in range(layers)]
    for base, level in zip(bases, (0, layers), strict=True):
        foot, lower = points[level], level * count + np.arange(count)
        length = base.reach + MORE - (foot - base.foot) @ base.axis
        for step in range(1, ducts + 1):
            upper = np.full(count, -1)
            upper[bored] = sum(len(part) for part in points) + np.arange(len(bored))
            points.append(foot[bored] + (length[bored] * step / ducts)[:, None] * base.axis)
            bricks.append(np.column_stack([lower[plane.quads[plane.inside]], upper[plane.quads[plane.inside]]]))
            lower = upper
    order = [0, 4, 3, 1, 7, 5, 2, 6]
    return skfem.MeshHex(np.vstack(points).T, np.vstack(bricks)[:, order].T)
