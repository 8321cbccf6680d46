"""One cell: shape functions and their products at quadrature points, on the unit cube.

A whole cell is trilinear; one halved by a slope is a wedge, linear over its triangle of the profile.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.grid import FULL, LEFT_CUT


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule:
    """Quadrature points (n, 3) on the unit cube and their weights (n,), which add up to the cell's share of
    the cube."""

    points: Array
    weights: Array


@dataclass(frozen=True, kw_only=True, slots=True)
class Products:
    """Weighted products of shape functions at each point, (points, 64): N N, and the slopes along x, y and
    z."""

    mass: Array
    x: Array
    y: Array
    z: Array


def _profile(kind: int, s: Array, t: Array) -> Array:
    """The four profile functions at (s, t), order (a, c) = 00 01 10 11, and zero at the corner a slope
    took."""
    if kind == FULL:
        return np.stack([(1 - s) * (1 - t), (1 - s) * t, s * (1 - t), s * t], axis=-1)
    if kind == LEFT_CUT:
        return np.stack([1 - s, 0 * s, s - t, t], axis=-1)
    return np.stack([1 - s - t, t, s, 0 * s], axis=-1)


def _profile_slopes(kind: int, s: Array, t: Array) -> tuple[Array, Array]:
    """Derivatives of the profile functions along s and t."""
    one, none = np.ones_like(s), np.zeros_like(s)
    if kind == FULL:
        along_s = np.stack([t - 1, -t, 1 - t, t], axis=-1)
        return along_s, np.stack([s - 1, 1 - s, -s, s], axis=-1)
    if kind == LEFT_CUT:
        return np.stack([-one, none, one, none], axis=-1), np.stack([none, none, -one, one], axis=-1)
    return np.stack([-one, none, one, none], axis=-1), np.stack([-one, one, none, none], axis=-1)


def _with_width(profile: Array, front: Array, back: Array) -> Array:
    """Profile functions (n, 4) times the two width functions: corner 4 a + 2 b + c, (n, 8)."""
    across = np.stack([front, back], axis=-1)
    return np.einsum("nac,nb->nabc", profile.reshape(-1, 2, 2), across).reshape(-1, 8)


def shape(kind: int, points: Array) -> Array:
    """The eight shape functions at points (n, 3) of the unit cube."""
    s, r, t = points.T
    return _with_width(_profile(kind, s, t), 1 - r, r)


def shape_slopes(kind: int, points: Array) -> tuple[Array, Array, Array]:
    """Derivatives of the eight shape functions along the unit cube's x, y and z."""
    s, r, t = points.T
    along_s, along_t = _profile_slopes(kind, s, t)
    along_y = _with_width(_profile(kind, s, t), -np.ones_like(r), np.ones_like(r))
    return _with_width(along_s, 1 - r, r), along_y, _with_width(along_t, 1 - r, r)


@cache
def rule(kind: int, count: int) -> Rule:
    """Gauss points, `count` each way; a wedge's are squeezed into its triangle."""
    nodes, weights = np.polynomial.legendre.leggauss(count)
    nodes, weights = (nodes + 1) / 2, weights / 2
    s, r, t = (axis.ravel() for axis in np.meshgrid(nodes, nodes, nodes, indexing="ij"))
    volume = np.einsum("i,j,k->ijk", weights, weights, weights).ravel()
    if kind == FULL:
        return Rule(points=np.stack([s, r, t], axis=-1), weights=volume)
    squeezed = s * (1 - t) + (t if kind == LEFT_CUT else 0.0)
    return Rule(points=np.stack([squeezed, r, t], axis=-1), weights=volume * (1 - t))


@cache
def even_rule(count: int) -> Rule:
    """Points in the middle of equal parts of the unit cube, `count` each way: for cells of which walls leave a part."""
    nodes = (np.arange(count) + 0.5) / count
    points = np.stack([axis.ravel() for axis in np.meshgrid(nodes, nodes, nodes, indexing="ij")], axis=-1)
    return Rule(points=points, weights=np.full(len(points), 1 / len(points)))


@cache
def products(kind: int, count: int) -> Products:
    """Shape function products at the Gauss points of a cell kind."""
    return _products(kind, rule(kind, count))


@cache
def even_products(count: int) -> Products:
    """The same of a whole cell at even points."""
    return _products(FULL, even_rule(count))


def _products(kind: int, at: Rule) -> Products:
    def squared(values: Array) -> Array:
        return np.einsum("q,qa,qb->qab", at.weights, values, values).reshape(len(values), 64)

    x, y, z = shape_slopes(kind, at.points)
    return Products(mass=squared(shape(kind, at.points)), x=squared(x), y=squared(y), z=squared(z))
