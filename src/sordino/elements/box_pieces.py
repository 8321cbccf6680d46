"""The pieces that a box is made of: every board of every layer with its size, mass and place, the dividers, the fibre.

Boards run past one another at the corners as in `box_sheets`. x along the box, y across, z up, from the inside corner.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from sordino.bands import Array
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_dividers import divider_sheets
from sordino.elements.box_layout import Layout
from sordino.elements.box_mass import fibre, sheet_mass
from sordino.elements.box_planes import area, centroid
from sordino.elements.box_sheets import Sheet, sheets
from sordino.kinds import INCH
from sordino.physics.sound.sources import board
from sordino.physics.structure.clearance import outline
from sordino.physics.wave import prism as wave
from sordino.physics.wave.port import hole_area
from sordino.tables import table

Spot = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """One piece: its sides in m, longest first, mass in kg, and where its middle lies, m."""

    name: str
    kind: str
    """board, divider, fibre or duct."""
    sides: Spot
    mass: float
    centre: Spot


def pieces(box: Box, made: Layout) -> tuple[Piece, ...]:
    """Every piece of a laid-out box."""
    prism = made.prism
    found = [*_boards(box, prism), *_dividers(box, prism), _fibre(box, prism), *_duct(made)]
    if box.family != "shallow":
        return tuple(found)
    return tuple(replace(piece, centre=(piece.centre[0], piece.centre[2], piece.centre[1])) for piece in found)


def outer_sides(box: Box) -> Spot:
    """Outside length, width and height, m; a shallow box lies on its side in its layout, and is turned back here."""
    depth = {face: buildup.thickness(box.layers(face)) for face in wave.FACES}
    sides = {"width": ("front", "back"), "height": ("floor", "ceiling")}
    if box.family == "shallow":
        sides = {"width": ("floor", "ceiling"), "height": ("front", "back")}
    width, height = (getattr(box, side) + sum(depth[face] for face in sides[side]) for side in ("width", "height"))
    return box.length + depth["left"] + depth["right"], width, height


def inside_corner(box: Box) -> Spot:
    """Where the inside's lower left front corner lies from the outside's, m."""
    left, front, floor = (buildup.thickness(box.layers(face)) for face in ("left", "front", "floor"))
    return (left, floor, front) if box.family == "shallow" else (left, front, floor)


def outer_profile(box: Box) -> tuple[tuple[float, float], ...]:
    """Outside profile along and up, m, casing and all; a slope's boards move its cut out."""
    length, _, height = outer_sides(box)
    cuts = [_outer_cut(box, side) for side in ("left", "right")]
    return outline(length, height, *cuts)


def _outer_cut(box: Box, side: str) -> tuple[float, float]:
    """How much of the outer corner a slope cuts, along and down: its line lies the slope's boards farther out."""
    cut = box.left_slope if side == "left" else box.right_slope
    if cut is None or box.family == "shallow":
        return 0.0, 0.0
    slant = float(np.hypot(cut.run, cut.drop))
    end, top, slope = (buildup.thickness(box.layers(face)) for face in (side, "ceiling", f"{side} slope"))
    beyond = (end * cut.drop + top * cut.run - slope * slant) / slant
    scale = max(1.0 + beyond * slant / (cut.run * cut.drop), 0.0)
    return cut.run * scale, cut.drop * scale


def _boards(box: Box, prism: wave.Prism) -> Iterator[Piece]:
    for sheet in sheets(box, prism):
        if sheet.layer.board is not None:
            ports = [port for port in prism.ports if port.face == sheet.face]
            yield _board(f"{sheet.face} {sheet.level + 1}: {sheet.layer.board}", "board", sheet, ports)


def _dividers(box: Box, prism: wave.Prism) -> Iterator[Piece]:
    for sheet in divider_sheets(box, prism):
        yield _board(f"{sheet.face}: {box.divider_board}", "divider", sheet, [])


def _board(name: str, kind: str, sheet: Sheet, ports: list[wave.Port]) -> Piece:
    """One board as it is cut, its holes for ducts taken out of its mass and of its middle."""
    whole, middle, normal = sheet_mass(sheet), _middle(sheet), np.abs(np.array(sheet.frame.n))
    holes = [board(sheet.layer.board or "").density * sheet.depth * hole_area(port) for port in ports]
    moment = whole * middle
    for hole, port in zip(holes, ports, strict=True):
        moment = moment - hole * (np.array(port.centre) * (1.0 - normal) + middle * normal)
    left = whole - sum(holes)
    corners = np.array(sheet.blank)
    along, up = np.ptp(corners, axis=0)
    return Piece(name=name, kind=kind, sides=_sorted((along, up, sheet.depth)), mass=left, centre=_spot(moment / left))


def _middle(sheet: Sheet) -> Array:
    """Centre of a sheet, half way through it, m; bevels move it by less than its thickness."""
    areas = np.array([area(sheet.inner), area(sheet.outer)])
    spots = np.array([centroid(sheet.inner), centroid(sheet.outer)])
    along, up = areas @ spots / areas.sum()
    return np.array(sheet.frame.at(float(along), float(up), sheet.depth / 2.0))


def _fibre(box: Box, prism: wave.Prism) -> Piece:
    held = fibre(prism)
    sides = _sorted((prism.length, prism.width, prism.height))
    return Piece(name="fibre", kind="fibre", sides=sides, mass=box.fill.density * held.volume, centre=held.centre)


def _duct(made: Layout) -> Iterator[Piece]:
    """The flexible duct inside, by the metre."""
    tube = made.prism.tube
    if tube is None:
        return
    line = np.array(tube.centreline)
    steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
    rows = table("structure/duct_mass").numbers("diameter", "mass")
    per_metre = float(np.interp(2.0 * tube.radius / INCH, rows[:, 0], rows[:, 1]))
    middle = (line[1:] + line[:-1]) / 2.0
    yield Piece(
        name="flexible duct",
        kind="duct",
        sides=_sorted((float(steps.sum()), 2.0 * tube.radius, 2.0 * tube.radius)),
        mass=per_metre * float(steps.sum()),
        centre=_spot(steps @ middle / steps.sum()),
    )


def _sorted(sides: Spot) -> Spot:
    long, middle, short = sorted(sides, reverse=True)
    return float(long), float(middle), float(short)


def _spot(values: Array) -> Spot:
    x, y, z = values
    return float(x), float(y), float(z)
