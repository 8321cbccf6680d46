"""Boards and sticks cut by a plane: their outlines there, mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sordino.bands import Array
from sordino.build.kit import Kit
from sordino.build.order import Piece
from sordino.build.part import Stick
from sordino.build.solid import solid
from sordino.physics.wave import prism as wave
from sordino.physics.wave.painting import in_tube, painted
from sordino.report.drawing.records import Ring
from sordino.report.drawing.section import filled_rings

Way = Literal["x", "y", "z"]
"""Across which axis the plane lies: z gives the plan, y the section along the box, x that across it."""
TURNS = {
    "x": [[0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0]],
    "y": [[0, 0, 1, 0], [1, 0, 0, 0], [0, 1, 0, 0]],
    "z": [[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0]],
}
"""Turns that bring the axis upright."""
FINE = 240
"""Points along the box at which fibre is looked for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Slice:
    """One piece where a plane cuts it: x and y, x and z, or y and z."""

    piece: Piece
    rings: tuple[Ring, ...]

    @property
    def endways(self) -> bool:
        """Whether a stick is cut across, so that the cut shows its section."""
        if not isinstance(self.piece, Stick):
            return False
        us, vs = ([point[axis] for point in self.rings[0]] for axis in (0, 1))
        return max(max(us) - min(us), max(vs) - min(vs)) < 2.0 * max(self.piece.size)


def slices(kit: Kit, way: Way, at: float) -> tuple[Slice, ...]:
    """Every piece that the plane at `at` mm cuts."""
    found = [Slice(piece=piece, rings=_cut(piece, way, at)) for piece in kit.pieces]
    return tuple(one for one in found if one.rings)


def _cut(piece: Piece, way: Way, at: float) -> tuple[Ring, ...]:
    turned = solid(piece).transform(np.array(TURNS[way], dtype=float))
    rings = turned.slice(at).simplify(0.01).to_polygons()
    order = (1, 0) if way == "y" else (0, 1)
    return tuple(tuple((float(point[order[0]]), float(point[order[1]])) for point in ring) for ring in rings)


def fibre(prism: wave.Prism, way: Way, at: float) -> tuple[Ring, ...]:
    """Outlines of the fibre in the same plane, mm."""
    sides = {"x": (prism.width, prism.height), "y": (prism.length, prism.height), "z": (prism.length, prism.width)}
    wide, high = sides[way]
    step = max(wide, high) / FINE
    us, vs = (np.arange(-0.5, round(side / step) + 1) * step for side in (wide, high))
    u, v = np.meshgrid(np.clip(us, 1e-6, wide - 1e-6), np.clip(vs, 1e-6, high - 1e-6))
    across = np.full_like(u, at / 1e3)
    points = np.stack({"x": [across, u, v], "y": [u, across, v], "z": [u, v, across]}[way], axis=-1)
    held = (painted(prism, points) > 0) & ~in_tube(prism, points) & _under(prism, points)
    rings = filled_rings(us, vs, held.astype(float), 0.5, 2.0)
    return tuple(tuple((1e3 * a, 1e3 * b) for a, b in ring) for ring in rings)


def _under(prism: wave.Prism, points: Array) -> Array:
    return points[..., 2] < wave.ceiling(prism, points[..., 0])
