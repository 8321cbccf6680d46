"""The closed box seen across its section, from above or from its side, with the size that the section lacks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.box_picture import BoxPicture
from sordino.elements import buildup
from sordino.elements.box import LARGEST, SMALLEST
from sordino.physics.wave.prism import Port
from sordino.report.drawing import box_parts
from sordino.report.drawing.records import XY, Area, Item, Ring, Stroke, Text, rectangle
from sordino.report.drawing.view import View
from sordino.web.pictures.box_frame import STUB, BoxFrame
from sordino.web.pictures.box_handles import Handle, free

HEAD, FOOT = 6.0, 6.0
"""Room over it for its words, and under it, mm."""
ROUND = 32
"""Corners of what is round."""
HIDDEN = (1.6, 0.8)


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """Where it lies: its inside back edge is at z = 0 of the view, its front edge at minus its depth."""

    view: View
    words_at: XY
    bottom: float


def plan(picture: BoxPicture, frame: BoxFrame, top: float) -> Plan:
    """It begins `top` mm down the picture, right under the section and in its scale."""
    scale = frame.view.scale
    front, back = (scale * buildup.thickness(picture.box.layers(name)) for name in ("front", "back"))
    before, behind = (STUB if _meets(picture, name) else 0.0 for name in ("front", "back"))
    lower = top + HEAD + behind + back
    return Plan(
        view=View(left=frame.view.left, lower=lower, scale=scale),
        words_at=(frame.view.left, top + 0.6 * HEAD),
        bottom=lower + scale * picture.made.prism.width + front + before + FOOT,
    )


def side_seen(picture: BoxPicture) -> str:
    """Words for where it is seen from; the passages of a shallow box lie side by side, so its section is level."""
    return "From its side" if picture.box.family == "shallow" else "From above"


def across(picture: BoxPicture) -> Handle:
    """The size across the section, at the front edge; places as in `Plan`."""
    prism = picture.made.prism
    name = "height" if picture.box.family == "shallow" else "width"
    share = free(picture, "front", prism.length)
    at = ((share if share is not None else 1.0) * prism.length, -prism.width)
    label = f"Inside {name}"
    return Handle(field=name, label=label, axis="z", at=at, value=prism.width, low=SMALLEST, high=LARGEST, sign=-1.0)


def plan_items(picture: BoxPicture, seen: Plan) -> Iterator[Item]:
    """Casing, hidden inside, slopes and mouths."""
    prism, view = picture.made.prism, seen.view
    front, back, left, right = (
        buildup.thickness(picture.box.layers(name)) for name in ("front", "back", "left", "right")
    )
    for port in prism.ports:
        if port.face in ("left", "right", "front", "back"):
            yield from _stub(picture, port, view)
    corners = (*view.at(-left, back), *view.at(prism.length + right, -prism.width - front))
    casing = rectangle(*corners)
    yield Area(rings=(casing,), fill=box_parts.SHEETING["board"], stroke=box_parts.EDGE, width=0.25)
    inside = rectangle(*view.at(0.0, 0.0), *view.at(prism.length, -prism.width))
    yield Stroke(points=(*inside, inside[0]), width=0.15, dash=HIDDEN)
    for x in (prism.left.run, prism.length - prism.right.run):
        if 0.0 < x < prism.length:
            yield Stroke(points=(view.at(x, back), view.at(x, -prism.width - front)), width=0.2)
    for port in prism.ports:
        if port.face not in ("left", "right", "front", "back"):
            ring = view.ring(_mouth(picture, port))
            hidden = HIDDEN if port.face == "floor" else ()
            yield Stroke(points=(*ring, ring[0]), width=0.3, dash=hidden)
    yield Text(at=seen.words_at, text=side_seen(picture), size=box_parts.DUCT_LETTERS)


def _meets(picture: BoxPicture, face: str) -> bool:
    return any(port.face == face for port in picture.made.prism.ports)


def _mouth(picture: BoxPicture, port: Port) -> Ring:
    """A mouth in the lid or the floor."""
    x, y, _ = port.centre
    z = y - picture.made.prism.width
    half = picture.section.width / 2.0, picture.section.height / 2.0
    if port.diameter is None:
        return rectangle(x - half[1], z - half[0], x + half[1], z + half[0])
    turns = np.linspace(0.0, 2.0 * np.pi, ROUND, endpoint=False)
    radius = port.diameter / 2.0
    return tuple((x + radius * float(np.cos(turn)), z + radius * float(np.sin(turn))) for turn in turns)


def _stub(picture: BoxPicture, port: Port, view: View) -> Iterator[Item]:
    """The duct at a mouth in a wall, from the inside to its end."""
    prism, (x, y, _) = picture.made.prism, port.centre
    z, half = y - prism.width, picture.section.width / 2.0
    reach = buildup.thickness(picture.box.layers(port.face)) + STUB / view.scale
    level = port.face in ("left", "right")
    if level:
        edge, out = (0.0, -reach) if port.face == "left" else (prism.length, reach)
        corners = ((edge, z - half), (edge + out, z - half), (edge + out, z + half), (edge, z + half))
    else:
        edge, out = (0.0, reach) if port.face == "back" else (-prism.width, -reach)
        corners = ((x - half, edge), (x - half, edge + out), (x + half, edge + out), (x + half, edge))
    ring = view.ring(corners)
    yield Area(rings=(ring,), fill="#ffffff")
    yield Stroke(points=ring[:2], width=0.35)
    yield Stroke(points=ring[2:], width=0.35)
