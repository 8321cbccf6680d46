"""The field itself: mean-square pressure on each face, and a slice to draw, for a wave of 1 Pa arriving at a
port."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.element import rule, shape
from sordino.physics.wave.grid import CLOSE, FULL, LEFT_CUT, RIGHT_CUT
from sordino.physics.wave.leaves import cell_rows
from sordino.physics.wave.operator import Operator
from sordino.physics.wave.painting import in_tube
from sordino.physics.wave.prism import FACES, ceiling
from sordino.physics.wave.reduced import Spectrum
from sordino.physics.wave.volume import weight

WHOLE_SIDES = {
    "left": (FULL, RIGHT_CUT),
    "right": (FULL, LEFT_CUT),
    "floor": (FULL, LEFT_CUT, RIGHT_CUT),
    "ceiling": (FULL,),
    "left slope": (LEFT_CUT,),
    "right slope": (RIGHT_CUT,),
    "front": (FULL, LEFT_CUT, RIGHT_CUT),
    "back": (FULL, LEFT_CUT, RIGHT_CUT),
}
"""The kinds of cell that can have a side on each face."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Face:
    """One inner face of the shell as meshed: the integral of N N over it, and its area, m2."""

    product: Any
    area: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Slice:
    """Complex pressure over the middle of the width, (z, x), for 1 Pa arriving; NaN where there is no
    sound."""

    x: Array
    z: Array
    pressure: Array


def per_pascal(of: Operator, solution: Array) -> Array:
    """Solutions (..., unknowns, 2) for unit power waves turned into those for waves of 1 Pa."""
    return solution * np.sqrt([gate.meshed for gate in of.gates])


def faces(of: Operator) -> dict[str, Face]:
    """The faces of the shell that have any area; with half a box meshed, `back` is the mirror of `front`."""
    found = {name: face for name in FACES if (face := _face(of, name)) is not None}
    if of.leaves.grid.half:
        found["back"] = found["front"]
    return found


def mean_square(of: Operator, face: Face, solution: Array) -> Array:
    """Mean over a face of |p|^2 over |p+|^2 for sound from each port; solution (unknowns, 2) or (frequencies,
    unknowns, 2)."""
    pressure = per_pascal(of, solution)
    flat = np.moveaxis(pressure, -2, 0).reshape(of.size, -1)
    total = np.einsum("ua,ua->a", flat.conj(), face.product @ flat).real
    return (total / face.area).reshape(*pressure.shape[:-2], 2)


def face_spectra(of: Operator, spectrum: Spectrum) -> dict[str, Array]:
    """Mean-square pressure on every face over that of the arriving wave, at all frequencies, (frequencies, 2) each."""
    c, meshed = spectrum.coefficients, np.array([gate.meshed for gate in of.gates])
    found = {}
    for name, face in faces(of).items():
        product = spectrum.basis.T @ (face.product @ spectrum.basis)
        found[name] = meshed / face.area * np.einsum("frj,rs,fsj->fj", c.conj(), product, c, optimize=True).real
    return found


def middle_slice(of: Operator, solution: Array, count: int = 120) -> Slice:
    """The field of one solution (unknowns, 2) column pair over the profile, on a raster `count` points long,
    both ports.

    `pressure` is (ports, z, x).
    """
    prism, step = of.prism, of.prism.length / count
    x = (np.arange(count) + 0.5) * step
    z = (np.arange(max(1, round(prism.height / step))) + 0.5) * step
    z = z[z < prism.height]
    grid_x, grid_z = np.meshgrid(x, z)
    points = np.stack([grid_x, np.full_like(grid_x, prism.width / 2), grid_z], axis=-1).reshape(-1, 3)
    open_air = (cell_rows(of.leaves.grid, points) >= 0) & (points[:, 2] < ceiling(prism, points[:, 0]) - CLOSE)
    pressure = np.full((2, len(points)), np.nan + 0j)
    pressure[:, open_air] = at_points(of, solution, points[open_air])
    return Slice(x=x, z=z, pressure=pressure.reshape(2, *grid_x.shape))


def at_points(of: Operator, solution: Array, points: Array) -> Array:
    """Pressure at points (n, 3) of the meshed part for 1 Pa arriving at each port, (2, n)."""
    leaf, functions = of.leaves.at(points, in_tube(of.prism, points).astype(int))
    return np.einsum("na,naj->jn", functions, per_pascal(of, solution)[of.leaves.connection[leaf]])


def _face(of: Operator, name: str) -> Face | None:
    from scipy.sparse import csc_matrix

    leaf = _leaves_on(of, name)
    kinds = of.leaves.grid.cell_kinds[of.leaves.cell[leaf]]
    product, area = csc_matrix((of.size, of.size)), 0.0
    for kind in np.unique(kinds):
        rows = leaf[kinds == kind]
        values, covered = _side_values(of, name, int(kind), rows)
        connection = of.leaves.connection[rows]
        place = (np.repeat(connection, 8, axis=1).ravel(), np.tile(connection, (1, 8)).ravel())
        product, area = product + csc_matrix((values.ravel(), place), shape=product.shape), area + covered
    return Face(product=product, area=area) if area > 0 else None


def _leaves_on(of: Operator, name: str) -> Array:
    """Leaves with a side on a face; where a film parts a cell, the box's own leaf."""
    grid = of.leaves.grid
    cells, (first, last) = grid.cells, grid.span
    touching = {
        "left": cells[:, 0] == first[0],
        "right": cells[:, 0] == last[0],
        "floor": cells[:, 2] == first[2],
        "ceiling": cells[:, 2] == last[2],
        "front": cells[:, 1] == first[1],
        "back": (cells[:, 1] == last[1]) & (not grid.half),
    }.get(name, np.ones(len(cells), bool))
    on_face = np.flatnonzero(touching & np.isin(grid.cell_kinds, WHOLE_SIDES[name]) & (grid.owner == 0))
    rows = of.leaves.rows[on_face]
    return np.where(rows[:, 0] >= 0, rows[:, 0], rows[:, 1])


def _side_values(of: Operator, name: str, kind: int, rows: Array) -> tuple[Array, float]:
    """N N over one side of each leaf, (rows, 8, 8), and the area covered."""
    points, weights = _side_rule(name, kind)
    cells = of.leaves.cell[rows]
    sizes, origins = of.leaves.grid.sizes[cells], of.leaves.grid.origins[cells]
    x, y, z = sizes.T
    areas = {"left": y * z, "right": y * z, "floor": x * y, "ceiling": x * y, "front": x * z, "back": x * z}
    scale = areas.get(name, y * np.hypot(x, z))
    spread = weight(of.prism, origins[:, None, :] + points * sizes[:, None, :]) * weights * scale[:, None]
    functions = shape(kind, points)
    return np.einsum("eq,qa,qb->eab", spread, functions, functions, optimize=True), float(spread.sum())


def _side_rule(name: str, kind: int) -> tuple[Array, Array]:
    """Gauss points on one side of the unit cell, and weights that sum to the side's share."""
    if name in ("front", "back"):
        inner = rule(kind, 2)
        flat = inner.points[:, 1] < 0.5
        points = inner.points[flat].copy()
        points[:, 1] = 0.0 if name == "front" else 1.0
        return points, 2 * inner.weights[flat]
    u, v = (axis.ravel() for axis in np.meshgrid(*[0.5 + np.array([-0.5, 0.5]) / np.sqrt(3)] * 2))
    sides = {
        "left": (0 * u, v, u),
        "right": (0 * u + 1, v, u),
        "floor": (u, v, 0 * u),
        "ceiling": (u, v, 0 * u + 1),
        "left slope": (u, v, u),
        "right slope": (u, v, 1 - u),
    }
    return np.stack(sides[name], axis=-1), np.full(4, 0.25)
