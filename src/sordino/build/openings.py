"""The holes for the ducts: one axis through every layer of a face, with room for sealant all round."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.build.faces import MM, inside_planes
from sordino.build.part import Hole, Part
from sordino.elements.box_clash import Clash
from sordino.elements.box_planes import Flat, Frame, Vector, dot
from sordino.elements.box_sheets import frames
from sordino.physics.wave import prism as wave

NAMES = ("inlet", "outlet")


@dataclass(frozen=True, kw_only=True, slots=True)
class Opening:
    """One mouth of the box: where its axis meets the inside, mm, the duct's clear size and the room round it."""

    name: str
    face: str
    centre: Vector
    axis: Vector
    """Outwards."""
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
    def hole(self) -> tuple[float | None, tuple[float, float] | None]:
        """Diameter or sides of the hole, mm."""
        more = 2.0 * self.clearance
        sides = None if self.sides is None else (self.sides[0] + more, self.sides[1] + more)
        return (None if self.diameter is None else self.diameter + more), sides


def openings(prism: wave.Prism, clearance: float) -> tuple[Opening, ...]:
    """Both mouths, with so much room (m) round their ducts, or as much as the walls beside them leave."""
    bases = frames(prism)
    return tuple(_opening(name, port, bases, clearance) for name, port in zip(NAMES, prism.ports, strict=True))


def _opening(name: str, port: wave.Port, bases: dict[str, Frame], wanted: float) -> Opening:
    base = bases[port.face]
    room = _room(port, base, bases)
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
        axis=base.n,
        diameter=None if port.diameter is None else MM * port.diameter,
        sides=None if port.sides is None else (MM * port.sides[0], MM * port.sides[1]),
        clearance=MM * max(min(wanted, room), 0.0),
        wanted=MM * wanted,
    )


def _room(port: wave.Port, base: Frame, bases: dict[str, Frame]) -> float:
    """Least distance from the duct to the walls beside it, m."""
    rooms = []
    for wall in inside_planes(bases):
        across = (dot(wall.normal, base.u), dot(wall.normal, base.v))
        if wall.name != port.face and max(abs(share) for share in across) > wave.FLAT:
            rooms.append(_room_before(port, wall.offset - dot(wall.normal, port.centre), across))
    return min(rooms)


def _room_before(port: wave.Port, distance: float, across: Flat) -> float:
    if port.diameter is not None:
        return distance / (across[0] ** 2 + across[1] ** 2) ** 0.5 - port.diameter / 2.0
    assert port.sides is not None, "a port is round or has two sides"
    flat = abs(across[0]), abs(across[1])
    reach = (flat[0] * port.sides[0] + flat[1] * port.sides[1]) / 2.0
    return (distance - reach) / (flat[0] + flat[1])


def with_holes(part: Part, found: tuple[Opening, ...]) -> Part:
    """A panel with the holes of the mouths in its face, each on the mouth's axis."""
    return part.cut_through(tuple(hole_in(part, one) for one in found if one.face == part.face))


def hole_in(part: Part, opening: Opening) -> Hole:
    """The hole of a mouth in one layer of its face."""
    away: Vector = (
        opening.centre[0] - part.pose.origin[0],
        opening.centre[1] - part.pose.origin[1],
        opening.centre[2] - part.pose.origin[2],
    )
    diameter, sides = opening.hole
    centre = (round(dot(away, part.pose.u), 9) + 0.0, round(dot(away, part.pose.v), 9) + 0.0)
    return Hole(label=opening.name, centre=centre, diameter=diameter, sides=sides)
