"""A box pulled apart, and a box as it grows step by step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from sordino.bands import Array
from sordino.build.kit import Kit
from sordino.build.order import Piece
from sordino.build.part import Part
from sordino.elements.box_planes import Vector
from sordino.elements.box_sheets import frames
from sordino.report.drawing.bodies import Body, Eye, body, farthest_first
from sordino.report.drawing.lists import APART, beside
from sordino.report.drawing.records import XY, Area, Item, Sheet

FIRST, MORE = 0.55, 0.22
"""How far the first layer of a face moves out, and how much farther each next one, over the box's middle size."""
LID = 1.1
"""The same for the face that closes last."""
OLD, NEW = ("#ffffff", "#f2f2f0", "#dededb"), ("#b4b4b0", "#a2a29e", "#82827e")
"""Pale to dark by how squarely a side is seen; what a step adds is darker."""
BOARD, INNER = ("#ffffff", "#f4f4f2", "#e4e4e1"), ("#d8d8d4", "#c6c6c2", "#a8a8a4")
LABELS = 22.0
"""Room for labels on either side, mm."""


def short(label: str) -> str:
    """A label without its box's name."""
    return label.split()[-1]


def eye_on(kit: Kit) -> Eye:
    """Where one sees into the open face, and the mouths if that leaves a choice."""
    face = kit.closing.face
    mouths = {one.face for one in kit.openings}
    x = {"left": -1.0, "right": 1.0}.get(face, -1.0 if "left" in mouths and "right" not in mouths else 1.0)
    y = {"back": 1.0}.get(face, -1.0)
    return Eye(x=x, y=y, z=-1.0 if face == "floor" else 1.0)


def exploded(kit: Kit, room: XY) -> Sheet:
    """Every piece of a box with its label, the boards of the casing moved out of their faces."""
    eye = eye_on(kit)
    bodies = farthest_first([body(piece, eye, _moved(piece, kit)) for piece in kit.pieces], eye)
    most = APART * (len(bodies) // 2 + 2)
    high = min(room[1], max(_height(bodies, eye, room[0] - 2.0 * LABELS) + 2.0, most))
    scale, at = _placed(bodies, eye, (LABELS, 1.0, room[0] - LABELS, high - 1.0))
    items = list(_drawn(bodies, scale, at, {one.label: BOARD if _outside(one.piece) else INNER for one in bodies}))
    named = list(_spots(bodies, scale, at))
    items += beside(named, LABELS - 4.0, room[0] - LABELS + 4.0, APART, high - 1.0)
    title = f"Box {kit.name} pulled apart"
    words = f"{title}: its boards and sticks with their labels."
    return Sheet(width=room[0], height=high, title=title, description=words, items=tuple(items))


def _height(bodies: Sequence[Body], eye: Eye, width: float) -> float:
    """Of all bodies drawn so wide."""
    flat = np.concatenate([eye.flat(one.corners) for one in bodies])
    wide, high = flat.max(axis=0) - flat.min(axis=0)
    return float(width * high / wide)


def _outside(piece: Piece) -> bool:
    return isinstance(piece, Part) and piece.kind == "panel"


def _moved(piece: Piece, kit: Kit) -> Vector:
    prism = kit.made.prism
    size = 1e3 * float(np.mean([prism.length, prism.width, prism.height]))
    if isinstance(piece, Part) and piece.kind == "panel":
        face, level = piece.face, piece.level
    elif not isinstance(piece, Part) and piece.use == "spacer":
        face, level = piece.joins[0], piece.level
    else:
        return (0.0, 0.0, 0.0)
    n, by = frames(prism)[face].n, size * ((LID if face == kit.closing.face else FIRST) + MORE * level)
    return by * n[0], by * n[1], by * n[2]


def grown(kit: Kit, before: Iterable[Piece], added: Sequence[Piece], room: XY) -> Sheet:
    """A box with what stood before pale and what is added dark, in the same place and scale at every step."""
    eye = eye_on(kit)
    whole = [body(piece, eye) for piece in kit.pieces]
    scale, at = _placed(whole, eye, (1.0, 1.0, room[0] - 1.0, room[1] - 1.0))
    new = {piece.label for piece in added}
    standing = [one for one in whole if one.label in new or one.label in {piece.label for piece in before}]
    fills = {one.label: NEW if one.label in new else OLD for one in standing}
    items = _drawn(farthest_first(standing, eye), scale, at, fills)
    words = f"Box {kit.name}; added here: {', '.join(sorted(new))}"
    return Sheet(width=room[0], height=room[1], title=f"Box {kit.name}", description=words, items=tuple(items))


def _placed(bodies: Sequence[Body], eye: Eye, room: tuple[float, float, float, float]) -> tuple[float, XY]:
    """Scale and place of the drawing's origin with which all bodies fill a room."""
    flat = np.concatenate([eye.flat(one.corners) for one in bodies])
    low, high = flat.min(axis=0), flat.max(axis=0)
    wide, high_ = room[2] - room[0], room[3] - room[1]
    scale = float(min(wide / (high[0] - low[0]), high_ / (high[1] - low[1])))
    middle = (low + high) / 2.0
    return scale, (
        (room[0] + room[2]) / 2.0 - scale * float(middle[0]),
        (room[1] + room[3]) / 2.0 + scale * float(middle[1]),
    )


def _drawn(bodies: Sequence[Body], scale: float, at: XY, fills: dict[str, tuple[str, str, str]]) -> Iterator[Item]:
    for one in bodies:
        for side in sorted(one.seen, key=lambda each: each.steep):
            rings = tuple(tuple((at[0] + scale * x, at[1] - scale * y) for x, y in ring) for ring in side.rings)
            yield Area(rings=rings, fill=_fill(side.rings, fills[one.label]), stroke="#222222", width=0.16)


def _fill(rings: tuple[tuple[XY, ...], ...], shades: tuple[str, str, str]) -> str:
    """Pale where a side looks up, darker to the right, darkest to the left."""
    edges = np.diff(np.array([*rings[0], rings[0][0]]), axis=0)
    level: Array = np.abs(edges[:, 1]) < 0.02 * np.abs(edges).max()
    steep: Array = np.abs(edges[:, 0]) < 0.02 * np.abs(edges).max()
    if not steep.any() or level.any():
        return shades[0]
    slant = edges[int(np.argmax(np.abs(edges[:, 0])))]
    return shades[1] if slant[0] * slant[1] > 0.0 else shades[2]


def _spots(bodies: Sequence[Body], scale: float, at: XY) -> Iterator[tuple[str, XY, bool]]:
    """Each label with a point of its body, one that nothing hides if there is any, and whether that was found."""
    rings = [[np.array(ring) for ring in _outlines(one)] for one in bodies]
    for index, one in enumerate(bodies):
        over = [ring for later in rings[index + 1 :] for ring in later]
        spots = list(_candidates(one))
        free = next((spot for spot in spots if not any(_within(spot, ring) for ring in over)), None)
        spot = spots[0] if free is None else free
        yield short(one.label), (at[0] + scale * spot[0], at[1] - scale * spot[1]), free is not None


def _outlines(one: Body) -> Iterator[tuple[XY, ...]]:
    return (side.rings[0] for side in one.seen)


def _candidates(one: Body) -> Iterator[XY]:
    """Points of a body's largest visible side, its middle first, none of them in a hole."""
    rings = max(one.seen, key=lambda side: abs(_area(side.rings[0]))).rings
    ring, holes = np.array(rings[0]), [np.array(hole) for hole in rings[1:]]
    middle = ring.mean(axis=0)
    for share in (0.0, 0.3, 0.5, 0.7, 0.85):
        for end in (*ring, *((ring + np.roll(ring, 1, axis=0)) / 2.0)):
            spot = (1.0 - share) * middle + share * end
            if not any(_within((spot[0], spot[1]), hole) for hole in holes):
                yield float(spot[0]), float(spot[1])


def _within(spot: XY, ring: Array) -> bool:
    """Whether a point lies inside a convex ring."""
    ways = np.roll(ring, -1, axis=0) - ring
    away = np.array(spot) - ring
    side = ways[:, 0] * away[:, 1] - ways[:, 1] * away[:, 0]
    return bool(np.all(side > -1e-9) or np.all(side < 1e-9))


def _area(ring: tuple[XY, ...]) -> float:
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2.0
