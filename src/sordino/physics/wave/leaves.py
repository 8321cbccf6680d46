"""Cells and their unknowns: one pressure per cell corner, two where a film parts the cell.

A leaf is one cell of one field. Field 0 is the box, field 1 the core of a flexible duct behind its film; a
cell that the film crosses is a leaf of both, each integrated over its own side, so the film need not follow
the grid.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.wave.element import rule, shape
from sordino.physics.wave.grid import FULL, LEFT_CUT, NONE, Grid
from sordino.physics.wave.line import Skin, skin
from sordino.physics.wave.ordering import dissected
from sordino.physics.wave.painting import core_line, in_tube, mixed
from sordino.physics.wave.prism import Prism

NUDGE = 1e-6
"""Points of a mouth are looked up this far inside the box, m."""
SKIN_SPACING = 0.15
"""Distance between points on the film, as a share of the cell size."""


@dataclass(frozen=True, kw_only=True)
class Leaves:
    """Leaves of a grid: `cell` (row of grid.cells), `field`, `mixed` flags, `connection` (leaves, 8) to
    unknowns."""

    grid: Grid
    cell: Array
    field: Array
    mixed: Array
    parted: Array
    connection: Array
    size: int
    skin: Skin | None

    @cached_property
    def rows(self) -> Array:
        """The leaf of each cell in each field, (cells, 2), -1 where there is none."""
        rows = np.full((len(self.grid.cells), 2), -1)
        rows[self.cell, self.field] = np.arange(len(self.cell))
        return rows

    def at(self, points: Array, field: Array, owner: int = 0) -> tuple[Array, Array]:
        """The leaf at each point (n, 3) of the box, or of the stub of that owner, and the eight shape functions there;
        the other field's where it has none."""
        cell, inner = located(self.grid, points, owner)
        rows = self.rows[cell]
        chosen = rows[np.arange(len(cell)), field]
        leaf = np.where(chosen >= 0, chosen, rows.max(axis=1))
        return leaf, shapes_at(self.grid.cell_kinds[cell], inner)


def leaves(prism: Prism, grid: Grid) -> Leaves:
    """The leaves of a prism's grid; every cell once, unless its tube has a film."""
    spread = mixed(prism, grid)
    wall = _wall(prism, grid)
    inside, outside = _sides(prism, grid, wall)
    cell = np.concatenate([np.flatnonzero(outside), np.flatnonzero(inside)])
    field = np.repeat([0, 1], [outside.sum(), inside.sum()])
    keys = _keys(grid, cell, field)
    used, connection = np.unique(keys, return_inverse=True)
    rank = np.argsort(dissected(_places(grid, used)))
    parted = (inside & outside)[cell]
    return Leaves(
        grid=grid,
        cell=cell,
        field=field,
        mixed=spread[cell] | parted,
        parted=parted,
        connection=rank[connection].reshape(keys.shape),
        size=len(used),
        skin=wall,
    )


def _wall(prism: Prism, grid: Grid) -> Skin | None:
    """Points on the film that lie in the meshed part of the box."""
    if prism.tube is None or not prism.tube.film:
        return None
    every = skin(core_line(prism), prism.tube.radius, SKIN_SPACING * float(grid.sizes.max()))
    low, high = np.zeros(3), np.array(grid.box)
    within: Array = np.all((every.points >= low) & (every.points <= high), axis=1)
    within[within] = cell_rows(grid, every.points[within]) >= 0
    return Skin(points=every.points[within], areas=every.areas[within])


def _sides(prism: Prism, grid: Grid, wall: Skin | None) -> tuple[Array, Array]:
    """Whether each cell belongs to the core and to the box."""
    if wall is None:
        return np.zeros(len(grid.cells), bool), np.ones(len(grid.cells), bool)
    probes = rule(FULL, 2).points
    core = in_tube(prism, grid.origins[:, None, :] + probes * grid.sizes[:, None, :])
    core[grid.owner > 0] = False
    touched = np.zeros(len(grid.cells), bool)
    touched[cell_rows(grid, wall.points)] = True
    return core.any(axis=1) | touched, ~core.all(axis=1) | touched


def _keys(grid: Grid, cell: Array, field: Array) -> Array:
    """A number for each leaf's eight unknowns; a corner that a slope took stands in for the one below it.

    Each stub has unknowns of its own, whatever lies at the same place.
    """
    nodes = grid.corners(grid.cells[cell])
    kinds = grid.cell_kinds[cell]
    for width in (0, 2):
        left, right = kinds == LEFT_CUT, (kinds != FULL) & (kinds != LEFT_CUT)
        nodes[left, 1 + width] = nodes[left, width]
        nodes[right, 5 + width] = nodes[right, 4 + width]
    return nodes + (field + 2 * grid.owner[cell])[:, None] * int(np.prod(np.add(grid.shape, 1)))


def _places(grid: Grid, keys: Array) -> Array:
    nodes = tuple(np.add(grid.shape, 1))
    return np.stack(np.unravel_index(keys % int(np.prod(nodes)), nodes), axis=-1)


def cell_rows(grid: Grid, points: Array, owner: int = 0) -> Array:
    """The row of grid.cells that holds each point (n, 3) among the cells of an owner, -1 where nothing does."""
    place = [
        np.clip(np.searchsorted(line, points[:, axis], side="right") - 1, 0, len(line) - 2)
        for axis, line in enumerate(grid.lines)
    ]
    return (grid.numbers(owner) if owner else grid.number)[tuple(place)]


def located(grid: Grid, points: Array, owner: int = 0) -> tuple[Array, Array]:
    """The cell row of each point and its place in that cell's unit cube; refuses points where there is no
    sound."""
    cell = cell_rows(grid, points, owner)
    if (cell < 0).any():
        x, y, z = points[np.argmin(cell)]
        raise OutOfRange(f"x {x:.3f}, y {y:.3f}, z {z:.3f} m is wanted, but a divider or slope is there")
    return cell, (points - grid.origins[cell]) / grid.sizes[cell]


def shapes_at(kinds: Array, inner: Array) -> Array:
    """Shape functions at one place in each of several cells, (n, 8)."""
    values = np.zeros((len(kinds), 8))
    for kind in np.unique(kinds[kinds > NONE]):
        values[kinds == kind] = shape(int(kind), inner[kinds == kind])
    return values
