"""The section of a box as shapes of its profile, in metres: casing, dividers, duct, fibre, mouths."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.bands import Array
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.physics.wave import prism as wave
from sordino.physics.wave.painting import in_tube, painted
from sordino.physics.wave.stub import stub
from sordino.report.drawing.records import XY, Ring

FIBRE_POINTS = 400
"""Points along the box at which fibre is looked for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheeting:
    """One layer of one face as cut: what it is and its outline."""

    kind: str
    """`board`, `damping` or `cavity`."""
    ring: Ring


@dataclass(frozen=True, kw_only=True, slots=True)
class Opening:
    """A mouth as the section shows it: its two corners on the inside, outwards along the duct, and how far the casing
    reaches that way."""

    first: XY
    second: XY
    outward: XY
    depth: float


def named_edges(prism: wave.Prism) -> tuple[tuple[str, XY, XY], ...]:
    """The faces that the section cuts, round the profile against the clock, each with its two inner corners."""
    corners = wave.outline(prism)
    ring = zip(corners, (*corners[1:], corners[0]), strict=True)
    return tuple((_edge_name(prism, a, b), a, b) for a, b in ring)


def _edge_name(prism: wave.Prism, a: XY, b: XY) -> str:
    for name, place, axis in (("floor", 0.0, 1), ("left", 0.0, 0), ("right", prism.length, 0)):
        if abs(a[axis] - place) < wave.FLAT and abs(b[axis] - place) < wave.FLAT:
            return name
    if abs(a[1] - prism.height) < wave.FLAT and abs(b[1] - prism.height) < wave.FLAT:
        return "ceiling"
    return "left slope" if (a[0] + b[0]) / 2.0 < prism.length / 2.0 else "right slope"


def outer_corners(box: Box, prism: wave.Prism) -> Ring:
    """Corners of the casing's outside, each beside the inner corner that begins the same edge."""
    edges = named_edges(prism)
    lines = [_pushed_out(a, b, buildup.thickness(box.layers(name))) for name, a, b in edges]
    return tuple(_crossing(lines[index - 1], line) for index, line in enumerate(lines))


def _pushed_out(a: XY, b: XY, by: float) -> tuple[Array, Array]:
    """A point and the direction of an edge moved outwards; outwards is right of its way round."""
    start, along = np.array(a), np.array(b) - np.array(a)
    along = along / np.linalg.norm(along)
    return start + by * np.array([along[1], -along[0]]), along


def _crossing(one: tuple[Array, Array], other: tuple[Array, Array]) -> XY:
    (p, d), (q, e) = one, other
    cross = d[0] * e[1] - d[1] * e[0]
    if abs(cross) < 1e-9:
        return float(q[0]), float(q[1])
    gap = q - p
    point = p + d * (gap[0] * e[1] - gap[1] * e[0]) / cross
    return float(point[0]), float(point[1])


def casing(box: Box, prism: wave.Prism) -> tuple[Sheeting, ...]:
    """Every layer of every face that the section cuts, mitred at the corners."""
    edges, outer = named_edges(prism), outer_corners(box, prism)
    found = []
    for index, (name, a, b) in enumerate(edges):
        ends = (a, b, outer[(index + 1) % len(edges)], outer[index])
        found += [_layer(kind, ends, low, high) for kind, low, high in _depths(box, name)]
    return tuple(found)


def _depths(box: Box, face: str) -> list[tuple[str, float, float]]:
    """Layers of a face from inside out: kind, and where each begins and ends as a share of the whole."""
    layers, whole, at, found = box.layers(face), buildup.thickness(box.layers(face)), 0.0, []
    for layer in layers:
        depth = (layer.thickness or layer.cavity or 0.0) / whole
        kind = "damping" if layer.damping else "cavity" if layer.cavity is not None else "board"
        found.append((kind, at, at + depth))
        at += depth
    return found


def _layer(kind: str, ends: tuple[XY, XY, XY, XY], low: float, high: float) -> Sheeting:
    a, b, outer_b, outer_a = ends
    ring = (
        _between(a, outer_a, low),
        _between(b, outer_b, low),
        _between(b, outer_b, high),
        _between(a, outer_a, high),
    )
    return Sheeting(kind=kind, ring=ring)


def _between(a: XY, b: XY, share: float) -> XY:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def dividers(prism: wave.Prism) -> tuple[Ring, ...]:
    """Dividers as cut."""
    return tuple(wave.rectangle((one.x0, one.z0), (one.x1, one.z1)) for one in prism.dividers)


def duct(prism: wave.Prism) -> tuple[Ring, Ring] | None:
    """Both walls of the flexible duct along its centreline; None without one."""
    if prism.tube is None:
        return None
    line = np.array(prism.tube.centreline)[:, [0, 2]]
    along = np.gradient(line, axis=0)
    along[0], along[-1] = line[1] - line[0], line[-1] - line[-2]
    along = along / np.linalg.norm(along, axis=1)[:, None]
    aside = prism.tube.radius * np.stack([-along[:, 1], along[:, 0]], axis=1)
    return _ring(line + aside), _ring(line - aside)


def _ring(points: Array) -> Ring:
    return tuple((float(x), float(z)) for x, z in points)


def fibre(prism: wave.Prism) -> tuple[Ring, ...]:
    """Outlines of the fibre in the middle of the width, holes as rings of their own."""
    step = prism.length / FIBRE_POINTS
    x = np.arange(-0.5, FIBRE_POINTS + 1) * step
    z = np.arange(-0.5, round(prism.height / step) + 1) * step
    grid_x, grid_z = np.meshgrid(np.clip(x, 0.0, prism.length), np.clip(z, 0.0, prism.height))
    points = np.stack([grid_x, np.full_like(grid_x, prism.width / 2.0), grid_z], axis=-1)
    held = (painted(prism, _inwards(prism, points)) > 0) & ~in_tube(prism, points)
    return filled_rings(x, z, held.astype(float), 0.5, 2.0)


def _inwards(prism: wave.Prism, points: Array) -> Array:
    """Points on the very edge moved in a little, where it is plain what lies there."""
    low = 1e-6 * prism.length
    top = np.maximum(wave.ceiling(prism, points[..., 0]) - low, low)
    x = np.clip(points[..., 0], low, prism.length - low)
    return np.stack([x, points[..., 1], np.clip(points[..., 2], low, top)], axis=-1)


def filled_rings(x: Array, z: Array, values: Array, low: float, high: float) -> tuple[Ring, ...]:
    """Outlines of where `values` (z, x) lie between two levels."""
    from contourpy import FillType, contour_generator

    maker: Any = contour_generator(x, z, values, fill_type=FillType.OuterOffset)
    points, offsets = maker.filled(low, high)
    return tuple(
        _ring(straightened(ring))
        for whole, parts in zip(points, offsets, strict=True)
        for ring in np.split(whole, parts[1:-1])
    )


def straightened(points: Array) -> Array:
    """A line without the points that lie on a straight stretch."""
    if len(points) < 3:
        return points
    before, after = np.diff(points, axis=0)[:-1], np.diff(points, axis=0)[1:]
    turns = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0])
    size = np.linalg.norm(before, axis=1) * np.linalg.norm(after, axis=1)
    return points[np.concatenate([[True], turns > 1e-6 * np.maximum(size, 1e-18), [True]])]


def openings(box: Box, prism: wave.Prism) -> tuple[Opening | None, Opening | None]:
    """Both mouths; None for one in a face that the section does not cut."""
    first, second = (_opening(box, prism, port) for port in prism.ports)
    return first, second


def _opening(box: Box, prism: wave.Prism, port: wave.Port) -> Opening | None:
    base = stub(prism, port)
    if abs(base.normal[1]) > 0.5:
        return None
    ends = [_profile(base.foot + sign * base.opening[0] * base.along) for sign in (-1.0, 1.0)]
    depth = buildup.thickness(box.layers(port.face)) / float(base.axis @ base.normal)
    return Opening(first=ends[0], second=ends[1], outward=_profile(base.axis), depth=depth)


def _profile(point: Array) -> XY:
    return float(point[0]), float(point[2])
