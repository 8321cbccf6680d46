"""In which order parts can be put together: nothing is put where its way in is blocked.

A panel or spacer comes from outside along its face's way out; what lies inside comes through the face that closes last.
A part that would block another one's way comes after it. Where that leaves a choice, the wall opposite the opening
comes first, then the walls round it, sticks from the depth, dividers, outer layers, and the closing face at the end.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sordino.build.part import Part, Stick
from sordino.build.solid import pushed_in, solid
from sordino.elements.box_planes import Frame, Vector
from sordino.elements.box_sheets import EVEN

Piece = Part | Stick
FAR = 2e4
"""Far outside any box, mm."""
BLOCKED = 50.0
"""Volume in a part's way that is more than arithmetic's dust, mm3."""
OPPOSITE = {"front": "back", "back": "front", "left": "right", "right": "left", "floor": "ceiling", "ceiling": "floor"}
STAGES = ("shell", "frame", "cleats", "dividers", "cleats on the closing face", "outer layers", "closing")


@dataclass(frozen=True, kw_only=True, slots=True)
class Placed:
    """A piece with the stage of the work in which it is put in."""

    piece: Piece
    stage: str


def ordered(pieces: tuple[Piece, ...], face: str, bases: dict[str, Frame]) -> tuple[Placed, ...]:
    """The pieces in the order in which they go together, if `face` closes the box."""
    waits = _waits(pieces, face, bases)
    keys = [_key(piece, index, face) for index, piece in enumerate(pieces)]
    done: list[int] = []
    left = set(range(len(pieces)))
    while left:
        ready = [index for index in left if not waits[index] & left]
        # two sticks that bar each other's way are slid in endways: the first by rank goes first
        index = min(ready or left, key=lambda one: keys[one])
        done.append(index)
        left.remove(index)
    return tuple(Placed(piece=pieces[index], stage=stage_of(pieces[index], face)) for index in done)


def stage_of(piece: Piece, face: str) -> str:
    """Which stage of the work a piece belongs to."""
    if isinstance(piece, Part):
        if piece.kind == "divider":
            return "dividers"
        if piece.face == face:
            return "closing"
        return "shell" if piece.level == 0 else "outer layers"
    if piece.use == "spacer":
        return "closing" if piece.joins[0] == face else "outer layers"
    if piece.use == "frame":
        return "frame"
    return "cleats on the closing face" if face in piece.joins else "cleats"


def _key(piece: Piece, index: int, face: str) -> tuple[int, int, int, int]:
    stage = STAGES.index(stage_of(piece, face))
    if isinstance(piece, Stick):
        return stage, piece.level, 0, index
    base = 0 if piece.face == OPPOSITE.get(face) else 1
    return stage, piece.level, base, EVEN.index(piece.face) if piece.face in EVEN else index


def way_in(piece: Piece, face: str, bases: dict[str, Frame]) -> Vector:
    """The direction from a piece's place to where it comes from."""
    if isinstance(piece, Part) and piece.kind == "panel":
        return bases[piece.face].n
    if isinstance(piece, Stick) and piece.use == "spacer":
        return bases[piece.joins[0]].n
    return bases[face].n


def _waits(pieces: tuple[Piece, ...], face: str, bases: dict[str, Frame]) -> list[set[int]]:
    """For each piece those that must be in before it: whose way it would block."""
    bodies = [solid(piece) for piece in pieces]
    extents = [body.bounding_box() for body in bodies]
    waits: list[set[int]] = [set() for _ in pieces]
    for index, piece in enumerate(pieces):
        path = pushed_in(piece, way_in(piece, face, bases), FAR)
        reach = path.bounding_box()
        for other, body in enumerate(bodies):
            if other != index and _meet(reach, extents[other]) and (path ^ body).volume() > BLOCKED:
                waits[other].add(index)
    return waits


def _meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    """Whether two boxes (least corner, then greatest) overlap by more than a hair."""
    return all(min(one[a + 3], other[a + 3]) - max(one[a], other[a]) > 1e-3 for a in range(3))


def grouped(placed: tuple[Placed, ...], key: Callable[[Placed], str]) -> tuple[tuple[str, tuple[Placed, ...]], ...]:
    """Neighbours in the order that have the same key, together."""
    found: list[tuple[str, list[Placed]]] = []
    for one in placed:
        name = key(one)
        if found and found[-1][0] == name:
            found[-1][1].append(one)
        else:
            found.append((name, [one]))
    return tuple((name, tuple(group)) for name, group in found)
