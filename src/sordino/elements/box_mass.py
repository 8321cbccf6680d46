"""What a box weighs: casing, dividers and fibre, from its layout."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sordino.bands import Array
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_dividers import divider_sheets
from sordino.elements.box_layout import Layout
from sordino.elements.box_sheets import Sheet, sheets
from sordino.physics.sound.sources import board
from sordino.physics.wave import prism as wave
from sordino.physics.wave.painting import painted
from sordino.physics.wave.port import hole_area

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
    """The mass of a laid-out box, kg: every sheet as it is cut, less the mouths."""
    prism = made.prism
    cut = sum(buildup.surface_mass(box.layers(port.face)) * hole_area(port) for port in prism.ports)
    return BoxMass(
        shell=sum(sheet_mass(sheet) for sheet in sheets(box, prism)) - cut,
        dividers=sum(sheet_mass(sheet) for sheet in divider_sheets(box, prism)),
        fibre=box.fill.density * fibre_volume(prism),
    )


def sheet_mass(sheet: Sheet) -> float:
    """Mass of a sheet without holes, kg; a cavity weighs nothing."""
    return board(sheet.layer.board).density * sheet.volume if sheet.layer.board else 0.0


def profile_area(prism: wave.Prism) -> float:
    """Inside area of the profile, m2."""
    cut = prism.left.run * prism.left.drop + prism.right.run * prism.right.drop
    return prism.length * prism.height - cut / 2.0


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
