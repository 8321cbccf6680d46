"""A port's mouth seen from the grid: which unknowns lie there and how much of each duct mode they carry."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.wave.interface import Block
from sordino.physics.wave.leaves import NUDGE, Leaves, cell_rows
from sordino.physics.wave.painting import in_tube
from sordino.physics.wave.port import Mouth
from sordino.physics.wave.prism import Prism
from sordino.physics.wave.stub import face_height, opening_points, stub

STIFF = 1e3
"""A hole is joined as by a skin of air of a thousandth of a cell."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Door:
    """Unknowns at a mouth (n,) and the integrals of their functions times each mode, b_n (n, modes)."""

    dofs: Array
    modes: Array


def door(prism: Prism, leaves: Leaves, number: int, mouth: Mouth) -> Door:
    """The mouth of the port of that number in the unknowns behind it; refuses one that is not wholly on open face."""
    port = prism.ports[number]
    base = stub(prism, port)
    points = mouth.points - NUDGE * base.normal
    if number in leaves.grid.stubs:
        _check_open(leaves, port.face, opening_points(base) - NUDGE * base.normal)
        low = np.maximum(NUDGE - face_height(base, mouth.points), 0.0)[:, None]
        leaf, functions = leaves.at(mouth.points + low * base.normal, np.zeros(len(points), int), number + 1)
    else:
        _check_open(leaves, port.face, points)
        leaf, functions = leaves.at(points, in_tube(prism, points).astype(int))
    return _gathered(leaves, leaf, functions, mouth)


def joint_block(prism: Prism, leaves: Leaves, number: int, mouth: Mouth) -> Block:
    """The integral over a slanting duct's hole of [p] times each mode, squared and times STIFF over the cell size.

    So the pressure in the box is that in the stub as far as the modes tell it apart, and what flows through the hole is
    made of them, as at a square port; a cell that the hole only grazes is joined by what it shares of them.
    """
    base = stub(prism, prism.ports[number])
    inner, outer = mouth.points - NUDGE * base.normal, mouth.points + NUDGE * base.normal
    sides = (
        _gathered(leaves, *leaves.at(inner, in_tube(prism, inner).astype(int)), mouth),
        _gathered(leaves, *leaves.at(outer, np.zeros(len(outer), int), number + 1), mouth),
    )
    jump = np.concatenate([sides[0].modes, -sides[1].modes])
    stiff = STIFF / float(leaves.grid.sizes.max())
    return Block(connection=np.concatenate([each.dofs for each in sides])[None], values=stiff * (jump @ jump.T)[None])


def _gathered(leaves: Leaves, leaf: Array, functions: Array, mouth: Mouth) -> Door:
    """Integrals of each mode times the unknowns' functions, from those at the mouth's points."""
    connection = leaves.connection[leaf]
    dofs, inverse = np.unique(connection, return_inverse=True)
    spread = np.zeros((len(leaf), len(dofs)))
    np.add.at(spread, (np.arange(len(leaf))[:, None], inverse.reshape(connection.shape)), functions)
    kept = np.abs(spread).max(axis=0) > 1e-4
    return Door(dofs=dofs[kept], modes=spread[:, kept].T @ (mouth.areas[:, None] * mouth.modes))


def _check_open(leaves: Leaves, face: str, points: Array) -> None:
    """Refuses an opening of which some points lie elsewhere than on an open face."""
    ends = np.array(leaves.grid.box)
    points = points[points[:, 1] < ends[1]] if leaves.grid.half else points
    outside = (points < -NUDGE) | (points > ends + NUDGE)
    if outside.any() or (cell_rows(leaves.grid, points) < 0).any():
        raise OutOfRange(f"port on the {face} does not lie wholly on open face; move it or make it smaller")
