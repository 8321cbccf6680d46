"""Two details: how a duct goes through the leaves of a wall or the boards of a box, and how a box hangs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.report.drawing.lists import LETTERS, Named
from sordino.report.drawing.measures import figure, fitting_scale, measure, scale_words
from sordino.report.drawing.records import XY, Area, Item, Ring, Sheet, Stroke, Text, rectangle
from sordino.report.drawing.view import wrapped
from sordino.units import System

FIELD = 84.0
"""Width of a detail without its words, mm."""
LINE = 3.3
SHOWN = 150.0
"""Larger ducts are drawn broken, mm."""
INK, BOARD, STEEL = "#222222", "#efece6", "#d5d5d2"


@dataclass(frozen=True, kw_only=True, slots=True)
class Strip:
    """One layer of what a duct goes through: `board`, `damping` or `cavity`, with its thickness, mm."""

    kind: str
    words: str
    thickness: float


def passage(title: str, strips: tuple[Strip, ...], duct: float, gap: float, room: XY, units: System) -> Sheet:
    """A duct of so many mm across its height through layers from left to right, with `gap` mm all round."""
    through = sum(strip.thickness for strip in strips)
    shown = min(duct, SHOWN)
    scale = fitting_scale((through + 60.0, shown + 70.0), (FIELD - 4.0, room[1] - 10.0), units)
    middle, half = room[1] / 2.0 + 2.0, shown / 2.0 / scale
    left = (FIELD - through / scale) / 2.0
    items = [Text(at=(0.0, 3.0), text=f"{title}, {scale_words(scale)}", size=2.8, bold=True)]
    items_: list[Item] = [*items]
    named, x = list[Named](), left
    top, bottom = 6.5, room[1] - 2.0
    for index, strip in enumerate(strips):
        wide = max(strip.thickness / scale, 0.5)
        items_ += _strip(strip, x, wide, (top, bottom), (middle - half, middle + half))
        height = top + 3.0 + 3.0 * index
        named.append((strip.words, (x + wide / 2.0, height), True))
        x += wide
    items_ += _walls(left - 12.0, x + 12.0, middle, half, shown < duct)
    beads = list(_beads(strips, left, scale, middle, half))
    items_ += [Area(rings=(bead,), fill=INK) for bead in beads]
    if beads:
        hole = figure(duct + 2.0 * gap, units)
        room_words = f"{measure(gap, units)} all round, hole {hole}: packed, then a bead on every leaf, both sides"
        named.append((room_words, beads[-1][0], True))
    named.append((f"duct of {measure(duct, units)}, touching no board", (x + 8.0, middle + half), True))
    if any(strip.kind == "cavity" for strip in strips):
        at = left + sum(max(one.thickness / scale, 0.5) for one in strips[: _cavity(strips)]) + 2.0
        named.append(("fibre round the duct, not squeezed", (at, middle + half + 2.6), True))
    items_ += _named(named, room)
    return Sheet(width=room[0], height=room[1], title=title, description=title, items=tuple(items_))


def _cavity(strips: tuple[Strip, ...]) -> int:
    return next(index for index, strip in enumerate(strips) if strip.kind == "cavity")


def _strip(strip: Strip, x: float, wide: float, ends: XY, duct: XY) -> Iterator[Item]:
    """One layer over and under the duct."""
    for low, high in ((ends[0], duct[0] - 0.8), (duct[1] + 0.8, ends[1])):
        ring = rectangle(x, low, x + wide, high)
        if strip.kind == "cavity":
            near = (high - 6.0, high) if high < duct[0] else (low, low + 6.0)
            yield Area(rings=(rectangle(x, near[0], x + wide, near[1]),), fibre=True, stroke="#3d4f5c", width=0.12)
            yield Stroke(points=((x, low), (x, high)), width=0.1)
            yield Stroke(points=((x + wide, low), (x + wide, high)), width=0.1)
        else:
            yield Area(rings=(ring,), fill=INK if strip.kind == "damping" else BOARD, stroke=INK, width=0.18)


def _walls(left: float, right: float, middle: float, half: float, broken: bool) -> Iterator[Item]:
    for y in (middle - half, middle + half):
        yield Stroke(points=((left, y), (right, y)), width=0.5)
    yield Stroke(points=((left, middle), (right, middle)), width=0.13, dash=(4.0, 0.8, 0.8, 0.8))
    if broken:
        for dy in (-1.0, 1.0):
            yield Stroke(points=((left - 1.0, middle + 4.0 * dy), (left + 1.0, middle + 5.0 * dy)), width=0.2)


def _beads(strips: tuple[Strip, ...], left: float, scale: float, middle: float, half: float) -> Iterator[Ring]:
    """Triangles of sealant where a leaf begins and where it ends, over and under the duct."""
    x, solid_before = left, False
    edges = list[tuple[float, float]]()
    for strip in strips:
        wide = max(strip.thickness / scale, 0.5)
        solid = strip.kind != "cavity"
        if solid and not solid_before:
            edges.append((x, -1.0))
        if not solid and solid_before:
            edges.append((x, 1.0))
        x, solid_before = x + wide, solid
    edges += [(x, 1.0)] if solid_before else []
    for at, way in edges:
        for y, up in ((middle - half, -1.0), (middle + half, 1.0)):
            yield (at, y + 0.2 * up), (at + 1.7 * way, y + 0.2 * up), (at, y + 2.2 * up)


def _named(named: list[Named], room: XY) -> Iterator[Item]:
    """The words in one column at the right, each as near the height of what it names as the others let it."""
    letters = int((room[0] - FIELD - 8.0) / (LETTERS * 0.61))
    rows = [(wrapped(words, letters), at) for words, at, _ in sorted(named, key=lambda one: one[1][1])]
    heights = [LINE * len(lines) + 1.6 for lines, _ in rows]
    y = 8.0
    for index, (lines, at) in enumerate(rows):
        latest = room[1] - sum(heights[index:])
        y = max(y, min(at[1], latest))
        yield Stroke(points=((FIELD + 6.0, y - 0.35 * LETTERS), at), width=0.13)
        yield Area(rings=(rectangle(at[0] - 0.4, at[1] - 0.4, at[0] + 0.4, at[1] + 0.4),), fill=INK)
        for row, line in enumerate(lines):
            yield Text(at=(FIELD + 7.0, y + LINE * row), text=line, size=LETTERS)
        y += heights[index]


@dataclass(frozen=True, kw_only=True, slots=True)
class Hung:
    """What hangs: its outside, mm, its mass, kg, and where its middle of mass is from the left end."""

    length: float
    height: float
    mass: str
    loads: tuple[str, str]
    """What the hangers at the left and at the right end carry, each."""
    centre: float
    count: int
    """Of hangers, half of them at each end."""


def hanging(title: str, hung: Hung, room: XY, units: System) -> Sheet:
    """A box on two bearers, hung at both ends, seen from the front."""
    scale = fitting_scale((hung.length + 160.0, hung.height), (FIELD, room[1] - 44.0), units)
    wide, high = hung.length / scale, hung.height / scale
    left, top = (FIELD - wide) / 2.0, 34.0
    right, bottom = left + wide, top + high
    items: list[Item] = [Text(at=(0.0, 3.0), text=f"{title}, {scale_words(scale)}", size=2.8, bold=True)]
    items += _joist(FIELD)
    items.append(Area(rings=(rectangle(left, top, right, bottom),), fill=BOARD, stroke=INK, width=0.35))
    ends = (left + 0.15 * wide, right - 0.15 * wide)
    for x in ends:
        items += _hanger(x, bottom)
    at = left + hung.centre / scale
    items += [
        Stroke(points=((at - 2.5, (top + bottom) / 2.0), (at + 2.5, (top + bottom) / 2.0)), width=0.3),
        Stroke(points=((at, (top + bottom) / 2.0 - 2.5), (at, (top + bottom) / 2.0 + 2.5)), width=0.3),
        Stroke(points=((left + 0.4 * wide, 14.0), (left + 0.5 * wide, bottom)), width=0.25, dash=(1.5, 1.0)),
    ]
    named: list[Named] = [
        ("joist or strut that a licensed engineer or your local code allows for this load", (FIELD * 0.8, 9.0), True),
        (
            f"isolator that cannot come apart at each of {hung.count} hangers; at the left {hung.loads[0]} each",
            (ends[0], 22.0),
            True,
        ),
        (f"those at the right {hung.loads[1]} each", (ends[1], 22.2), True),
        ("rod or strap clear of the box: nothing rigid from the box to the building", (ends[1], top + 4.0), True),
        (
            "safety cable, slack, to another fixing than the hangers",
            (left + 0.43 * wide, 14.0 + 0.3 * (bottom - 14)),
            True,
        ),
        (
            f"middle of mass {measure(hung.centre, units)} from the left; {hung.mass} in all",
            (at, (top + bottom) / 2),
            True,
        ),
        (
            "bearer under the whole width: the box stands on it, no screw of the box carries",
            (ends[0], bottom + 1.6),
            True,
        ),
    ]
    low = max(bottom + 6.0, 62.0)
    items += _named(named, (room[0], low))
    return Sheet(width=room[0], height=low, title=title, description=title, items=tuple(items))


def _joist(wide: float) -> Iterator[Item]:
    yield Area(rings=(rectangle(2.0, 6.0, wide - 2.0, 14.0),), fill="#ffffff", stroke=INK, width=0.3)
    for step in range(int((wide - 12.0) / 5.0)):
        x = 4.0 + 5.0 * step
        yield Stroke(points=((x, 13.0), (x + 5.0, 7.0)), width=0.1)


def _hanger(x: float, bottom: float) -> Iterator[Item]:
    """A rod from the joist with an isolator in it, down to the bearer."""
    yield Stroke(points=((x, 14.0), (x, 19.0)), width=0.5)
    turns = tuple((x + (1.6 if step % 2 else -1.6), 19.0 + step) for step in range(7))
    yield Stroke(points=((x, 19.0), *turns[1:-1], (x, 25.0)), width=0.35)
    yield Stroke(points=((x, 25.0), (x, bottom + 3.0)), width=0.5, dash=(2.0, 0.7))
    yield Area(rings=(rectangle(x - 3.0, bottom, x + 3.0, bottom + 3.0),), fill=STEEL, stroke=INK, width=0.25)
