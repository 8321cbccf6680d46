"""Where pressure jumps: the film around the duct's core and the plates of dividers.

Across a wall of surface mass m the normal velocity is one and p1 - p2 = (j omega m + r) v, which adds
j omega / (j omega m + r) times the integral of [p][q] over the wall (both scaled by rho0 like the rest).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.grid import FULL, LEFT_CUT, NONE
from sordino.physics.wave.leaves import Leaves
from sordino.physics.wave.prism import Divider, Prism


@dataclass(frozen=True, kw_only=True, slots=True)
class Block:
    """Small dense matrices (n, p, p) over unknowns (n, p)."""

    connection: Array
    values: Array


def film_block(leaves: Leaves) -> Block:
    """Integral over the film of [p][q], the jump between core and box, gathered cell by cell."""
    if leaves.skin is None:
        return Block(connection=np.zeros((0, 16), int), values=np.zeros((0, 16, 16)))
    points, areas = leaves.skin.points, leaves.skin.areas
    outer, functions = leaves.at(points, np.zeros(len(points), int))
    inner, _ = leaves.at(points, np.ones(len(points), int))
    order = np.argsort(outer, kind="stable")
    first = np.flatnonzero(np.diff(outer[order], prepend=-1))
    each = np.einsum("n,na,nb->nab", areas[order], functions[order], functions[order])
    connection = np.concatenate([leaves.connection[outer], leaves.connection[inner]], axis=1)
    return Block(connection=connection[order][first], values=_jump(np.add.reduceat(each, first, axis=0)))


def _jump(product: Array) -> Array:
    """The product of jumps from that of the functions, (n, p, p) to (n, 2 p, 2 p)."""
    return np.concatenate(
        [np.concatenate([product, -product], axis=2), np.concatenate([-product, product], axis=2)], axis=1
    )


def plate_blocks(prism: Prism, leaves: Leaves) -> list[Block]:
    """For each divider, the integral over its face of [p][q], the jump from one side to the other."""
    return [_plate_block(leaves, divider) for divider in prism.dividers]


SQUARE = np.array([[4, 2, 2, 1], [2, 4, 1, 2], [2, 1, 4, 2], [1, 2, 2, 4]]) / 36
"""Integral of N N over the unit square, corners 00 01 10 11."""
SIDES = {0: ((4, 5, 6, 7), (0, 1, 2, 3)), 2: ((1, 3, 5, 7), (0, 2, 4, 6))}
"""Corners of the face towards larger, and towards smaller, x (0) and z (2)."""


def _plate_block(leaves: Leaves, divider: Divider) -> Block:
    axis = 0 if divider.across_x else 2
    lower, upper = _facing(leaves, divider, axis)
    sizes = leaves.grid.sizes[leaves.cell[lower]]
    area = sizes[:, 1] * sizes[:, 2 - axis]
    above, below = SIDES[axis]
    connection = np.concatenate(
        [leaves.connection[lower][:, list(above)], leaves.connection[upper][:, list(below)]], axis=1
    )
    return Block(connection=connection, values=_jump(area[:, None, None] * SQUARE))


def _facing(leaves: Leaves, divider: Divider, axis: int) -> tuple[Array, Array]:
    """Leaves that face each other across a divider."""
    grid = leaves.grid
    spans = ((divider.x0, divider.x1), (divider.z0, divider.z1))
    starts, along = spans if axis == 0 else spans[::-1]
    first, last = (int(np.argmin(np.abs(grid.lines[axis] - edge))) for edge in starts)
    other = grid.lines[2 - axis]
    middles = (other[1:] + other[:-1]) / 2
    beside = np.flatnonzero((middles > along[0]) & (middles < along[1]))
    if first == 0 or last == len(grid.lines[axis]) - 1:
        return np.zeros(0, int), np.zeros(0, int)
    pairs = [
        (_cell(grid.number, axis, first - 1, j, k), _cell(grid.number, axis, last, j, k))
        for k in beside.tolist()
        for j in range(grid.shape[1])
    ]
    both = [(a, b) for a, b in pairs if a >= 0 and b >= 0 and _whole(grid.cell_kinds[[a, b]], axis)]
    cells = np.array(both, int).reshape(-1, 2)
    rows = leaves.rows[cells]
    outer = np.where(rows[..., 0] >= 0, rows[..., 0], rows[..., 1])
    return outer[:, 0], outer[:, 1]


def _cell(number: Array, axis: int, along: int, across: int, other: int) -> int:
    place = (along, across, other) if axis == 0 else (other, across, along)
    return int(number[place])


def _whole(kinds: Array, axis: int) -> bool:
    """Whether both faces still have four corners."""
    if axis == 2:
        return bool(kinds[0] == FULL)
    return bool(kinds[0] in (FULL, LEFT_CUT) and kinds[1] not in (NONE, LEFT_CUT))
