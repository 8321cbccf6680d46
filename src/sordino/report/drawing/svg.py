"""A drawing as SVG."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from sordino.report.drawing.records import Area, Clipped, Item, Ring, Sheet, Stroke, Text

FONT = "sans-serif"
FIBRE = (
    '<pattern id="fibre" width="3" height="2" patternUnits="userSpaceOnUse"><path d="M0 1 Q0.75 0.2 1.5 1 T3 1" '
    'fill="none" stroke="#3d4f5c" stroke-width="0.12"/></pattern>'
)
PLATE = "#ffffff"


def svg(sheet: Sheet, font: str = FONT) -> str:
    """The text of an SVG file; `font` is the family of all its lettering."""
    size = f"{_n(sheet.width)} {_n(sheet.height)}"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(sheet.width)}mm" height="{_n(sheet.height)}mm" '
        f'viewBox="0 0 {size}" role="img" font-family="{escape(font)}">',
        f"<title>{escape(sheet.title)}</title>",
        f"<desc>{escape(sheet.description)}</desc>",
        f"<defs>{FIBRE}{''.join(_clips(sheet))}</defs>",
        f'<rect width="{_n(sheet.width)}" height="{_n(sheet.height)}" fill="#ffffff"/>',
        *[_item(item, index) for index, item in enumerate(sheet.items)],
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _clips(sheet: Sheet) -> Iterator[str]:
    for index, item in enumerate(sheet.items):
        if isinstance(item, Clipped):
            yield f'<clipPath id="clip{index}"><path d="{_path(item.within)}"/></clipPath>'


def _item(item: Item, index: int) -> str:
    if isinstance(item, Clipped):
        inside = "\n".join(_item(each, index) for each in item.items)
        return f'<g clip-path="url(#clip{index})">\n{inside}\n</g>'
    if isinstance(item, Area):
        return _area(item)
    return _stroke(item) if isinstance(item, Stroke) else _text(item)


def _area(area: Area) -> str:
    fill = "url(#fibre)" if area.fibre else area.fill
    line = f' stroke="{area.stroke}" stroke-width="{_n(area.width)}"' if area.stroke != "none" else ""
    faint = f' opacity="{_n(area.opacity)}"' if area.opacity < 1.0 else ""
    return f'<path d="{_path(area.rings)}" fill="{fill}" fill-rule="evenodd"{line}{faint}/>'


def _stroke(stroke: Stroke) -> str:
    dash = f' stroke-dasharray="{" ".join(_n(part) for part in stroke.dash)}"' if stroke.dash else ""
    d = "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in stroke.points)
    return f'<path d="{d}" fill="none" stroke="{stroke.colour}" stroke-width="{_n(stroke.width)}"{dash}/>'


def _text(text: Text) -> str:
    x, y = text.at
    turn = f' transform="rotate(-90 {_n(x)} {_n(y)})"' if text.upright else ""
    bold = ' font-weight="bold"' if text.bold else ""
    words = (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(text.size)}" text-anchor="{text.anchor}" '
        f'fill="{text.colour}"{bold}{turn}>{escape(text.text)}</text>'
    )
    return f"{_plate(text)}{words}" if text.plate else words


def _plate(text: Text) -> str:
    left, upper, right, lower = text.box
    return (
        f'<rect x="{_n(left)}" y="{_n(upper)}" width="{_n(right - left)}" height="{_n(lower - upper)}" '
        f'fill="{PLATE}" opacity="0.85"/>'
    )


def _path(rings: tuple[Ring, ...]) -> str:
    return "".join("M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in ring) + "Z" for ring in rings)


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"
