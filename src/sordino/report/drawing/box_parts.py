"""The section of a box on paper: casing, mouths with their ducts, dividers, flexible duct, fibre."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, degrees
from typing import Literal

from sordino.assess.box_picture import BoxPicture
from sordino.physics.wave.prism import outline
from sordino.report.drawing import section
from sordino.report.drawing.records import Area, Clipped, Item, Ring, Stroke, Text
from sordino.report.drawing.view import View
from sordino.units import System

SHEETING = {"board": "#d9d4cb", "damping": "#222222", "cavity": "#f7f7f5"}
DIVIDER = "#bfb8ab"
EDGE, FIBRE_EDGE, THIN = "#222222", "#3d4f5c", 0.2
DUCT_LETTERS = 2.6
SIDEWAYS = 0.5
"""A duct of which this share and more goes sideways has its words beside its end, one that goes up over it."""


def inside(picture: BoxPicture, view: View) -> Ring:
    """The inner profile on paper."""
    return view.ring(outline(picture.made.prism))


def fibre(picture: BoxPicture, view: View, faint: float = 1.0) -> Clipped:
    """Fibre, by its sign."""
    rings = tuple(view.ring(ring) for ring in section.fibre(picture.made.prism))
    return Clipped(
        within=(inside(picture, view),),
        items=(Area(rings=rings, fibre=True, stroke=FIBRE_EDGE, width=0.15, opacity=faint),),
    )


def boards(picture: BoxPicture, view: View) -> Iterator[Item]:
    """Casing layer by layer and dividers, as cut."""
    for layer in section.casing(picture.box, picture.made.prism):
        wide = 0.25 if layer.kind == "damping" else 0.1
        yield Area(rings=(view.ring(layer.ring),), fill=SHEETING[layer.kind], stroke=EDGE, width=wide)
    for ring in section.dividers(picture.made.prism):
        yield Area(rings=(view.ring(ring),), fill=DIVIDER, stroke=EDGE, width=THIN)
    yield Area(rings=(inside(picture, view),), stroke=EDGE, width=THIN)


def flexible(picture: BoxPicture, view: View) -> Iterator[Item]:
    """Both walls of the flexible duct."""
    walls = section.duct(picture.made.prism)
    for wall in walls or ():
        yield Stroke(points=view.ring(wall), width=0.3, dash=(1.2, 0.6))


def mouths(picture: BoxPicture, view: View, stub: float) -> Iterator[Item]:
    """The ducts at both mouths, `stub` mm of each; those before or behind the section as broken lines."""
    for opening, port in zip(section.openings(picture.box, picture.made.prism), picture.made.prism.ports, strict=True):
        if opening is None:
            wide, high = _half(picture)
            yield from _seen_through(port.centre, (wide / cos(port.slant), high), view)
        else:
            yield from _cut(opening, view, stub)


def _half(picture: BoxPicture) -> tuple[float, float]:
    return picture.section.width / 2.0, picture.section.height / 2.0


def _cut(opening: section.Opening, view: View, stub: float) -> Iterator[Item]:
    reach = opening.depth + stub / view.scale
    ends = [
        (x + reach * opening.outward[0], z + reach * opening.outward[1]) for x, z in (opening.first, opening.second)
    ]
    ring = view.ring((opening.first, ends[0], ends[1], opening.second))
    yield Area(rings=(ring,), fill="#ffffff")
    yield Stroke(points=ring[:2], width=0.35)
    yield Stroke(points=ring[2:], width=0.35)


def _seen_through(centre: tuple[float, float, float], half: tuple[float, float], view: View) -> Iterator[Item]:
    x, _, z = centre
    corners = (
        (x - half[0], z - half[1]),
        (x + half[0], z - half[1]),
        (x + half[0], z + half[1]),
        (x - half[0], z + half[1]),
    )
    ring = view.ring(corners)
    yield Stroke(points=(*ring, ring[0]), width=0.3, dash=(1.6, 0.8))


def mouth_labels(picture: BoxPicture, view: View, stub: float, units: System) -> Iterator[Text]:
    """Inlet and outlet with their sizes, beyond the end of each duct."""
    words = picture.section.shown(units)
    pairs = zip(
        ("inlet", "outlet"), section.openings(picture.box, picture.made.prism), picture.made.prism.ports, strict=True
    )
    for name, opening, port in pairs:
        lean = (f"{degrees(abs(port.slant)):.0f}° off square",) if port.slant else ()
        if opening is None:
            at = view.at(port.centre[0], port.centre[2])
            yield Text(
                at=at,
                text=", ".join((f"{name} {words}", *lean, f"on the {port.face}")),
                size=DUCT_LETTERS,
                anchor="middle",
                plate=True,
            )
        else:
            yield from _beside((name, words, *lean), opening, view, stub)


def _beside(lines: tuple[str, ...], opening: section.Opening, view: View, stub: float) -> Iterator[Text]:
    middle = ((opening.first[0] + opening.second[0]) / 2.0, (opening.first[1] + opening.second[1]) / 2.0)
    x, y = view.at(*middle)
    reach = opening.depth * view.scale + stub + 1.5
    x, y = x + reach * opening.outward[0], y - reach * opening.outward[1]
    if opening.outward[1] > SIDEWAYS:
        higher = abs(opening.first[1] - opening.second[1]) / 2.0 * view.scale
        y -= higher + DUCT_LETTERS * (1.3 + 1.25 * (len(lines) - 2))
    elif opening.outward[1] < -SIDEWAYS:
        y += DUCT_LETTERS
    anchor: Literal["start", "middle", "end"] = "middle"
    if abs(opening.outward[0]) > SIDEWAYS:
        anchor = "end" if opening.outward[0] < 0.0 else "start"
    for number, line in enumerate(lines):
        yield Text(at=(x, y + 1.25 * number * DUCT_LETTERS), text=line, size=DUCT_LETTERS, anchor=anchor)
