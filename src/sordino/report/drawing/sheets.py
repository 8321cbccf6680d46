"""Sheets and bars of the stock with what is cut from them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sordino.build.cutting.records import Bar, Layout, Placed
from sordino.report.drawing.boards import moved
from sordino.report.drawing.bodies import hole_ring
from sordino.report.drawing.exploded import short
from sordino.report.drawing.measures import figure, fitting_scale, scale_words
from sordino.report.drawing.records import XY, Area, Item, Rectangle, Ring, Sheet, Stroke, Text, meet, rectangle
from sordino.report.drawing.view import View
from sordino.units import System

HEAD, LETTERS = 2.8, 2.1
SMALLEST = 1.7


def layout_sheet(layout: Layout, room: XY, units: System) -> Sheet:
    """One sheet: its parts with labels and sizes, offcuts worth keeping hatched, and the saw cuts with numbers."""
    stock = layout.sheet
    scale = fitting_scale((stock.length, stock.width), (room[0] - 2.0, room[1] - 10.0), units)
    view = View(left=1.0, lower=7.0 + stock.width / scale, scale=1.0 / scale)
    head = f"{layout.label}: {stock.name}, {scale_words(scale)}"
    items: list[Item] = [
        Text(at=(0.0, HEAD), text=head, size=HEAD, bold=True),
        Area(rings=(_box(view, 0.0, 0.0, stock.length, stock.width),), fill="#ffffff", stroke="#222222", width=0.4),
    ]
    for rest in layout.offcuts:
        if rest.kept:
            items += _offcut(view, rest.x, rest.y, rest.length, rest.width, units)
    for one in layout.placed:
        items += _placed(one, view, units)
    for cut in layout.cuts:
        items.append(Stroke(points=(view.at(*cut.first), view.at(*cut.last)), width=0.12, dash=(1.6, 0.8)))
    taken = [item.box for item in items if isinstance(item, Text)]
    for cut in layout.cuts:
        items += _number(cut.number, view.at(*cut.first), view.at(*cut.last), taken)
    return Sheet(width=room[0], height=view.lower + 2.0, title=head, description=head, items=tuple(items))


def _box(view: View, x: float, y: float, length: float, width: float) -> Ring:
    return view.ring(((x, y), (x + length, y), (x + length, y + width), (x, y + width)))


def _offcut(view: View, x: float, y: float, length: float, width: float, units: System) -> Iterator[Item]:
    ring = _box(view, x, y, length, width)
    (left, low), (right, _), (_, high), _ = ring
    for step in range(1, int((right - left + low - high) / 3.0) + 1):
        # slanting lines from the left or upper edge to the lower or right one
        a = (left + 3.0 * step, high) if 3.0 * step <= right - left else (right, high + 3.0 * step - (right - left))
        b = (left, high + 3.0 * step) if 3.0 * step <= low - high else (left + 3.0 * step - (low - high), low)
        yield Stroke(points=(a, b), width=0.06)
    words = ("keep", f"{figure(length, units)} x {figure(width, units)}")
    for text in _lettered(words, (left, high, right, low)):
        yield replace(text, plate=True)


def _placed(one: Placed, view: View, units: System) -> Iterator[Item]:
    length, width = one.size
    ring = view.ring(one.outline)
    holes = [view.ring(tuple(one.at(point) for point in hole_ring(one.part, i))) for i in range(len(one.part.holes))]
    yield Area(rings=(_box(view, one.x, one.y, length, width),), fill="#ffffff", stroke="#222222", width=0.1)
    yield Area(rings=(ring, *holes), fill="#efece6", stroke="#222222", width=0.3)
    (left, low), (right, _), (_, high), _ = _box(view, one.x, one.y, length, width)
    u, v = one.part.size
    words = (one.label, f"{figure(u, units)} x {figure(v, units)}")
    yield from _lettered(words, (left, high, right, low), tuple(_extent(ring) for ring in holes))


def _extent(ring: Ring) -> Rectangle:
    xs, ys = ([point[axis] for point in ring] for axis in (0, 1))
    return min(xs), min(ys), max(xs), max(ys)


def _lettered(words: tuple[str, str], room: Rectangle, holes: tuple[Rectangle, ...] = ()) -> Iterator[Text]:
    """Two lines off all holes, in the middle of a room if they can; the first alone, or its end, in a small room."""
    left, upper, right, lower = room
    wide, high = right - left - 0.8, lower - upper - 0.6
    for size in (LETTERS, SMALLEST):
        for upright in (False, True):
            along, across = (high, wide) if upright else (wide, high)
            for lines in (words, words[:1], (short(words[0]),)):
                longest = max(len(line) for line in lines) * size * 0.61
                if longest > along or 1.3 * size * len(lines) > across:
                    continue
                for share in (0.5, 0.82, 0.18, 0.93, 0.07):
                    middle = _middle((left, upper, right, lower), share, upright, 0.65 * size * len(lines) + 0.4)
                    told = tuple(_set(lines, middle, size, upright))
                    if not any(meet(text.box, hole) for text in told for hole in holes):
                        yield from told
                        return


def _middle(room: Rectangle, share: float, upright: bool, half: float) -> XY:
    """A place for lines whose block is `half` high, at a share of the room across them."""
    left, upper, right, lower = room
    low, high = (left, right) if upright else (upper, lower)
    at = min(max(low + share * (high - low), low + half), high - half)
    return (at, (upper + lower) / 2.0) if upright else ((left + right) / 2.0, at)


def _set(lines: Sequence[str], middle: XY, size: float, upright: bool) -> Iterator[Text]:
    first = 0.38 * size - 0.65 * size * (len(lines) - 1)
    for row, line in enumerate(lines):
        shift = first + 1.3 * size * row
        at = (middle[0] + shift, middle[1]) if upright else (middle[0], middle[1] + shift)
        yield Text(at=at, text=line, size=size, anchor="middle", upright=upright, bold=row == 0)


def _number(number: int, first: XY, last: XY, taken: list[Rectangle]) -> Iterator[Item]:
    """The cut's number on its line, where it hides no other lettering."""
    for share in (0.5, 0.3, 0.7, 0.15, 0.85, 0.05, 0.95):
        x, y = (a + share * (b - a) for a, b in zip(first, last, strict=True))
        told = Text(at=(x, y + 0.38 * SMALLEST), text=str(number), size=SMALLEST, anchor="middle", plate=True)
        if not any(meet(told.box, other) for other in taken):
            taken.append(told.box)
            yield told
            return


def bar_sheets(bars: Sequence[Bar], room: XY, title: str, units: System) -> tuple[Sheet, ...]:
    """Bars one under another, each with its sticks' labels."""
    scale = fitting_scale((max(bar.stock.length for bar in bars), 1.0), (room[0] - 2.0, 1.0), units)
    pages, items, y = list[Sheet](), list[Item](), 0.0
    for bar in bars:
        if y > 0.0 and y + 13.0 > room[1]:
            pages.append(_page(items, room, title, scale))
            items, y = [], 0.0
        items += [moved(item, 0.0, y) for item in _bar(bar, scale, units)]
        y += 14.0
    return (*pages, _page(items, room, title, scale))


def _page(items: list[Item], room: XY, title: str, scale: float) -> Sheet:
    head = f"{title}, {scale_words(scale)}"
    high = max((ring[1] for item in items if isinstance(item, Area) for ring in item.rings[0]), default=room[1])
    return Sheet(width=room[0], height=high + 1.0, title=head, description=head, items=tuple(items))


def _bar(bar: Bar, scale: float, units: System) -> Iterator[Item]:
    top, bottom = 4.0, 11.5
    yield Text(at=(0.0, HEAD), text=f"{bar.label}: {bar.stock.name}", size=2.3, bold=True)
    end = 1.0 + bar.stock.length / scale
    yield Area(rings=(rectangle(1.0, top, end, bottom),), fill="#ffffff", stroke="#222222", width=0.25)
    for one in bar.cut:
        left, right = 1.0 + one.x / scale, 1.0 + (one.x + one.stick.length) / scale
        yield Area(rings=(rectangle(left, top, right, bottom),), fill="#efece6", stroke="#222222", width=0.25)
        yield from _lettered((one.label, figure(one.stick.length, units)), (left, top, right, bottom))
