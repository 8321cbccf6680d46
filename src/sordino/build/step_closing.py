"""What the last steps say: the look before the box is closed, closing it, and proving it."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.build.faces import MM
from sordino.build.kit import Kit
from sordino.build.order import Placed
from sordino.build.part import Stick
from sordino.build.seams import perimeter
from sordino.build.words import ONE_PERSON, OVERHEAD, Told, long, mass, stick_words
from sordino.names import listed
from sordino.units import System

AXES = {"left": 0, "right": 0, "front": 1, "back": 1, "floor": 2, "ceiling": 2}
"""The direction that says nothing of a place on a face; both slopes want all three."""


def inspection(kit: Kit, units: System) -> Told:
    """The last look."""
    behind = kit.closing
    return Told(
        work=("go through the list below with somebody who has not built it",),
        checks=(
            "every joint, screw head and collar inside is sealed",
            "no tool, offcut or loose fibre lies in the air's way",
            f"the mouths stand where the plan has them: {listed(_mouth(kit, index, units) for index in range(2))}",
            f"the boards {listed(part.label for part in kit.lid)} lie flat on the open {behind.face} without force",
        ),
        photographs=("the whole inside with a tape in it", "both collars from inside"),
    )


def _mouth(kit: Kit, index: int, units: System) -> str:
    """Where a mouth's middle is, by the two sizes that count in its face."""
    mouth = kit.openings[index]
    ways = ("from the left", "from the front", "up")
    across = AXES.get(mouth.face)
    told = (
        f"{long(place, units)} {way}"
        for axis, (place, way) in enumerate(zip(mouth.centre, ways, strict=True))
        if axis != across
    )
    return f"{mouth.name} in the {mouth.face} with its middle {' and '.join(told)}, inside"


def closing_words(kit: Kit, group: tuple[Placed, ...], units: System) -> Told:
    lid = kit.lid
    weight = sum(part.mass for part in lid)
    return Told(
        work=tuple(_lid(kit, group, units)),
        checks=("the bead shows all round where it has been pressed out, or the gasket is pressed evenly all round",),
        photographs=("the closed face with every screw",),
        cautions=tuple(_lid_cautions(weight, units)),
    )


def _lid(kit: Kit, group: tuple[Placed, ...], units: System) -> Iterator[str]:
    apart = long(MM * kit.building.screws, units)
    for one in group:
        piece = one.piece
        if isinstance(piece, Stick):
            yield stick_words(piece, units)
        elif piece.level == 0 and kit.closing.removable:
            yield (
                f"{piece.label} comes off again, to get at {listed(kit.closing.serves)}: stick a gasket of "
                f"{long(MM * kit.building.gasket, units)} round its inner side, {long(perimeter(piece), units)} in "
                f"all, and along the edges of dividers; bolts into threaded inserts {apart} apart, no sealant"
            )
        elif piece.level == 0:
            yield (
                f"lay an unbroken bead on every edge and stick that {piece.label} will meet, on those of dividers, "
                f"too: nobody reaches them afterwards; press {piece.label} on wet and screw it {apart} apart"
            )
        else:
            hold = (
                "screwed to the boards under it, so that all come off as one" if kit.closing.removable else "on a bead"
            )
            compound = ", damping compound under it" if piece.damped else ""
            yield f"{piece.label} over it, {hold}{compound}, screws {apart} apart and clear of those below"


def _lid_cautions(weight: float, units: System) -> Iterator[str]:
    if weight > ONE_PERSON:
        yield f"these boards weigh {mass(weight, units)} together: two people"
    if weight > OVERHEAD:
        yield f"over the head {mass(weight, units)} is more than one person holds while screwing: prop it or use a lift"


def proof(kit: Kit, units: System) -> Told:
    """When it is closed."""
    return Told(
        work=(
            f"weigh the box: boards, sticks and fibre come to {mass(kit.mass, units)}; duct, screws and sealant come "
            "on top, and boards differ by a tenth",
            "stop one mouth, blow gently into the other and feel or smoke-test every joint",
        ),
        checks=("no draught is felt at any joint", "the weight agrees within a tenth"),
        photographs=("the box from all sides with its name on it",),
        cautions=(
            f"the whole box weighs about {mass(kit.mass, units)}: lift it with enough people or a hoist, never stand "
            "under it, and hang it as a licensed engineer or your local code allows",
            "look for cables and pipes before you drill into a building",
        ),
    )
