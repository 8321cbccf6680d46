"""The runs of a project one under another: where each begins and ends, its parts in order, its size and flows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sordino.report.drawing.boards import moved
from sordino.report.drawing.records import Area, Item, Sheet, Stroke, Text, rectangle
from sordino.report.drawing.view import wrapped

HEAD, NOTE = 2.6, 1.9
ENDS = 30.0
"""Room for the name of a place, mm."""
INK = "#222222"


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """One run in words: its head, its two ends, and its parts by kind and label."""

    name: str
    told: str
    start: str
    end: str
    parts: tuple[tuple[str, str], ...]


def schematic(lines: Sequence[Line], room: tuple[float, float], title: str) -> tuple[Sheet, ...]:
    """As many sheets as the runs take."""
    pages, items, y = list[Sheet](), list[Item](), 0.0
    for line in lines:
        row, height = _row(line, room[0])
        if y > 0.0 and y + height > room[1]:
            pages.append(_sheet(items, room, title))
            items, y = [], 0.0
        items += [moved(item, 0.0, y) for item in row]
        y += height
    return (*pages, _sheet(items, room, title))


def _sheet(items: list[Item], room: tuple[float, float], title: str) -> Sheet:
    return Sheet(width=room[0], height=room[1], title=title, description=title, items=tuple(items))


def _row(line: Line, width: float) -> tuple[list[Item], float]:
    told = wrapped(line.told, int((width - len(line.name) * HEAD * 0.61 - 4.0) / (NOTE * 0.61)))
    items: list[Item] = [Text(at=(0.0, HEAD), text=line.name, size=HEAD, bold=True)]
    for row, words in enumerate(told):
        at = (len(line.name) * HEAD * 0.61 + 3.0, HEAD + row * 1.3 * NOTE)
        items.append(Text(at=at, text=words, size=NOTE))
    y = HEAD + 1.3 * NOTE * (len(told) - 1) + 6.5
    items.append(Stroke(points=((ENDS, y), (width - ENDS, y)), width=0.3))
    low = max(_end(items, line.start, 0.0, y), _end(items, line.end, width - ENDS, y))
    each = (width - 2.0 * ENDS) / max(len(line.parts), 1)
    for index, (kind, label) in enumerate(line.parts):
        x = ENDS + (index + 0.5) * each
        items += sign(kind, x, y)
        for row, words in enumerate(wrapped(label, max(int((each - 1.0) / (NOTE * 0.61)), 4))):
            at = (x, y + 4.0 + NOTE + row * 1.3 * NOTE)
            items.append(Text(at=at, text=words, size=NOTE, anchor="middle", bold=kind == "lined box"))
            low = max(low, at[1])
    return items, low + 5.0


def _end(items: list[Item], words: str, x: float, y: float) -> float:
    """A place in a frame; its lowest point."""
    lines = wrapped(words, int((ENDS - 3.0) / (NOTE * 0.61)))
    half = (len(lines) * 1.3 * NOTE + 2.0) / 2.0
    items.append(Area(rings=(rectangle(x + 0.5, y - half, x + ENDS - 0.5, y + half),), stroke=INK, width=0.25))
    for row, line in enumerate(lines):
        at = (x + ENDS / 2.0, y - half + 1.0 + NOTE * (0.9 + 1.3 * row))
        items.append(Text(at=at, text=line, size=NOTE, anchor="middle"))
    return y + half


def sign(kind: str, x: float, y: float) -> Iterator[Item]:
    """The sign of one kind of part; kinds without one of their own are a plain frame."""
    frame = rectangle(x - 3.2, y - 2.0, x + 3.2, y + 2.0)
    if kind in ("metal duct", "lined duct"):
        yield Area(rings=(rectangle(x - 4.0, y - 1.1, x + 4.0, y + 1.1),), fill="#ffffff", stroke=INK, width=0.3)
        return
    if kind == "flexible duct":
        points = tuple((x - 4.0 + step, y + (1.2 if step % 2 else -1.2)) for step in range(9))
        yield Area(rings=(rectangle(x - 4.0, y - 0.4, x + 4.0, y + 0.4),), fill="#ffffff")
        yield Stroke(points=points, width=0.3)
        return
    if kind == "bend":
        yield Area(rings=(rectangle(x - 2.2, y - 2.2, x + 2.2, y + 2.2),), fill="#ffffff")
        yield Stroke(points=((x - 2.2, y), (x, y), (x + 2.0, y - 2.0)), width=0.6)
        return
    if kind == "damper":
        turns = tuple((x + 2.0 * c, y + 2.0 * s) for c, s in _CIRCLE)
        yield Area(rings=(turns,), fill="#ffffff", stroke=INK, width=0.3)
        yield Stroke(points=((x - 1.4, y + 1.4), (x + 1.4, y - 1.4)), width=0.3)
        return
    yield Area(rings=(frame,), fill="#ffffff", stroke=INK, width=0.6 if kind == "lined box" else 0.3)
    if kind == "lined box":
        yield Area(rings=(frame,), fibre=True)
        yield Area(rings=(rectangle(x - 3.2, y - 0.8, x + 3.2, y + 0.8),), fill="#ffffff", stroke=INK, width=0.2)
    elif kind in ("grille", "open end"):
        for step in range(-2, 3):
            yield Stroke(points=((x + 1.1 * step, y - 2.0), (x + 1.1 * step, y + 2.0)), width=0.2)
    elif kind == "filter":
        points = tuple((x - 3.2 + 1.07 * step, y + (2.0 if step % 2 else -2.0)) for step in range(7))
        yield Stroke(points=points, width=0.2)
    elif kind == "transition":
        yield Stroke(points=((x - 3.2, y - 0.8), (x + 3.2, y - 2.0)), width=0.2)
        yield Stroke(points=((x - 3.2, y + 0.8), (x + 3.2, y + 2.0)), width=0.2)


_CIRCLE = (
    *((1.0, 0.0), (0.92, 0.38), (0.71, 0.71), (0.38, 0.92), (0.0, 1.0), (-0.38, 0.92), (-0.71, 0.71), (-0.92, 0.38)),
    *((-1.0, 0.0), (-0.92, -0.38), (-0.71, -0.71), (-0.38, -0.92), (0.0, -1.0), (0.38, -0.92), (0.71, -0.71)),
    (0.92, -0.38),
)
