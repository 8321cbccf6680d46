"""Stiffness and mass of each fluid, cell by cell, with the fluid looked up at every quadrature point."""

from __future__ import annotations

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.element import even_products, even_rule, products, rule
from sordino.physics.wave.leaves import Leaves
from sordino.physics.wave.painting import COARSE, FINE, core_share, painted
from sordino.physics.wave.prism import Prism
from sordino.physics.wave.stub import Stub, slanting, stub_share

GHOST = 1e-3
"""Share of a parted cell that each field keeps on the other side of the film, so that a sliver stays
solvable."""
CUT = 8
"""Even quadrature points each way in the cells of a stub, which its walls cut anyhow."""
HUSH = 1e-6
"""Share of a stub's cell that counts although it lies outside the duct, so that every unknown is held by something."""


def volume_values(prism: Prism, leaves: Leaves) -> Array:
    """Values (2 fluids, leaves, 64): the stiffness of air and each fibre, then their masses."""
    fluids = prism.fibres + 1
    values = np.zeros((2 * fluids, len(leaves.cell), 64))
    kinds = leaves.grid.cell_kinds[leaves.cell]
    owner = leaves.grid.owner[leaves.cell]
    for kind in np.unique(kinds):
        for fine in (False, True):
            rows = np.flatnonzero((kinds == kind) & (leaves.mixed == fine) & (owner == 0))
            if len(rows):
                values[:, rows] = _group_values(prism, leaves, rows, int(kind), FINE if fine else COARSE)
    for number, of in slanting(prism).items():
        rows = np.flatnonzero(owner == number + 1)
        values[::fluids, rows] = _stub_values(leaves, of, rows)
    return values


def _stub_values(leaves: Leaves, of: Stub, rows: Array) -> Array:
    """Stiffness and mass of the air in a stub's leaves, (2, rows, 64)."""
    cells = leaves.cell[rows]
    sizes = leaves.grid.sizes[cells]
    points = leaves.grid.origins[cells][:, None, :] + even_rule(CUT).points * sizes[:, None, :]
    share = np.maximum(stub_share(of, points, sizes[:, None, :] / CUT), HUSH)
    here = sizes.prod(axis=1)[:, None] * share
    each = even_products(CUT)
    x, y, z = (1 / sizes**2).T[:, :, None]
    return np.stack([x * (here @ each.x) + y * (here @ each.y) + z * (here @ each.z), here @ each.mass])


def _group_values(prism: Prism, leaves: Leaves, rows: Array, kind: int, count: int) -> Array:
    """The same for leaves of one kind and one quadrature."""
    cells = leaves.cell[rows]
    sizes = leaves.grid.sizes[cells]
    points = leaves.grid.origins[cells][:, None, :] + rule(kind, count).points * sizes[:, None, :]
    shares = _shares(prism, leaves, rows, points, count)
    volume = sizes.prod(axis=1)[:, None] * weight(prism, points)
    each = products(kind, count)
    x, y, z = (1 / sizes**2).T[:, :, None]
    out = np.zeros((2 * len(shares), len(rows), 64))
    for index, share in enumerate(shares):
        if share.any():
            here = share * volume
            out[index] = x * (here @ each.x) + y * (here @ each.y) + z * (here @ each.z)
            out[len(shares) + index] = here @ each.mass
    return out


def weight(prism: Prism, points: Array) -> Array:
    """How much each point counts: 1, or 2 pi r over the slice's width when the profile is turned."""
    if not prism.turned:
        return np.ones(points.shape[:-1])
    return 2 * np.pi * points[..., 2] / prism.width


def _shares(prism: Prism, leaves: Leaves, rows: Array, points: Array, count: int) -> list[Array]:
    """How much of each point belongs to its leaf and to each fluid, air first; a film's two fields own a side each."""
    spacing = leaves.grid.sizes[leaves.cell[rows]].mean(axis=1)[:, None] / count
    core = core_share(prism, points, spacing)
    outer = painted(prism, points)
    box, air = 1 - core, core
    if leaves.skin is not None:
        inner, parted = leaves.field[rows][:, None] == 1, leaves.parted[rows][:, None]
        box = np.where(inner, 0.0, np.where(parted, np.maximum(box, GHOST), 1.0))
        air = np.where(inner, np.where(parted, np.maximum(core, GHOST), 1.0), 0.0)
    return [box * (outer == fluid) + (air if fluid == 0 else 0.0) for fluid in range(prism.fibres + 1)]
