"""The sound field in the middle of a box at one frequency, dark where it is loud."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.box_picture import BoxPicture, FieldSlice
from sordino.report.drawing import box_parts, palette
from sordino.report.drawing import field as contours
from sordino.report.drawing.box_sheet import silent
from sordino.report.drawing.records import Area, Clipped, Item, Rectangle, Stroke, Text, rectangle
from sordino.report.drawing.view import View
from sordino.web.pictures import marks, recorded
from sordino.web.pictures.box_frame import EDGE, STUB, BoxFrame, beside, box_frame
from sordino.web.pictures.words import wrapped

LETTERS, ARROW = 2.6, 5.0


def field(picture: BoxPicture, name: str, frequency: float, narrow: bool = False) -> str:
    """The picture at the slice nearest to a frequency, Hz."""
    seen = min(picture.slices, key=lambda each: abs(each.frequency - frequency))
    frame = box_frame(picture, narrow, 4.0, beside(picture, STUB + ARROW))
    items, bottom = _legend(frame)
    key = marks.ident("field", name, f"{seen.frequency:g}", "n" if narrow else "w")
    every = [*_panel(picture, seen, frame.view), *items]
    drawn = recorded.shown(every, frame.scale, key, on_field=True)
    title = f"Box {name} inside at {seen.frequency:g} Hz"
    return marks.picture(frame.wide_px, bottom * frame.scale, title, field_words(seen), [drawn], name="field")


def field_words(seen: FieldSlice) -> str:
    """What the picture shows."""
    return (
        f"At {seen.frequency:g} Hz the box takes {seen.loss:.0f} dB ({seen.case}). Level of the sound over the middle "
        "of the box against the wave that arrives at the inlet; dark is loud."
    )


def _panel(picture: BoxPicture, seen: FieldSlice, view: View) -> Iterator[Item]:
    prism = picture.made.prism
    raster = contours.raster(seen, prism.length, prism.height)
    lines, step = contours.lines(raster, view), contours.figure_step(raster)
    profile = box_parts.inside(picture, view)
    yield Clipped(within=(profile,), items=(*contours.areas(raster, view), *contours.strokes(lines, step)))
    yield from box_parts.boards(picture, view)
    yield from box_parts.mouths(picture, view, STUB)
    yield from (_on_field(item) for item in box_parts.flexible(picture, view))
    yield from _way_in(picture, view)
    yield from contours.figures(lines, step, _bounds(profile), silent(seen, view))


def _on_field(item: Item) -> Item:
    """A line that lies on the field, whose colours stay when the page goes dark."""
    return (
        Stroke(points=item.points, colour="#40342e", width=0.25, dash=item.dash) if isinstance(item, Stroke) else item
    )


def _bounds(ring: tuple[tuple[float, float], ...]) -> Rectangle:
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _way_in(picture: BoxPicture, view: View) -> Iterator[Item]:
    """An arrow along the way of the sound, before the inlet."""
    port = picture.made.prism.ports[0]
    out = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "floor": (0.0, 1.0), "ceiling": (0.0, -1.0)}.get(port.face)
    if out is None:
        return
    x, y = view.at(port.centre[0], port.centre[2])
    reach = STUB + ARROW
    tail, tip = (x + reach * out[0], y + reach * out[1]), (x + 1.0 * out[0], y + 1.0 * out[1])
    yield Stroke(points=(tail, tip), width=0.7, colour="#1c4b7a")
    wings = [(tip[0] + 2.4 * out[0] - s * 1.3 * out[1], tip[1] + 2.4 * out[1] + s * 1.3 * out[0]) for s in (-1, 1)]
    yield Area(rings=((tip, wings[0], wings[1]),), fill="#1c4b7a")


def _legend(frame: BoxFrame) -> tuple[list[Item], float]:
    """The colours with their levels."""
    y = frame.bottom + 5.0
    words = "Level, dB against the wave arriving at the inlet (arrow); a line every 3 dB"
    lines = wrapped(words, (frame.wide - 2.0 * EDGE) * frame.scale, LETTERS * frame.scale)
    items: list[Item] = []
    for row in lines:
        items.append(Text(at=(EDGE, y), text=row, size=LETTERS))
        y += 1.35 * LETTERS
    shades, bounds = palette.colours(), palette.edges()
    wide = (frame.wide - 2.0 * EDGE) / len(shades)
    y -= 1.5
    for index, colour in enumerate(shades):
        ring = rectangle(EDGE + index * wide, y, EDGE + (index + 1) * wide, y + 4.0)
        items.append(Area(rings=(ring,), fill=colour))
    outline = rectangle(EDGE, y, frame.wide - EDGE, y + 4.0)
    items.append(Stroke(points=(*outline, outline[0]), width=0.2))
    step = 6.0 if frame.wide > 100.0 else 12.0
    for index, bound in enumerate(bounds):
        if bound % step == 0.0:
            at = (EDGE + (index + 1) * wide, y + 4.0 + 1.3 * LETTERS)
            items.append(Text(at=at, text=f"{bound:.0f}".replace("-", "−"), size=LETTERS, anchor="middle"))
    return items, y + 4.0 + 1.3 * LETTERS + 2.0
