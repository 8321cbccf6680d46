"""The pieces that a box is made of: every board of every layer with its size, mass and place, the dividers, the fibre.

Boards run past one another at the corners as in `box_mass`. x along the box, y across, z up, from the inside corner.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from sordino.bands import Array
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_layout import Layout
from sordino.elements.box_mass import fibre, outer_area, profile_area, shell_faces
from sordino.elements.buildup import Layer
from sordino.kinds import INCH
from sordino.physics.sound.sources import board
from sordino.physics.structure.clearance import outline
from sordino.physics.wave import prism as wave
from sordino.physics.wave.port import port_area
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


@dataclass(frozen=True, kw_only=True, slots=True)
class _Plate:
    """A face's board: its sides, the middle of its inner side, and the direction out of the box."""

    sides: tuple[float, float]
    centre: Array
    out: Array


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
    for face in shell_faces(prism):
        plate, depth = _plate(box, prism, face), 0.0
        area = outer_area(box, prism, face)
        ports = [port for port in prism.ports if port.face == face]
        for index, layer in enumerate(box.layers(face)):
            middle = plate.centre + plate.out * (depth + (layer.thickness or 0.0) / 2.0)
            depth += layer.thickness or layer.cavity or 0.0
            if layer.board is not None:
                yield _board(f"{face} {index + 1}", layer, plate, middle, area, ports)


def _board(name: str, layer: Layer, plate: _Plate, middle: Array, area: float, ports: list[wave.Port]) -> Piece:
    """One board, its holes for ducts taken out of its mass and of its middle."""
    thick = layer.thickness or 0.0
    holes = np.array([port_area(port) for port in ports])
    at = middle * area
    for hole, port in zip(holes, ports, strict=True):
        across = np.array(port.centre) * (1.0 - np.abs(plate.out)) + middle * np.abs(plate.out)
        at = at - hole * across
    left = area - float(holes.sum())
    return Piece(
        name=f"{name}: {layer.board}",
        kind="board",
        sides=_sorted((*plate.sides, thick)),
        mass=board(layer.board or "").density * thick * left,
        centre=_spot(at / left),
    )


def _plate(box: Box, prism: wave.Prism, face: str) -> _Plate:
    depth = {name: buildup.thickness(box.layers(name)) for name in wave.FACES}
    across = prism.width + depth["front"] + depth["back"]
    along = prism.length + depth["left"] + depth["right"]
    x, y = (prism.length + depth["right"] - depth["left"]) / 2.0, (prism.width + depth["back"] - depth["front"]) / 2.0
    left, right = prism.left, prism.right
    if face == "floor":
        return _facing((along, across), (x, y, 0.0), (0.0, 0.0, -1.0))
    if face == "ceiling":
        middle = x + (left.run - right.run) / 2.0
        return _facing((along - left.run - right.run, across), (middle, y, prism.height), (0.0, 0.0, 1.0))
    if face in ("left", "right"):
        end, way, drop = (0.0, -1.0, left.drop) if face == "left" else (prism.length, 1.0, right.drop)
        return _facing((prism.height - drop, across), (end, y, (prism.height - drop) / 2.0), (way, 0.0, 0.0))
    if face in ("front", "back"):
        side, way = (0.0, -1.0) if face == "front" else (prism.width, 1.0)
        x, z = _profile_middle(prism)
        return _facing((prism.length, prism.height), (x, side, z), (0.0, way, 0.0))
    (x0, z0), (x1, z1) = wave.slope(prism, face)
    slant = float(np.hypot(x1 - x0, z1 - z0))
    way = -1.0 if face == "left slope" else 1.0
    normal = (way * abs(z1 - z0) / slant, 0.0, abs(x1 - x0) / slant)
    return _facing((slant, across), ((x0 + x1) / 2.0, y, (z0 + z1) / 2.0), normal)


def _facing(sides: tuple[float, float], centre: Spot, out: Spot) -> _Plate:
    return _Plate(sides=sides, centre=np.array(centre), out=np.array(out))


def _profile_middle(prism: wave.Prism) -> tuple[float, float]:
    """Centre of the area of the profile: the rectangle less the two corners."""
    whole = prism.length * prism.height
    moment = np.array([prism.length, prism.height]) / 2.0 * whole
    for cut, x in ((prism.left, prism.left.run / 3.0), (prism.right, prism.length - prism.right.run / 3.0)):
        moment = moment - cut.run * cut.drop / 2.0 * np.array([x, prism.height - cut.drop / 3.0])
    x, z = moment / profile_area(prism)
    return float(x), float(z)


def _dividers(box: Box, prism: wave.Prism) -> Iterator[Piece]:
    density = board(box.divider_board).density
    for index, divider in enumerate(prism.dividers):
        sides = (divider.x1 - divider.x0, prism.width, divider.z1 - divider.z0)
        yield Piece(
            name=f"divider {index + 1}: {box.divider_board}",
            kind="divider",
            sides=_sorted(sides),
            mass=density * float(np.prod(sides)),
            centre=((divider.x0 + divider.x1) / 2.0, prism.width / 2.0, (divider.z0 + divider.z1) / 2.0),
        )


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
