"""Boards as they are cut: each with its outline, holes, sizes, bevels and label, all of a box to one scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sordino.build.part import Part, Stick
from sordino.report.drawing.bodies import hole_ring
from sordino.report.drawing.lists import apart
from sordino.report.drawing.measures import ROW, figure, fitting_scale, level, measure, pair, scale_words, standing
from sordino.report.drawing.records import XY, Area, Clipped, Item, Ring, Sheet, Stroke, Text
from sordino.report.drawing.view import View, wrapped
from sordino.units import System

HEAD, NOTE, SMALL = 2.9, 2.1, 2.2
GAP = 6.0
"""Between two boards on a page, mm."""
LARGEST = (78.0, 70.0)
"""Room for one board without its sizes, mm."""
NARROWEST = 84.0
"""Width that a board's words want, mm."""
BREAK = (2.2, 1.2)


@dataclass(frozen=True, kw_only=True, slots=True)
class Cell:
    """One board or stick drawn, from its own upper left corner."""

    width: float
    height: float
    items: tuple[Item, ...]


def board_sheets(parts: Sequence[Part], room: XY, title: str, units: System) -> tuple[Sheet, ...]:
    """Every board of a box on as many sheets as it takes."""
    size = (max(part.size[0] for part in parts), max(part.size[1] for part in parts))
    scale = fitting_scale(size, LARGEST, units)
    cells = [board(part, scale, units) for part in parts]
    return tuple(
        Sheet(
            width=room[0],
            height=room[1],
            title=f"{title}, {scale_words(scale)}",
            description=f"{title}: boards as they are cut",
            items=tuple(items),
        )
        for items in shelved(cells, room)
    )


def shelved(cells: Sequence[Cell], room: XY) -> Iterator[list[Item]]:
    """Cells side by side in rows, rows under one another, page by page."""
    items, x, y, tall = list[Item](), 0.0, 0.0, 0.0
    for cell in cells:
        if x > 0.0 and x + cell.width > room[0]:
            x, y, tall = 0.0, y + tall + GAP, 0.0
        if y > 0.0 and y + cell.height > room[1]:
            yield items
            items, x, y, tall = [], 0.0, 0.0, 0.0
        items += [moved(item, x, y) for item in cell.items]
        x, tall = x + cell.width + GAP, max(tall, cell.height)
    yield items


def moved(item: Item, dx: float, dy: float) -> Item:
    """The same elsewhere on the paper."""
    if isinstance(item, Text):
        return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
    if isinstance(item, Stroke):
        return replace(item, points=_moved(item.points, dx, dy))
    if isinstance(item, Area):
        return replace(item, rings=tuple(_moved(ring, dx, dy) for ring in item.rings))
    inside = [moved(each, dx, dy) for each in item.items]
    return Clipped(
        within=tuple(_moved(ring, dx, dy) for ring in item.within),
        items=tuple(each for each in inside if isinstance(each, Area | Stroke)),
    )


def _moved(ring: Ring, dx: float, dy: float) -> Ring:
    return tuple((x + dx, y + dy) for x, y in ring)


def board(part: Part, scale: float, units: System) -> Cell:
    """One board seen from its outer side: words over it, running sizes from its lower left corner."""
    wide, high = (side / scale for side in part.size)
    marks = [_marks(part, axis) for axis in (0, 1)]
    left = 2.6 + (ROW + 0.4) * len(marks[1])
    width = max(left + wide + _overhang(marks[0], part, scale, units), NARROWEST)
    words = list(_words(part, int(width / (NOTE * 0.61)), units))
    top = HEAD + 1.2 + 1.35 * NOTE * len(words) + 2.6 + _above(marks[1], scale, units)
    view = View(left=left, lower=top + high, scale=1.0 / scale)
    items: list[Item] = [Text(at=(0.0, HEAD), text=part.label, size=HEAD, bold=True)]
    items += [
        Text(at=(0.0, HEAD + 1.2 + 1.35 * NOTE * (row + 1)), text=line, size=NOTE) for row, line in enumerate(words)
    ]
    items += _shape(part, view, units)
    items += _sizes(marks, view, units)
    return Cell(width=width, height=view.lower + 2.6 + ROW * len(marks[0]), items=tuple(apart(items)))


def _words(part: Part, letters: int, units: System) -> Iterator[str]:
    where = part.face if part.kind == "divider" else f"{part.face}, layer {part.level + 1}"
    yield from wrapped(f"{where}: {part.board} {measure(part.thickness, units)}, {pair(part.size, units)}", letters)
    if part.bevelled:
        for index, edge in enumerate(part.edges, 1):
            if abs(edge.bevel) > 0.05:
                long = "inner" if edge.bevel > 0.0 else "outer"
                told = f"edge {index}, to the {edge.meets}: bevel {abs(edge.bevel):.1f}°, {long} side long"
                yield from wrapped(told, letters)


def _marks(part: Part, axis: int) -> tuple[float, ...]:
    """Places along one side that a size is wanted of, mm from the lower left corner."""
    corners = [point[axis] for point in part.outline]
    found = {round(value, 3) for value in (*corners, *(hole.centre[axis] for hole in part.holes))}
    return tuple(sorted(value for value in found if value > 0.05))


def _overhang(marks: tuple[float, ...], part: Part, scale: float, units: System) -> float:
    """Room right of a board for figures that are longer than their lines, mm."""
    over = 0.0
    for mark in marks:
        words = Text(at=(0.0, 0.0), text=figure(mark, units), size=SMALL).length
        if words > mark / scale:
            over = max(over, (mark - part.size[0]) / scale + 1.8 + words)
    return over + 1.0


def _above(marks: tuple[float, ...], scale: float, units: System) -> float:
    """Room over a board for figures that are longer than their lines, mm."""
    over = 0.0
    for mark in marks:
        words = Text(at=(0.0, 0.0), text=figure(mark, units), size=SMALL).length
        if words > mark / scale:
            over = max(over, words + 2.0 - (marks[-1] - mark) / scale)
    return over


def _shape(part: Part, view: View, units: System) -> Iterator[Item]:
    holes = [view.ring(hole_ring(part, index, 96)) for index in range(len(part.holes))]
    yield Area(rings=(view.ring(part.outline), *holes), fill="#f4f2ee", stroke="#222222", width=0.3)
    if part.bevelled:
        for ring in (part.inner, part.outer):
            if ring != part.outline:
                closed = view.ring((*ring, ring[0]))
                yield Stroke(points=closed, width=0.15, dash=BREAK)
        yield from _edge_numbers(part, view)
    for hole in part.holes:
        x, y = view.at(*hole.centre)
        arm = 2.0
        yield Stroke(points=((x - arm, y), (x + arm, y)), width=0.13)
        yield Stroke(points=((x, y - arm), (x, y + arm)), width=0.13)
        size = (
            f"Ø {figure(hole.diameter, units)}"
            if hole.diameter is not None
            else " x ".join(figure(side, units) for side in hole.whole) + (" ellipse" if hole.axes else "")
        )
        text = Text(at=(x, y + arm + SMALL + 0.4), text=size, size=SMALL, anchor="middle")
        if text.length > 1.6 * hole.half[0] * view.scale:
            low = y + hole.half[1] * view.scale
            text = replace(text, at=(x, low + SMALL + 0.5), plate=True)
        yield text
    yield from _grain(part, view)


def _edge_numbers(part: Part, view: View) -> Iterator[Item]:
    """Numbers of the edges, a little inside."""
    ring = view.ring(part.outline)
    middle = tuple(sum(point[axis] for point in ring) / len(ring) for axis in (0, 1))
    for index, edge in enumerate(part.edges):
        if abs(edge.bevel) <= 0.05:
            continue
        a, b = ring[index], ring[(index + 1) % len(ring)]
        # off the middle: edges that face each other run opposite ways, so their numbers keep apart on a narrow board
        at = (a[0] + 0.35 * (b[0] - a[0]), a[1] + 0.35 * (b[1] - a[1]))
        away = ((at[0] - middle[0]) ** 2 + (at[1] - middle[1]) ** 2) ** 0.5 or 1.0
        share = 1.0 - min(4.5 / away, 0.45)
        place = (middle[0] + share * (at[0] - middle[0]), middle[1] + share * (at[1] - middle[1]) + 0.35 * SMALL)
        yield Text(at=place, text=str(index + 1), size=SMALL, anchor="middle", bold=True, plate=True)


def _grain(part: Part, view: View) -> Iterator[Item]:
    """An arrow with two heads along the grain, in the corner at the upper right."""
    if part.grain == "none":
        return
    us, vs = ([point[axis] for point in part.outer] for axis in (0, 1))
    room = min((max(us) - min(us)) * view.scale, (max(vs) - min(vs)) * view.scale)
    long, inset = min(9.0, 0.5 * room), min(2.2, 0.2 * room)
    x, y = view.at(max(us), min(vs))
    x, y = x - inset, y - inset
    if part.grain == "u":
        ends, wing = ((x - long, y), (x, y)), ((1.4, 0.6), (1.4, -0.6))
    else:
        ends, wing = ((x, y), (x, y - long)), ((0.6, -1.4), (-0.6, -1.4))
    yield Stroke(points=ends, width=0.2)
    for dx, dy in wing:
        yield Stroke(points=(ends[0], (ends[0][0] + dx, ends[0][1] + dy)), width=0.2)
        yield Stroke(points=(ends[1], (ends[1][0] - dx, ends[1][1] - dy)), width=0.2)


def _sizes(marks: list[tuple[float, ...]], view: View, units: System) -> Iterator[Item]:
    for row, mark in enumerate(marks[0], 1):
        yield from level(view.at(0.0, 0.0), view.at(mark, 0.0), view.lower + 1.6 + ROW * row, figure(mark, units))
    for row, mark in enumerate(marks[1], 1):
        x = view.left - 0.8 - (ROW + 0.4) * row + 1.2
        yield from standing(view.at(0.0, 0.0), view.at(0.0, mark), x, figure(mark, units))


def ripped(stick: Stick, units: System) -> Cell:
    """The section of a stick that is not square, at true size where it fits."""
    scale = fitting_scale(stick.size, (40.0, 40.0), units)
    us, vs = ([corner[axis] for corner in stick.section] for axis in (0, 1))
    wide, high = stick.size
    top = HEAD + 2.0 * 1.35 * NOTE + 4.0
    view = View(left=ROW + 4.0 - min(us) / scale, lower=top + high / scale + min(vs) / scale, scale=1.0 / scale)
    low, right = view.at(min(us), min(vs)), view.at(max(us), min(vs))
    items: list[Item] = [
        Text(at=(0.0, HEAD), text=f"{stick.label}, {scale_words(scale)}", size=HEAD, bold=True),
        Text(at=(0.0, HEAD + 1.2 + 1.35 * NOTE), text=f"{measure(stick.length, units)} long", size=NOTE),
        Area(rings=(view.ring(stick.section),), fill="#ffffff", stroke="#222222", width=0.3),
        *level(low, right, low[1] + 1.6 + ROW, figure(wide, units)),
        *standing(low, view.at(min(us), max(vs)), view.at(min(us), 0.0)[0] - 2.0, figure(high, units)),
    ]
    return Cell(width=48.0, height=low[1] + 2.6 + ROW, items=tuple(items))
