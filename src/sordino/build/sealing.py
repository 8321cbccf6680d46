"""Sealant, gasket and damping compound of one box, bead by bead."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi

from sordino.build.kit import Kit
from sordino.build.part import Hole, Part
from sordino.build.rules import rule
from sordino.build.seams import perimeter, seams


@dataclass(frozen=True, kw_only=True, slots=True)
class Bead:
    """Beads of one kind in one box: their length in mm and section in mm2."""

    place: str
    length: float
    section: float

    @property
    def volume(self) -> float:
        """m3."""
        return 1e-9 * self.length * self.section


def round_bead(diameter: float) -> float:
    """Section of a bead between two boards, mm2, from its diameter in mm: pi d2 / 4."""
    return pi * diameter**2 / 4.0


def fillet(side: float) -> float:
    """Section of a fillet in an angle, mm2, from its side in mm: w2 / 2."""
    return side**2 / 2.0


def beads(kit: Kit) -> tuple[Bead, ...]:
    """Every kind of bead that the steps of the box call for."""
    return tuple(bead for bead in _beads(kit) if bead.length > 0.0)


def _beads(kit: Kit) -> Iterator[Bead]:
    bead, angle = round_bead(rule("bead")), fillet(rule("fillet"))
    labels = {part.label: part for part in kit.parts}
    soft = {part.label for part in kit.lid} if kit.closing.removable else set()
    joints = [seam for seam in seams(kit.parts) if not {seam.first, seam.second} & soft]
    inner = [seam for seam in joints if all(_first(labels[end]) for end in (seam.first, seam.second))]
    yield Bead(place="joints of boards", length=sum(seam.length for seam in joints), section=bead)
    length = sum(seam.length for seam in inner)
    yield Bead(place="fillets along the inside of the first layer", length=length, section=angle)
    yield Bead(place="fillets along its outside", length=length, section=angle)
    outer = [part for part in kit.panels if part.level > 0 and part.label not in soft]
    yield Bead(place="under outer layers", length=sum(perimeter(part) for part in outer), section=bead)
    sticks = sum(stick.length * (1 if stick.use == "spacer" else 2) for stick in kit.sticks)
    yield Bead(place="under sticks", length=sticks, section=bead)
    pierced = [(part, hole) for part in kit.panels for hole in part.holes]
    clear = {mouth.name: mouth.clearance for mouth in kit.openings}
    for part, hole in pierced:
        room = clear[hole.label]
        yield Bead(
            place=f"round the duct in {part.label}", length=hole.around - pi * room, section=room * part.thickness
        )
    ends = [hole for part, hole in pierced if part.level in (0, _last(kit, part))]
    yield Bead(place="fillets round the ducts", length=2.0 * sum(hole.around for hole in _both(ends)), section=angle)


def _both(holes: list[Hole]) -> list[Hole]:
    """One hole of each mouth: it has a fillet inside and one outside."""
    return list({hole.label: hole for hole in holes}.values())


def _first(part: Part) -> bool:
    return part.level == 0 or part.kind == "divider"


def _last(kit: Kit, part: Part) -> int:
    return max(other.level for other in kit.panels if other.face == part.face)


def gasket(kit: Kit) -> float:
    """Length of gasket under the boards that come off again, mm."""
    return perimeter(kit.lid[0]) if kit.closing.removable else 0.0


def damped_area(kit: Kit) -> float:
    """What damping compound is spread over, m2."""
    return 1e-6 * sum(part.volume / part.thickness for part in kit.parts if part.damped)
