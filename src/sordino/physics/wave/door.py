"""A port's mouth seen from the grid: which unknowns lie there and how much of each duct mode they carry."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.wave.leaves import Leaves, cell_rows
from sordino.physics.wave.painting import in_tube
from sordino.physics.wave.port import Mouth
from sordino.physics.wave.prism import Port, Prism, slope

NUDGE = 1e-6
"""Points of a mouth are looked up this far inside the box, m."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Door:
    """Unknowns at a mouth (n,) and the integrals of their functions times each mode, b_n (n, modes)."""

    dofs: Array
    modes: Array


def door(prism: Prism, leaves: Leaves, port: Port, mouth: Mouth) -> Door:
    """The mouth of a port in the unknowns behind it; refuses one that is not wholly on open face."""
    points = mouth.points + NUDGE * np.asarray(inward(prism, port.face))
    ends = np.array([line[-1] for line in leaves.grid.lines])
    outside = (points < -NUDGE) | (points > ends + NUDGE)
    if outside.any() or (cell_rows(leaves.grid, points) < 0).any():
        raise OutOfRange(f"port on the {port.face} does not lie wholly on open face; move it or make it smaller")
    leaf, functions = leaves.at(points, in_tube(prism, points).astype(int))
    connection = leaves.connection[leaf]
    dofs, inverse = np.unique(connection, return_inverse=True)
    spread = np.zeros((len(points), len(dofs)))
    np.add.at(spread, (np.arange(len(points))[:, None], inverse.reshape(connection.shape)), functions)
    kept = np.abs(spread).max(axis=0) > 1e-4
    return Door(dofs=dofs[kept], modes=spread[:, kept].T @ (mouth.areas[:, None] * mouth.modes))


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
