"""What a box weighs, part by part, and where the middle of its mass is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.build.kit import Kit, stick_mass
from sordino.build.order import Piece
from sordino.build.part import Stick
from sordino.build.solid import cavity, solid
from sordino.elements.box_planes import Vector

HANGERS = (0.15, 0.85)
"""Where hangers stand along a box, as shares of its outer length."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Weight:
    """A box as a load: kg, and mm from the inside's lower left front corner."""

    pieces: tuple[tuple[str, float], ...]
    """Each board and stick by its label."""
    fibre: float
    centre: Vector
    low: Vector
    high: Vector
    """Corners of the outside."""

    @property
    def whole(self) -> float:
        """Boards, sticks and fibre; duct, screws and sealant come on top."""
        return sum(mass for _, mass in self.pieces) + self.fibre

    def loads(self, count: int) -> tuple[float, float]:
        """Load of each hanger at the left and at the right end, half of them at each, if they stand at HANGERS, kg."""
        long = self.high[0] - self.low[0]
        left, right = (self.low[0] + share * long for share in HANGERS)
        share = (self.centre[0] - left) / (right - left)
        return self.whole * (1.0 - share) / (count / 2.0), self.whole * share / (count / 2.0)


def weight(kit: Kit) -> Weight:
    """The weight of a kit; its fibre is taken as spread evenly over the inside."""
    masses = [(piece.label, piece_mass(piece)) for piece in kit.pieces]
    centres = [middle(piece) for piece in kit.pieces]
    inside = _middle_of(cavity(kit.made.prism).to_mesh())
    fibre = kit.assessed.fibre
    moment = sum((mass * centre for (_, mass), centre in zip(masses, centres, strict=True)), fibre * inside)
    centre = moment / (sum(mass for _, mass in masses) + fibre)
    low, high = _extent(kit)
    return Weight(pieces=tuple(masses), fibre=fibre, centre=_vector(centre), low=low, high=high)


def piece_mass(piece: Piece) -> float:
    """kg."""
    return stick_mass(piece) if isinstance(piece, Stick) else piece.mass


def middle(piece: Piece) -> Array:
    """Middle of the mass of a board with its holes, or of a stick, mm."""
    return _middle_of(solid(piece).to_mesh())


def _middle_of(mesh: object) -> Array:
    """From the tetrahedra between the origin and each triangle."""
    corners = np.asarray(mesh.vert_properties)[:, :3].astype(float)  # type: ignore[attr-defined]
    a, b, c = (corners[np.asarray(mesh.tri_verts)[:, index]] for index in range(3))  # type: ignore[attr-defined]
    volume = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6.0
    return (volume[:, None] * (a + b + c) / 4.0).sum(axis=0) / volume.sum()


def _extent(kit: Kit) -> tuple[Vector, Vector]:
    boxes = np.array([solid(part).bounding_box() for part in kit.parts])
    return _vector(boxes[:, :3].min(axis=0)), _vector(boxes[:, 3:].max(axis=0))


def _vector(point: Array) -> Vector:
    return float(point[0]), float(point[1]), float(point[2])
