"""What a box weighs: casing, dividers and fibre, from its layout."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sordino.bands import Array
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_layout import Layout
from sordino.physics.sound.sources import board
from sordino.physics.wave import prism as wave
from sordino.physics.wave.painting import painted
from sordino.physics.wave.port import port_area

RASTER = 40
"""Points each way at which the fibre is counted: its mass within a few per cent, and fibre is light."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxMass:
    """Masses, kg."""

    shell: float
    dividers: float
    fibre: float

    @property
    def whole(self) -> float:
        """All of it; duct, screws and sealant come on top."""
        return self.shell + self.dividers + self.fibre


def box_mass(box: Box, made: Layout) -> BoxMass:
    """The mass of a laid-out box, kg; boards run past one another at the corners, mouths are cut out."""
    return BoxMass(
        shell=sum(_face_mass(box, made.prism, face) for face in shell_faces(made.prism)),
        dividers=sum(_divider_mass(box, made.prism, divider) for divider in made.prism.dividers),
        fibre=box.fill.density * fibre_volume(made.prism),
    )


def shell_faces(prism: wave.Prism) -> tuple[str, ...]:
    """The faces that this profile has."""
    sloped = {"left slope": prism.left.run > 0.0, "right slope": prism.right.run > 0.0}
    return tuple(face for face in wave.FACES if sloped.get(face, True))


def _face_mass(box: Box, prism: wave.Prism, face: str) -> float:
    cut = sum(port_area(port) for port in prism.ports if port.face == face)
    return buildup.surface_mass(box.layers(face)) * (outer_area(box, prism, face) - cut)


def outer_area(box: Box, prism: wave.Prism, face: str) -> float:
    """Area of the boards of one face, m2: floor and top over everything, ends over the sides, sides between them."""
    depth = {name: buildup.thickness(box.layers(name)) for name in wave.FACES}
    across = prism.width + depth["front"] + depth["back"]
    if face in ("front", "back"):
        return profile_area(prism)
    if face in ("left", "right"):
        return across * (prism.height - (prism.left if face == "left" else prism.right).drop)
    if face.endswith("slope"):
        (x0, z0), (x1, z1) = wave.slope(prism, face)
        return across * float(np.hypot(x1 - x0, z1 - z0))
    along = prism.length + depth["left"] + depth["right"]
    return across * (along if face == "floor" else along - prism.left.run - prism.right.run)


def profile_area(prism: wave.Prism) -> float:
    """Inside area of the profile, m2."""
    cut = prism.left.run * prism.left.drop + prism.right.run * prism.right.drop
    return prism.length * prism.height - cut / 2.0


def _divider_mass(box: Box, prism: wave.Prism, divider: wave.Divider) -> float:
    area = (divider.x1 - divider.x0) * (divider.z1 - divider.z0)
    return board(box.divider_board).density * area * prism.width


@dataclass(frozen=True, kw_only=True, slots=True)
class Fibre:
    """All fibre of a box: its volume, m3, and where it is centred, m; the middle of the box if it holds none."""

    volume: float
    centre: tuple[float, float, float]


def fibre_volume(prism: wave.Prism) -> float:
    """Volume that holds fibre, m3: by counting points, less the duct that leads through it."""
    return fibre(prism).volume


@lru_cache(maxsize=64)
def fibre(prism: wave.Prism) -> Fibre:
    """What fibre a laid-out box holds, counted once for each shape."""
    points = _points(prism)
    held = _held(prism, points)
    x, y, z = (points[held] if held.any() else points.reshape(-1, 3)).mean(axis=0)
    volume = prism.length * prism.width * prism.height * float(held.mean()) - duct_volume(prism)
    return Fibre(volume=volume, centre=(float(x), float(y), float(z)))


def _held(prism: wave.Prism, points: Array) -> Array:
    """Which points lie in fibre, or in the duct that leads through it."""
    x, z = points[..., 0], points[..., 2]
    held = (painted(prism, points) > 0) & (z < wave.ceiling(prism, x))
    for divider in prism.dividers:
        held &= ~((x > divider.x0) & (x < divider.x1) & (z > divider.z0) & (z < divider.z1))
    return np.asarray(held)


def duct_volume(prism: wave.Prism) -> float:
    """Volume inside the flexible duct, m3; nil without one."""
    if prism.tube is None:
        return 0.0
    steps = np.diff(np.array(prism.tube.centreline), axis=0)
    return float(np.pi * prism.tube.radius**2 * np.linalg.norm(steps, axis=1).sum())


def _points(prism: wave.Prism) -> Array:
    """Middles of a raster over the whole prism, shape (n, n, n, 3)."""
    steps = (np.arange(RASTER) + 0.5) / RASTER
    sides = (prism.length * steps, prism.width * steps, prism.height * steps)
    return np.stack(np.meshgrid(*sides, indexing="ij"), axis=-1)
