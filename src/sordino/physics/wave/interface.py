"""Where pressure jumps: the film around the duct's core, the plates of dividers; and where it meets the ducts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.wave.grid import FULL, LEFT_CUT, NONE
from sordino.physics.wave.leaves import Leaves, cell_rows
from sordino.physics.wave.port import Mouth
from sordino.physics.wave.prism import Divider, Port, Prism, slope

NUDGE = 1e-6
"""Points of a mouth are looked up this far inside the box, m."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Block:
    """Small dense matrices (n, p, p) over unknowns (n, p)."""

    connection: Array
    values: Array


def film_block(prism: Prism, leaves: Leaves, size: float) -> Block:
    """Integral over the film of [p][q], the jump between core and box, gathered cell by cell."""
    if leaves.skin is None:
        return Block(connection=np.zeros((0, 16), int), values=np.zeros((0, 16, 16)))
    points, areas = leaves.skin.points, leaves.skin.areas
    outer, functions = leaves.at(points, np.zeros(len(points), int))
    inner, _ = leaves.at(points, np.ones(len(points), int))
    order = np.argsort(outer, kind="stable")
    first = np.flatnonzero(np.diff(outer[order], prepend=-1))
    jump = np.concatenate([functions, -functions], axis=1)[order]
    each = np.einsum("n,na,nb->nab", areas[order], jump, jump)
    connection = np.concatenate([leaves.connection[outer], leaves.connection[inner]], axis=1)
    return Block(connection=connection[order][first], values=np.add.reduceat(each, first, axis=0))


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
    jump = np.block([[SQUARE, -SQUARE], [-SQUARE, SQUARE]])
    return Block(connection=connection, values=area[:, None, None] * jump)


def _facing(leaves: Leaves, divider: Divider, axis: int) -> tuple[Array, Array]:
    """Leaves that face each other across a divider."""
    grid = leaves.grid
    starts, ends = ((divider.x0, divider.x1), (divider.z0, divider.z1))[axis // 2], None
    along = ((divider.z0, divider.z1), (divider.x0, divider.x1))[axis // 2]
    first, last = (int(np.argmin(np.abs(grid.lines[axis] - edge))) for edge in starts)
    other = grid.lines[2 - axis]
    middles = (other[1:] + other[:-1]) / 2
    beside = np.flatnonzero((middles > along[0]) & (middles < along[1]))
    if first == 0 or last == len(grid.lines[axis]) - 1 or ends is not None:
        return np.zeros(0, int), np.zeros(0, int)
    pairs = [
        (_cell(grid.number, axis, first - 1, j, k), _cell(grid.number, axis, last, j, k))
        for k in beside
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


def mouth_block(prism: Prism, leaves: Leaves, port: Port, mouth: Mouth) -> tuple[Array, Array]:
    """Unknowns at a mouth (n,) and the integrals of their functions times each mode (n, modes)."""
    points = mouth.points + NUDGE * np.asarray(inward(prism, port.face))
    outside = (points.min(axis=0) < -NUDGE) | (points.max(axis=0) > [line[-1] + NUDGE for line in leaves.grid.lines])
    if outside.any() or (cell_rows(leaves.grid, points) < 0).any():
        raise OutOfRange(f"port on the {port.face} does not lie wholly on open face; move it or make it smaller")
    core = np.zeros(len(points), int) if prism.tube is None else _core(prism, points)
    leaf, functions = leaves.at(points, core)
    connection = leaves.connection[leaf]
    dofs, inverse = np.unique(connection, return_inverse=True)
    spread = np.zeros((len(points), len(dofs)))
    np.add.at(spread, (np.arange(len(points))[:, None], inverse.reshape(connection.shape)), functions)
    kept = np.abs(spread).max(axis=0) > 1e-4
    return dofs[kept], spread[:, kept].T @ (mouth.areas[:, None] * mouth.modes)


def _core(prism: Prism, points: Array) -> Array:
    from sordino.physics.wave.painting import in_tube

    return in_tube(prism, points).astype(int)


def inward(prism: Prism, face: str) -> tuple[float, float, float]:
    """Unit vector from a face into the box."""
    plain = {
        "left": (1.0, 0.0, 0.0),
        "right": (-1.0, 0.0, 0.0),
        "floor": (0.0, 0.0, 1.0),
        "ceiling": (0.0, 0.0, -1.0),
        "front": (0.0, 1.0, 0.0),
        "back": (0.0, -1.0, 0.0),
    }
    if face in plain:
        return plain[face]
    (x0, z0), (x1, z1) = slope(prism, face)
    along = ((x1 - x0) ** 2 + (z1 - z0) ** 2) ** 0.5
    return (z1 - z0) / along, 0.0, -(x1 - x0) / along
