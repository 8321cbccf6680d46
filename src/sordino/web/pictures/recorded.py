"""Drawings recorded for paper, shown on the page in its own colours."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from sordino.report.drawing import box_parts, palette
from sordino.report.drawing.records import Area, Clipped, Item, Stroke, Text
from sordino.web.pictures import marks

COLOURS = {
    box_parts.SHEETING["board"]: "board",
    box_parts.SHEETING["cavity"]: "cavity",
    box_parts.DIVIDER: "divider",
    box_parts.FIBRE_EDGE: "fibre",
    "#222222": "ink",
    "#ffffff": "hollow",
    "#1c4b7a": "deed",
    "#40342e": "contour",
    "#7d6c62": "contour-faint",
    "none": "none",
}
"""Class for each colour of a drawing on paper; `fill-` or `line-` goes before it."""


def shown(items: Iterable[Item], scale: float, name: str, on_field: bool = False) -> str:
    """Items in mm of paper as marks in px; `name` keeps apart the patterns of two drawings on one page.

    Lettering on plates lies `on_field` in colours that stay when the page goes dark.
    """
    inner = "".join(_item(item, f"{name}-{index}", name, on_field) for index, item in enumerate(items))
    return (
        f'<defs><pattern id="{name}-fibre" width="3" height="2" patternUnits="userSpaceOnUse">'
        f'<path d="M0 1 Q0.75 0.2 1.5 1 T3 1" class="fibre-wave"/></pattern></defs>'
        + marks.element("g", inner, transform=f"scale({marks.number(scale)})", class_="drawn")
    )


def _item(item: Item, key: str, name: str, on_field: bool) -> str:
    if isinstance(item, Clipped):
        ring = "".join(marks.path(ring) + "Z" for ring in item.within)
        inner = "".join(_item(each, key, name, on_field) for each in item.items)
        return f'<clipPath id="{key}"><path d="{ring}"/></clipPath><g clip-path="url(#{key})">{inner}</g>'
    if isinstance(item, Area):
        return _area(item, name)
    return _stroke(item) if isinstance(item, Stroke) else _text(item, on_field)


def _area(area: Area, name: str) -> str:
    d = "".join(marks.path(ring) + "Z" for ring in area.rings)
    faint: dict[str, float] = {"opacity": area.opacity} if area.opacity < 1.0 else {}
    if area.fibre:
        return marks.element("path", d=d, fill=f"url(#{name}-fibre)", fill_rule="evenodd", **faint)
    if area.fill in palette.colours():
        return marks.element("path", d=d, fill=area.fill, fill_rule="evenodd")
    edge = f"line-{COLOURS[area.stroke]}" if area.width else "line-none"
    given = {"stroke_width": area.width} if area.width else {}
    return marks.element("path", d=d, fill_rule="evenodd", class_=f"fill-{COLOURS[area.fill]} {edge}", **given, **faint)


def _stroke(stroke: Stroke) -> str:
    dash = {"stroke_dasharray": " ".join(marks.number(part) for part in stroke.dash)} if stroke.dash else {}
    classes = f"fill-none line-{COLOURS[stroke.colour]}"
    return marks.element("path", d=marks.path(stroke.points), class_=classes, stroke_width=stroke.width, **dash)


def _text(text: Text, on_field: bool) -> str:
    x, y = text.at
    turn = {"transform": f"rotate(-90 {marks.number(x)} {marks.number(y)})"} if text.upright else {}
    line = marks.element(
        "text",
        escape(text.text),
        x=x,
        y=y,
        font_size=text.size,
        text_anchor=text.anchor,
        class_="on-field" if text.plate and on_field else "ink",
        **turn,
    )
    left, upper, right, lower = text.box
    return (
        marks.bar(left, upper, right - left, lower - upper, class_="field-plate" if on_field else "plate") + line
        if text.plate
        else line
    )
