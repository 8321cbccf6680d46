"""The holes for the ducts: one axis through every layer of a face, with room for sealant all round.

Holes are cut square to their board. Of a duct at a slant each takes in all that the duct passes in that layer, so it is
longer than in the face itself and lies farther along from layer to layer.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, cos, tan

from sordino.build.faces import MM, inside_planes
from sordino.build.part import Hole, Part
from sordino.elements.box import Box
from sordino.elements.box_clash import Clash
from sordino.elements.box_planes import Flat, Frame, Vector, dot
from sordino.elements.box_sheets import frames
from sordino.elements.buildup import thickness
from sordino.physics.wave import prism as wave
from sordino.physics.wave.stub import Stub, stub

NAMES = ("inlet", "outlet")


@dataclass(frozen=True, kw_only=True, slots=True)
class Opening:
    """One mouth of the box: where its axis meets the inside, mm, the duct's clear size and the room round it."""

    name: str
    face: str
    centre: Vector
    axis: Vector
    """Outwards along the duct."""
    normal: Vector
    """Outwards, square to the face."""
    diameter: float | None
    sides: tuple[float, float] | None
    """Along the face's u and v."""
    clearance: float
    wanted: float
    """Clearance that was asked for; where a duct lies against a wall there is less."""

    @property
    def tight(self) -> bool:
        """Whether the wall beside it leaves less room than was asked for."""
        return self.clearance < self.wanted - 1e-6

    @property
    def slant(self) -> float:
        """How far the duct is from square to its face, rad."""
        return acos(min(dot(self.axis, self.normal), 1.0))

    @property
    def leans(self) -> bool:
        """Whether it is off square at all."""
        return self.slant > 1e-4

    @property
    def hole(self) -> tuple[float | None, tuple[float, float] | None]:
        """Diameter or sides of what is cut across the duct, mm."""
        more = 2.0 * self.clearance
        sides = None if self.sides is None else (self.sides[0] + more, self.sides[1] + more)
        return (None if self.diameter is None else self.diameter + more), sides

    def spot(self, depth: float) -> Vector:
        """Where its axis is `depth` mm outside the inside of the face, mm."""
        far = depth / dot(self.axis, self.normal)
        (x, y, z), (a, b, c) = self.centre, self.axis
        return x + far * a, y + far * b, z + far * c

    def whole(self, thickness: float) -> tuple[float, float]:
        """How far its hole reaches along the face's u and v in a layer that thick, mm."""
        diameter, sides = self.hole
        along, rest = sides if sides is not None else (diameter or 0.0, diameter or 0.0)
        return along / cos(self.slant) + thickness * tan(self.slant), rest


def openings(box: Box, prism: wave.Prism, clearance: float) -> tuple[Opening, ...]:
    """Both mouths, with so much room (m) round their ducts, or as much as the walls beside them leave."""
    bases = frames(prism)
    return tuple(
        _opening(name, stub(prism, port), port, bases, thickness(box.layers(port.face)), clearance)
        for name, port in zip(NAMES, prism.ports, strict=True)
    )


def _opening(name: str, duct: Stub, port: wave.Port, bases: dict[str, Frame], depth: float, wanted: float) -> Opening:
    base = bases[port.face]
    room = min(_room(port, duct, at, base, bases) for at in (0.0, depth))
    if room < -1e-6:
        raise Clash(
            f"the duct of the {name} runs into the wall beside it by {{over}}",
            f"move the {name} by {{least}} or more",
            over=-room,
            least=-room,
        )
    x, y, z = port.centre
    return Opening(
        name=name,
        face=port.face,
        centre=(MM * x, MM * y, MM * z),
        axis=(float(duct.axis[0]), float(duct.axis[1]), float(duct.axis[2])) if port.slant else base.n,
        normal=base.n,
        diameter=None if port.diameter is None else MM * port.diameter,
        sides=None if port.sides is None else (MM * port.sides[0], MM * port.sides[1]),
        clearance=MM * max(min(wanted, room), 0.0),
        wanted=MM * wanted,
    )


def _room(port: wave.Port, duct: Stub, depth: float, base: Frame, bases: dict[str, Frame]) -> float:
    """Least distance from the duct to the walls beside it `depth` outside its face, m."""
    rooms = []
    x, y, z = (float(each) for each in duct.foot + depth * (duct.axis / float(duct.axis @ duct.normal) - duct.normal))
    for wall in inside_planes(bases):
        across = (dot(wall.normal, base.u), dot(wall.normal, base.v))
        if wall.name != port.face and max(abs(share) for share in across) > wave.FLAT:
            rooms.append(_room_before(port, wall.offset - dot(wall.normal, (x, y, z)), across))
    return min(rooms)


def _room_before(port: wave.Port, distance: float, across: Flat) -> float:
    longer = abs(across[0]) / cos(port.slant)
    if port.diameter is not None:
        return distance / (longer**2 + across[1] ** 2) ** 0.5 - port.diameter / 2.0
    assert port.sides is not None, "a port is round or has two sides"
    flat = longer, abs(across[1])
    reach = (flat[0] * port.sides[0] + flat[1] * port.sides[1]) / 2.0
    return (distance - reach) / (flat[0] + flat[1])


def with_holes(part: Part, found: tuple[Opening, ...]) -> Part:
    """A panel with the holes of the mouths in its face, each on the mouth's axis."""
    return part.cut_through(tuple(hole_in(part, one) for one in found if one.face == part.face))


def hole_in(part: Part, opening: Opening) -> Hole:
    """The hole of a mouth in one layer of its face."""
    origin = part.pose.origin
    low = sum((a - b) * n for a, b, n in zip(origin, opening.centre, opening.normal, strict=True))
    spot = opening.spot(low + part.thickness / 2.0) if opening.leans else opening.centre
    away: Vector = (spot[0] - origin[0], spot[1] - origin[1], spot[2] - origin[2])
    diameter, sides = opening.hole
    centre = (round(dot(away, part.pose.u), 9) + 0.0, round(dot(away, part.pose.v), 9) + 0.0)
    if not opening.leans:
        return Hole(label=opening.name, centre=centre, diameter=diameter, sides=sides)
    whole = opening.whole(part.thickness)
    if sides is None:
        return Hole(label=opening.name, centre=centre, axes=whole)
    return Hole(label=opening.name, centre=centre, sides=whole)
