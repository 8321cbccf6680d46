"""The section of a box and the box from outside, with inside sizes, and handles on what can be moved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sordino.assess.box_picture import BoxPicture
from sordino.report.drawing import box_parts, dimension
from sordino.report.drawing.box_notes import box_notes
from sordino.report.drawing.records import WIDEST_LETTER, Item, Text
from sordino.report.drawing.view import View
from sordino.units import System, show
from sordino.web.pictures import marks, recorded
from sordino.web.pictures.box_frame import STUB, BoxFrame, box_frame, joins
from sordino.web.pictures.box_handles import grip, handles
from sordino.web.pictures.box_plan import Plan, across, plan, plan_items

LETTERS = box_parts.DUCT_LETTERS
LINE, TOP = 4.5, 4.0
"""From the casing to a dimension line, and over the picture, mm."""
SHORT = {"inlet": "in", "outlet": "out"}


def box_section(picture: BoxPicture, name: str, units: System, narrow: bool = False) -> str:
    """The picture of one box."""
    words = _words(picture, units, narrow)
    frame = _frame(picture, units, words, narrow)
    seen = plan(picture, frame, frame.bottom + LINE + 3.5)
    drawn = recorded.shown(
        [*_items(picture, frame, units, words, narrow), *_plan(picture, frame, seen, units, words)],
        frame.scale,
        marks.ident("section", name, "n" if narrow else "w"),
    )
    metres = 1.0 / (frame.view.scale * frame.scale)
    grips = [grip(each, name, _px(frame, frame.view, each.at), metres, units) for each in handles(picture)]
    width = across(picture)
    grips.append(grip(width, name, _px(frame, seen.view, width.at), metres, units))
    told = " ".join(box_notes(picture, units))
    size = frame.wide_px, seen.bottom * frame.scale
    return marks.picture(*size, f"Section of box {name}", told, [drawn, *grips], name="section", live=True)


def _px(frame: BoxFrame, view: View, at: tuple[float, float]) -> marks.XY:
    x, y = view.at(*at)
    return x * frame.scale, y * frame.scale


def _words(picture: BoxPicture, units: System, narrow: bool) -> float:
    """Room for a duct and its words, mm."""
    longest = 3 if narrow else max(len("outlet"), len(picture.section.shown(units)))
    return STUB + 2.5 + longest * LETTERS * WIDEST_LETTER


def _frame(picture: BoxPicture, units: System, words: float, narrow: bool) -> BoxFrame:
    """Figures of height and width stand along their lines where those are long enough, else beside them."""
    prism = picture.made.prism
    long = max(_long(prism.height, units), _long(prism.width, units))
    frame = box_frame(picture, narrow, TOP, _sides(picture, words, LETTERS))
    fits = long <= min(prism.height, prism.width) * frame.view.scale
    return frame if fits else box_frame(picture, narrow, TOP, _sides(picture, words, LETTERS + long))


def _long(size: float, units: System) -> float:
    return len(show(size, "length", units)) * LETTERS * WIDEST_LETTER


def _sides(picture: BoxPicture, words: float, figure: float) -> tuple[float, float]:
    """Room at both ends: ducts with words, and the height beyond them."""
    left, right = (words if joins(picture, face) else 0.0 for face in ("left", "right"))
    more = LINE + figure
    return (left + more, right) if _height_left(picture) else (left, right + more)


def _height_left(picture: BoxPicture) -> bool:
    return joins(picture, "right") and not joins(picture, "left")


def _items(picture: BoxPicture, frame: BoxFrame, units: System, words: float, narrow: bool) -> Iterator[Item]:
    view, prism = frame.view, picture.made.prism
    yield box_parts.fibre(picture, view)
    yield from box_parts.boards(picture, view)
    yield from box_parts.mouths(picture, view, STUB)
    yield from box_parts.flexible(picture, view)
    yield from _labels(picture, frame, units, narrow)
    floor = frame.bottom + LINE
    yield from dimension.along(view.at(0.0, 0.0), view.at(prism.length, 0.0), floor, prism.length, units)
    yield from _upright(picture, frame, units, words, frame.view, (0.0, prism.height))


def _labels(picture: BoxPicture, frame: BoxFrame, units: System, narrow: bool) -> Iterator[Text]:
    """Names of the ducts, with sizes where there is room; that of a duct before or behind the section lies over it."""
    for label in box_parts.mouth_labels(picture, frame.view, STUB, units):
        if label.plate:
            up = frame.view.scale * picture.section.height / 2.0 + 1.2
            x = min(max(label.at[0], label.length / 2.0 + 1.0), frame.wide - label.length / 2.0 - 1.0)
            yield replace(label, at=(x, label.at[1] - up))
        elif not narrow:
            yield label
        elif label.text in SHORT:
            yield replace(label, text=SHORT[label.text])


def _plan(picture: BoxPicture, frame: BoxFrame, seen: Plan, units: System, words: float) -> Iterator[Item]:
    """The box from outside, with the size that the section lacks."""
    yield from plan_items(picture, seen)
    yield from _upright(picture, frame, units, words, seen.view, (-picture.made.prism.width, 0.0))


def _upright(
    picture: BoxPicture, frame: BoxFrame, units: System, words: float, view: View, between: tuple[float, float]
) -> Iterator[Item]:
    """An inside size beyond the ducts' words, at the end that has fewer of them."""
    prism, left, size = picture.made.prism, _height_left(picture), between[1] - between[0]
    lower, upper = (view.at(0.0 if left else prism.length, z) for z in between)
    away = frame.deep + LINE + (words if joins(picture, "left" if left else "right") else 0.0)
    beside = _long(size, units) > lower[1] - upper[1]
    at = lower[0] - away - (_long(size, units) if beside else 0.0) if left else lower[0] + away
    yield from dimension.upright(lower, upper, at, size, units)
