"""What the steps say. Cautions are the usual ones of the trade; where a rule of law may hold, they defer to it."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, hypot

from sordino.build.faces import MM
from sordino.build.kit import Kit
from sordino.build.order import Placed
from sordino.build.part import Part, Stick
from sordino.build.seams import seams
from sordino.build.step_closing import closing_words
from sordino.build.words import ONE_PERSON, Told, long, mass, stick_words
from sordino.names import listed
from sordino.units import System

STEEP = 45.5
"""Degrees from square that a saw can still cut."""


def cutting(kit: Kit, units: System) -> Told:
    """Before anything is put together."""
    return Told(
        work=tuple(_cutting(kit, units)),
        checks=(
            f"measure the boards you have: if one is more than {long(MM * kit.building.tolerance, units)} off the "
            "thickness in the plan, change the plan and print this again, because other boards are cut to it",
            f"after cutting, every length is within {long(MM * kit.building.tolerance, units)} of the list",
            "the holes of one mouth lie over each other when its layers are stacked",
        ),
        photographs=("every board with its label, for the record",),
        cautions=(
            "wood and board dust harm the lungs: extract it at the saw and wear a mask, eye and ear protection",
            "clamp what you cut and keep guards on",
        ),
    )


def _cutting(kit: Kit, units: System) -> Iterator[str]:
    yield "cut every board to the outline on its drawing and write its label on the side that ends up outside"
    bevelled = [part for part in kit.parts if part.bevelled]
    if bevelled:
        yield (
            f"{listed(part.label for part in bevelled)} have bevelled edges: the sizes given are those at the long "
            "points, and the drawing says on which side they are"
        )
    steep = [part.label for part in kit.parts if any(abs(edge.bevel) > STEEP for edge in part.edges)]
    if steep:
        yield f"the flattest bevels of {listed(steep)} are past what a saw tilts to: plane them, or cut them on end"
    ripped = [stick.label for stick in kit.sticks if not stick.square]
    if ripped:
        yield f"rip the sticks {listed(ripped)} to the section drawn"
    pierced = [part.label for part in kit.parts if part.holes]
    yield f"cut the holes in {listed(pierced)} now, while they lie flat, from one template for all layers"
    for mouth in kit.openings:
        if mouth.leans:
            yield (
                f"the {mouth.name} stands {degrees(mouth.slant):.0f}° off square: its hole is longer than the duct is "
                "wide and lies farther along from layer to layer, as drawn on each board"
            )
        if mouth.tight:
            yield (
                f"at the {mouth.name} the duct lies against a wall of the box, so its hole has "
                f"{long(mouth.clearance, units) if mouth.clearance > 0.0 else 'no room'} to spare there: fit it by hand"
            )


def placing(kit: Kit, group: tuple[Placed, ...], before: tuple[Placed, ...], units: System) -> Told:
    """Putting in one group of parts when those before stand."""
    stage = group[0].stage
    if stage == "closing":
        return closing_words(kit, group, units)
    return Told(
        work=tuple(_placing(kit, group, before, units)),
        checks=tuple(_checks(kit, group, before, units)),
        photographs=tuple(_photographs(group)),
        cautions=tuple(_heavy(group, units)),
    )


def _placing(kit: Kit, group: tuple[Placed, ...], before: tuple[Placed, ...], units: System) -> Iterator[str]:
    standing = {one.piece.label for one in before}
    for one in group:
        piece = one.piece
        if isinstance(piece, Stick):
            yield stick_words(piece, units)
        else:
            yield _board(piece, kit, standing, units)
        standing.add(piece.label)


def _board(part: Part, kit: Kit, standing: set[str], units: System) -> str:
    apart = long(MM * kit.building.screws, units)
    joined = sorted(_partners(part, kit) & standing)
    under = f"on damping compound spread all over what lies under {part.label}, " if part.damped else ""
    if part.level > 0 and part.kind == "panel":
        edges = f" and against {listed(joined)}" if joined else ""
        return (
            f"{part.label} over the {part.face}, {under}on a bead all round{edges}, its screws {apart} apart and clear "
            "of those below"
        )
    if not joined:
        return f"{part.label} first, flat on trestles with its inner side up"
    return f"{part.label} against {listed(joined)}: a bead of sealant on every joint, then screws {apart} apart"


def _partners(part: Part, kit: Kit) -> set[str]:
    pairs = [(seam.first, seam.second) for seam in seams(kit.parts)]
    return {second if first == part.label else first for first, second in pairs if part.label in (first, second)}


def _checks(kit: Kit, group: tuple[Placed, ...], before: tuple[Placed, ...], units: System) -> Iterator[str]:
    stage = group[0].stage
    shell = sum(1 for one in kit.order if one.stage == "shell")
    if stage == "shell" and len(before) + len(group) == shell:
        yield from _square(kit, units)
    if stage == "dividers":
        narrow = kit.made.narrowest
        yield (
            f"the air passage is nowhere less than {narrow.size.shown(units)} clear once the lining is in; "
            "a divider or cleat in its way must move"
            if kit.made.prism.tube is None
            else "the flexible duct goes round every divider's open edge without being squeezed"
        )


def _square(kit: Kit, units: System) -> Iterator[str]:
    """Sizes that prove the shell: diagonals of the opening that is left."""
    opening = next(face for face in kit.faces if face.name == kit.closing.face)
    corners = opening.outline
    if len(corners) == 4:
        (a, b), (c, d) = corners[0], corners[2]
        yield f"both diagonals of the open {opening.name} measure {long(hypot(c - a, d - b), units)} inside"
    sides = [hypot(c - a, d - b) for (a, b), (c, d) in zip(corners, (*corners[1:], corners[0]), strict=True)]
    yield f"the sides of the open {opening.name} measure {listed(long(side, units) for side in sides)} inside"


def _photographs(group: tuple[Placed, ...]) -> Iterator[str]:
    stage = group[0].stage
    if stage == "dividers":
        yield "each divider with its cleats, a tape beside it"
    if stage == "outer layers":
        yield "the layer under it with every joint sealed, before it is covered"


def _heavy(group: tuple[Placed, ...], units: System) -> Iterator[str]:
    heavy = [one.piece for one in group if isinstance(one.piece, Part) and one.piece.mass > ONE_PERSON]
    for part in heavy:
        yield f"{part.label} weighs {mass(part.mass, units)}: two people"


def sealing(kit: Kit, units: System) -> Told:
    """When all that stands inside stands."""
    whole = sum(seam.length for seam in seams(kit.parts) if _inner(seam.first, seam.second, kit))
    return Told(
        work=(
            f"run a fillet of sealant along every inside joint, {long(whole, units)} in all, and round every screw",
            "seal the outer side of the same joints, too: nobody gets at them again once another layer lies on them",
            "where no stick stands in an angle because the air goes through there, glue that joint and set screws at "
            "half the distance, in pilot holes",
            "let it cure as its maker says",
        ),
        checks=("in a dark room a lamp inside shows at no joint but the open face and the mouths",),
        photographs=("every inside joint, from the open face",),
        cautions=("sealant gives off vapour: air the room, and read its data sheet",),
    )


def _inner(first: str, second: str, kit: Kit) -> bool:
    pair = [part for part in kit.parts if part.label in (first, second)]
    return all(part.level == 0 or part.kind == "divider" for part in pair) and not any(one in kit.lid for one in pair)


def filling(kit: Kit, units: System) -> Told:
    """Fibre, and the duct."""
    prism = kit.made.prism
    inside = (
        "lay the flexible duct through the box round the dividers, pulled tight, no bend tighter than drawn, and clamp "
        "and tape its core to the collars; then fill all the room round it with fibre, without squeezing the duct"
        if prism.tube is not None
        else "fit the lining to the faces drawn, cut round the sticks, faced side to the air, without gaps; leave the "
        "mouths clear"
    )
    room = max(mouth.clearance for mouth in kit.openings)
    leaning = listed(mouth.name for mouth in kit.openings if mouth.leans)
    collars = (f"cut a length of metal duct for the {leaning}: no collar with a flange fits there",) if leaning else ()
    return Told(
        work=(
            *collars,
            "set a collar into each mouth through all layers and seal it all round on both sides"
            + (f", filling the {long(room, units)} round it" if room > 0.0 else ""),
            inside,
        ),
        cautions=(
            "fibre irritates skin, eyes and lungs: long sleeves, gloves, goggles and a mask (N95 or FFP2)",
            "fibre, facing, tape and duct in an air path must be of kinds your building authority allows there; a box "
            "of wood is no listed duct, so ask before you build",
        ),
    )
