"""Labels in columns beside a drawing, each with a line to what it names; and labels that make room for others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sordino.report.drawing.records import XY, Area, Item, Stroke, Text, meet, rectangle

APART, LETTERS = 4.1, 2.3
SHIFTS = sorted(
    ((2.4 * x, 2.4 * y) for x in range(-5, 6) for y in range(-5, 6)), key=lambda shift: shift[0] ** 2 + shift[1] ** 2
)
"""Ways to move a label, the shortest first, mm."""
Named = tuple[str, XY, bool]
"""A label, the point it names, and whether that point is seen; the mark of a hidden one is hollow."""


def beside(named: Sequence[Named], left: float, right: float, top: float, bottom: float) -> Iterator[Item]:
    """Each label at the nearer of two columns; those at `left` end there, those at `right` begin there."""
    middle = (left + right) / 2.0
    ordered = sorted(named, key=lambda one: one[1][0])
    half = max(sum(1 for _, at, _ in ordered if at[0] < middle), 0)
    most = int((bottom - top) / APART)
    half = min(max(half, len(ordered) - most), most)
    yield from _column(ordered[:half], left, top, bottom, "end")
    yield from _column(ordered[half:], right, top, bottom, "start")


def _column(named: Sequence[Named], x: float, top: float, bottom: float, anchor: str) -> Iterator[Item]:
    by_height = sorted(named, key=lambda one: one[1][1])
    places = _spread([at[1] for _, at, _ in by_height], top, bottom)
    for (label, at, seen), y in zip(by_height, places, strict=True):
        start = (x + 1.0, y - 0.35 * LETTERS) if anchor == "end" else (x - 1.0, y - 0.35 * LETTERS)
        yield Stroke(points=(start, at), width=0.13)
        mark = rectangle(at[0] - 0.45, at[1] - 0.45, at[0] + 0.45, at[1] + 0.45)
        yield Area(rings=(mark,), fill="#222222" if seen else "#ffffff", stroke="#222222", width=0.13)
        if anchor == "end":
            yield Text(at=(x, y), text=label, size=LETTERS, anchor="end", bold=True)
        else:
            yield Text(at=(x, y), text=label, size=LETTERS, anchor="start", bold=True)


def _spread(wanted: Sequence[float], top: float, bottom: float) -> list[float]:
    """Heights in the order wanted, none nearer to the next than a line of lettering."""
    places = list[float]()
    for height in wanted:
        places.append(max(height, top if not places else places[-1] + APART))
    over = places[-1] - bottom if places else 0.0
    for index in range(len(places) - 1, -1, -1):
        most = bottom - (len(places) - 1 - index) * APART
        if over > 0.0:
            places[index] = min(places[index], most)
    return places


def apart(items: Sequence[Item]) -> list[Item]:
    """The same items, lettering on a plate moved a little where it would lie on other lettering."""
    texts = [item for item in items if isinstance(item, Text)]
    fixed = [text.box for text in texts if not text.plate]
    done = list[Item]()
    for item in items:
        if isinstance(item, Text) and item.plate:
            places = (replace(item, at=(item.at[0] + dx, item.at[1] + dy)) for dx, dy in SHIFTS)
            item = next((one for one in places if not any(meet(one.box, box) for box in fixed)), item)
            fixed.append(item.box)
        done.append(item)
    return done
