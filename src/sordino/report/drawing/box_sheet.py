"""The sheet of one box: its section with dimensions, then its sound field at each frequency, and the legend."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.box_picture import BoxPicture, FieldSlice
from sordino.elements import buildup
from sordino.elements.box import FOLDED
from sordino.physics.wave.prism import Prism
from sordino.physics.wave.stub import stub
from sordino.report.drawing import box_parts as parts
from sordino.report.drawing import dimension, field, palette, section
from sordino.report.drawing.box_notes import box_notes
from sordino.report.drawing.records import Area, Clipped, Item, Rectangle, Sheet, Stroke, Text, rectangle
from sordino.report.drawing.view import View, wrapped
from sordino.units import System

WIDTH, MARGIN = 180.0, 8.0
HEAD, BODY = 4.2, 2.6
LINE = 1.45
"""Line spacing over letter size."""
STUB = 7.0
SIDE = 34.0
"""Room beside the dimensioned section for the ducts' labels, mm."""
LARGEST = (WIDTH - 2.0 * (MARGIN + SIDE), 78.0)
"""Room for the dimensioned section itself, mm."""
PANEL_GAP = 6.0
FLATTEST = 2.6
"""Boxes longer than this over their height get a row for each panel."""
CONTENT = WIDTH - 2.0 * MARGIN


def box_sheet(picture: BoxPicture, name: str, units: System) -> Sheet:
    """The drawing of a box with its field."""
    title = f"Box {name}: section and sound field"
    items: list[Item] = [Text(at=(MARGIN, MARGIN + HEAD), text=title, size=HEAD, bold=True)]
    y = MARGIN + HEAD + 3.0
    for part in (_dimensioned(picture, y, units), _notes):
        drawn, y = part if isinstance(part, tuple) else part(picture, y, units)
        items += drawn
    for row in _rows(picture):
        drawn, y = _row(picture, row, y)
        items += drawn
    drawn, y = _legend(y)
    items += drawn
    losses = ", ".join(f"{one.loss:.0f} dB at {one.frequency:g} Hz" for one in picture.slices)
    return Sheet(
        width=WIDTH,
        height=y + MARGIN,
        title=title,
        description=f"Level of the sound inside the box over its middle section; it takes {losses}.",
        items=tuple(items),
    )


def _dimensioned(picture: BoxPicture, top: float, units: System) -> tuple[list[Item], float]:
    prism, deep = picture.made.prism, _deepest(picture)
    scale = min(LARGEST[0] / (prism.length + 2.0 * deep), LARGEST[1] / (prism.height + 2.0 * deep))
    above = deep * scale + (STUB + 9.0 if _joins_above(picture) else 2.0)
    below = deep * scale + (STUB + 9.0 if _joins(picture, "floor") else 2.0)
    left = (WIDTH - scale * prism.length) / 2.0
    view = View(left=left, lower=top + above + scale * prism.height, scale=scale)
    floor = view.lower + below + 5.0
    items: list[Item] = [
        parts.fibre(picture, view),
        *parts.boards(picture, view),
        *parts.mouths(picture, view, STUB),
        *parts.flexible(picture, view),
        *parts.mouth_labels(picture, view, STUB, units),
        *dimension.along(view.at(0.0, 0.0), view.at(prism.length, 0.0), floor, prism.length, units),
        *_heights(picture, view, units),
        *dimension.scale_bar((MARGIN, floor), view, SIDE - 14.0, units),
    ]
    return items, floor + 3.0


def _deepest(picture: BoxPicture) -> float:
    return max(buildup.thickness(picture.box.layers(name)) for name, _, _ in section.named_edges(picture.made.prism))


def _joins_above(picture: BoxPicture) -> bool:
    return any(_joins(picture, face) for face in ("ceiling", "left slope", "right slope"))


def _joins(picture: BoxPicture, face: str) -> bool:
    return any(port.face == face for port in picture.made.prism.ports)


def _heights(picture: BoxPicture, view: View, units: System) -> Iterator[Item]:
    """Inside height, and that of a pass, beyond the ducts' labels at the end that has fewer of them."""
    prism, box = picture.made.prism, picture.box
    side = "right" if not _joins(picture, "right") or _joins(picture, "left") else "left"
    step = 6.5
    wall = view.at(prism.length if side == "right" else 0.0, 0.0)[0]
    room = _deepest(picture) * view.scale + (5.5 if not _joins(picture, side) else SIDE - 3.0)
    places = [wall + room, wall + room + step] if side == "right" else [wall - room - step, wall - room]
    x = prism.length if side == "right" else 0.0
    count = box.passes if box.family in FOLDED else 1
    if count > 1 and not _joins(picture, side):
        for index in range(count):
            low = index * (box.pass_height + box.divider)
            ends = view.at(x, low), view.at(x, low + box.pass_height)
            yield from dimension.upright(*ends, places[0], box.pass_height, units)
        yield from dimension.upright(view.at(x, 0.0), view.at(x, prism.height), places[1], prism.height, units)
        return
    yield from dimension.upright(view.at(x, 0.0), view.at(x, prism.height), places[0], prism.height, units)


def _notes(picture: BoxPicture, top: float, units: System) -> tuple[list[Item], float]:
    """What the section can't show by itself."""
    lines = [line for note in box_notes(picture, units) for line in wrapped(note, int(CONTENT / (BODY * 0.61)))]
    items: list[Item] = [
        Text(at=(MARGIN, top + BODY + index * LINE * BODY), text=line, size=BODY) for index, line in enumerate(lines)
    ]
    return items, top + (len(lines) + 0.6) * LINE * BODY


def _rows(picture: BoxPicture) -> list[tuple[FieldSlice, ...]]:
    prism, slices = picture.made.prism, picture.slices
    each = 1 if prism.length / prism.height > FLATTEST or len(slices) == 1 else 2
    return [slices[at : at + each] for at in range(0, len(slices), each)]


def _row(picture: BoxPicture, row: tuple[FieldSlice, ...], top: float) -> tuple[list[Item], float]:
    columns = len(_rows(picture)[0])
    room = (CONTENT - (columns - 1) * PANEL_GAP) / columns
    prism, deep = picture.made.prism, _deepest(picture)
    scale = min((room - 2.0 * STUB) / (prism.length + 2.0 * deep), LARGEST[1] / (prism.height + 2.0 * deep))
    margin = deep * scale + (STUB if _joins(picture, "ceiling") else 0.0)
    under = deep * scale + (STUB if _joins(picture, "floor") else 0.0)
    caption = top + 4.0 + BODY
    lower = caption + 2.0 + margin + scale * prism.height
    items: list[Item] = []
    for index, seen in enumerate(row):
        left = MARGIN + index * (room + PANEL_GAP)
        view = View(left=left + (room - scale * prism.length) / 2.0, lower=lower, scale=scale)
        items.append(Text(at=(left, caption), text=caption_of(seen), size=BODY + 0.4, bold=True))
        items += _panel(picture, seen, view)
    return items, lower + under + 1.0


def caption_of(seen: FieldSlice) -> str:
    """Frequency, loss and bracket of a panel."""
    return f"{seen.frequency:g} Hz: takes {seen.loss:.0f} dB ({seen.case})"


def _panel(picture: BoxPicture, seen: FieldSlice, view: View) -> Iterator[Item]:
    prism = picture.made.prism
    raster = field.raster(seen, prism.length, prism.height)
    lines, step = field.lines(raster, view), field.figure_step(raster)
    profile = parts.inside(picture, view)
    yield Clipped(within=(profile,), items=(*field.areas(raster, view), *field.strokes(lines, step)))
    yield parts.fibre(picture, view, faint=0.45)
    yield from parts.boards(picture, view)
    yield from parts.mouths(picture, view, STUB - 2.0)
    yield from parts.flexible(picture, view)
    yield from _arrows(prism, view, _deepest(picture) * view.scale + STUB - 2.0)
    yield from field.figures(lines, step, _bounds_of(profile), silent(seen, view))


def silent(seen: FieldSlice, view: View) -> list[Rectangle]:
    """Where no sound is, in dividers and beyond a slope, as upright strips on paper."""
    step, found = float(seen.x[1] - seen.x[0]) / 2.0, []
    for x, column in zip(seen.x, np.isnan(seen.level).T, strict=True):
        ends = np.flatnonzero(np.diff(np.concatenate([[False], column, [False]]).astype(int)))
        for low, high in ends.reshape(-1, 2):
            corners = (float(x) - step, float(seen.z[low]) - step), (float(x) + step, float(seen.z[high - 1]) + step)
            found.append(_bounds_of(view.ring(corners)))
    return found


def _bounds_of(ring: tuple[tuple[float, float], ...]) -> Rectangle:
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _arrows(prism: Prism, view: View, reach: float) -> Iterator[Item]:
    """The way of the arriving sound, into the inlet."""
    port = prism.ports[0]
    if port.face not in ("front", "back"):
        ahead, _, up = (float(each) for each in stub(prism, port).axis)
        out = (ahead, -up)
        x, y = view.at(port.centre[0], port.centre[2])
        tail, tip = (x + reach * out[0], y + reach * out[1]), (x + 0.5 * out[0], y + 0.5 * out[1])
        side = (-out[1], out[0])
        yield Stroke(points=(tail, tip), width=0.5, colour="#1c4b7a")
        wings = [
            (tip[0] + 2.0 * out[0] + s * 1.1 * side[0], tip[1] + 2.0 * out[1] + s * 1.1 * side[1]) for s in (-1, 1)
        ]
        yield Area(rings=((tip, wings[0], wings[1]),), fill="#1c4b7a")


def _legend(top: float) -> tuple[list[Item], float]:
    """The scale of colours with its figures."""
    y = top + 4.0 + BODY
    words = "Level in dB re the wave that arrives at the inlet (arrow); a line every 3 dB."
    items: list[Item] = [Text(at=(MARGIN, y), text=words, size=BODY)]
    shades, bounds = palette.colours(), palette.edges()
    wide, upper, lower = CONTENT / len(shades), y + 2.0, y + 6.5
    for index, colour in enumerate(shades):
        x = MARGIN + index * wide
        items.append(Area(rings=(rectangle(x, upper, x + wide, lower),), fill=colour, stroke="#40342e", width=0.1))
    for index, bound in enumerate(bounds):
        if bound % field.LABELLED == 0.0:
            at = (MARGIN + (index + 1) * wide, lower + 1.2 * BODY)
            items.append(Text(at=at, text=f"{bound:.0f}".replace("-", "−"), size=BODY, anchor="middle"))
    return items, lower + 1.2 * BODY + 0.5
