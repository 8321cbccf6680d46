"""A box as built, cut three ways: the plan, the section along it and that across it, with sizes and labels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees

from sordino.build.kit import Kit
from sordino.build.openings import Opening
from sordino.build.part import Part, Stick
from sordino.report.drawing import slices as cut
from sordino.report.drawing.dimension import scale_bar
from sordino.report.drawing.exploded import short
from sordino.report.drawing.lists import apart
from sordino.report.drawing.measures import figure, fitting_scale, scale_words
from sordino.report.drawing.records import XY, Area, Clipped, Item, Ring, Sheet, Stroke, Text
from sordino.report.drawing.section import duct
from sordino.report.drawing.view import View
from sordino.report.drawing.view_sizes import view_sizes
from sordino.units import System

HEAD, SMALL = 3.4, 2.2
PALE, DARK, WOOD = "#efece6", "#bdb8ae", "#ffffff"
SPARE = 3.0
"""By which a label may reach past the side it belongs to, mm."""
AXIS = (4.0, 0.8, 0.8, 0.8)
"""The line along the middle of a duct."""
OVER, UNDER = 6.0, 19.0
"""Room over and under a view for its labels and sizes, mm."""
BESIDE, AWAY = 25.0, 8.5
"""Room at its sides without the words of a duct, and how far off these begin, mm."""
DUCT = 11.0
"""Room for a duct that goes up or down, mm."""
APART = 2.0
"""Between a label and the middle line of a duct, mm."""
SIDES: dict[cut.Way, tuple[tuple[str, str], tuple[str, str]]] = {
    "x": (("front", "back"), ("floor", "ceiling")),
    "y": (("left", "right"), ("floor", "ceiling")),
    "z": (("left", "right"), ("front", "back")),
}
"""Faces at the left and right, and at the lower and upper side, of each view."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cutting:
    """One view: across which axis, and where, mm."""

    way: cut.Way
    at: float
    words: str


def cuttings(kit: Kit, units: System) -> tuple[Cutting, ...]:
    """Plan through the inlet, section along the middle, section across the middle."""
    prism, inlet = kit.made.prism, kit.openings[0]
    high = min(max(inlet.centre[2], 1.0), 1e3 * prism.height - 1.0)
    if inlet.face in ("floor", "ceiling"):
        high = 250.0 * prism.height
    deep, along = 500.0 * prism.width, 500.0 * prism.length
    return (
        Cutting(way="z", at=high, words=f"Plan, cut {figure(high, units)} over the inside of the floor"),
        Cutting(way="y", at=deep, words=f"Section along, cut {figure(deep, units)} behind the inside of the front"),
        Cutting(way="x", at=along, words=f"Section across, cut {figure(along, units)} from the inside of the left"),
    )


def views(kit: Kit, room: XY, units: System) -> Sheet:
    """All three on one sheet, to one scale."""
    made = cuttings(kit, units)
    outside = [_outside(kit, one.way) for one in made]
    wide = max(size[2] - size[0] for size in outside)
    high = sum(size[3] - size[1] for size in outside)
    each = OVER + UNDER + HEAD + sum(DUCT * _joins(kit, face) for face in ("ceiling", "floor"))
    beside = BESIDE + _duct_words(kit, units)
    scale = fitting_scale((wide, high), (room[0] - 2.0 * beside, room[1] - 3.0 * each - 6.0), units)
    items, y = list[Item](), 0.0
    for one, size in zip(made, outside, strict=True):
        items.append(Text(at=(0.0, y + HEAD), text=f"{one.words}, {scale_words(scale)}", size=2.8, bold=True))
        upper = y + HEAD + OVER + DUCT * _joins(kit, SIDES[one.way][1][1])
        lower = upper + (size[3] - size[1]) / scale
        left = beside + (room[0] - 2.0 * beside - (size[2] - size[0]) / scale) / 2.0
        view = View(left=left - size[0] / scale, lower=lower + size[1] / scale, scale=1.0 / scale)
        items += _view(kit, one, size, view, units)
        y = lower + UNDER + DUCT * _joins(kit, SIDES[one.way][1][0])
    bar = View(left=0.0, lower=0.0, scale=1e3 / scale)
    items += scale_bar((0.0, y + 3.0), bar, 60.0, units)
    title = f"Box {kit.name}: plan and sections"
    return Sheet(width=room[0], height=y + 5.0, title=title, description=title, items=tuple(apart(items)))


def _duct_words(kit: Kit, units: System) -> float:
    """Length of the longest words of a duct, mm."""
    words = [words for mouth in kit.openings for words in (mouth.name, mouth_size(mouth, units))]
    return max(Text(at=(0.0, 0.0), text=each, size=SMALL).length for each in words)


def _joins(kit: Kit, face: str) -> bool:
    return any(mouth.face == face for mouth in kit.openings)


def _outside(kit: Kit, way: cut.Way) -> tuple[float, float, float, float]:
    """Extent of the box's outside in a view, mm from the inside's corner."""
    axes = {"x": (1, 2), "y": (0, 2), "z": (0, 1)}[way]
    points = [part.pose.at(u, v, w) for part in kit.panels for u, v in part.outline for w in (0.0, part.thickness)]
    us, vs = ([point[axis] for point in points] for axis in axes)
    return min(us), min(vs), max(us), max(vs)


def _view(kit: Kit, one: Cutting, size: tuple[float, float, float, float], view: View, units: System) -> Iterator[Item]:
    prism = kit.made.prism
    found = cut.slices(kit, one.way, one.at)
    rings = tuple(view.ring(ring) for ring in cut.fibre(prism, one.way, one.at))
    if rings:
        inside = (0.0, 0.0), (_inside(kit, one.way)[0], 0.0), _inside(kit, one.way), (0.0, _inside(kit, one.way)[1])
        area = Area(rings=rings, fibre=True, stroke="#3d4f5c", width=0.12)
        yield Clipped(within=(view.ring(inside),), items=(area,))
    for each in found:
        yield from _piece(each, view)
    yield from _duct_walls(kit, one.way, one.at, view)
    for mouth in kit.openings:
        beside = any(other.face == mouth.face and other.centre > mouth.centre for other in kit.openings)
        yield from _mouth(mouth, one, size, view, units, beside)
    yield from _names(kit, found, one.way, size, view)
    right, low = SIDES[one.way][0][1], SIDES[one.way][1][0]
    clear = (_duct_words(kit, units) + AWAY if _joins(kit, right) else 0.0, DUCT * _joins(kit, low))
    yield from view_sizes(_inside(kit, one.way), size, view, clear, units)


def _duct_walls(kit: Kit, way: cut.Way, at: float, view: View) -> Iterator[Item]:
    """Both walls of the flexible duct where the section along the box shows them."""
    walls = duct(kit.made.prism)
    if way == "y" and walls is not None and abs(at - 500.0 * kit.made.prism.width) < 1.0:
        for wall in walls:
            points = view.ring(tuple((1e3 * x, 1e3 * z) for x, z in wall))
            yield Stroke(points=points, width=0.3, dash=(1.2, 0.6))


def _inside(kit: Kit, way: cut.Way) -> XY:
    prism = kit.made.prism
    sides = {"x": (prism.width, prism.height), "y": (prism.length, prism.height), "z": (prism.length, prism.width)}
    return 1e3 * sides[way][0], 1e3 * sides[way][1]


def _piece(each: cut.Slice, view: View) -> Iterator[Item]:
    """Boards by their shade; a stick cut across bears a cross."""
    rings = tuple(view.ring(ring) for ring in each.rings)
    stick = isinstance(each.piece, Stick)
    fill = WOOD if stick else DARK if isinstance(each.piece, Part) and each.piece.kind == "divider" else PALE
    yield Area(rings=rings, fill=fill, stroke="#222222", width=0.18)
    if each.endways and len(rings[0]) == 4:
        a, b, c, d = rings[0]
        yield Stroke(points=(a, c), width=0.12)
        yield Stroke(points=(b, d), width=0.12)


def _mouth(
    mouth: Opening, one: Cutting, size: tuple[float, float, float, float], view: View, units: System, leftmost: bool
) -> Iterator[Item]:
    """The middle line of a duct that the view cuts, with its name and size; a cross where one looks along it.

    The words of the `leftmost` of two on one face stand left of its line.
    """
    across, *axes = {"x": (0, 1, 2), "y": (1, 0, 2), "z": (2, 0, 1)}[one.way]
    place = (mouth.centre[axes[0]], mouth.centre[axes[1]])
    way = (mouth.axis[axes[0]], mouth.axis[axes[1]])
    x, y = view.at(*place)
    if abs(mouth.axis[across]) > 0.5:
        yield Stroke(points=((x - 2.5, y), (x + 2.5, y)), width=0.13)
        yield Stroke(points=((x, y - 2.5), (x, y + 2.5)), width=0.13)
        return
    half = (mouth.diameter or max(mouth.sides or (0.0,))) / 2.0
    if abs(mouth.centre[across] - one.at) > half or (one.way == "x" and abs(way[0]) < 0.5):
        return
    end = _reach(way, place, size) * view.scale + 7.0
    ends = ((x - 6.0 * way[0], y + 6.0 * way[1]), (x + end * way[0], y - end * way[1]))
    yield Stroke(points=ends, width=0.13, dash=AXIS)
    words = mouth_size(mouth, units)
    if abs(way[0]) > 0.5:
        for line, shift in ((mouth.name, -0.15), (words, 1.0)):
            at = (x + (end + 0.8) * way[0], y - end * way[1] + shift * SMALL)
            yield Text(at=at, text=line, size=SMALL, anchor="end" if way[0] < 0.0 else "start")
    else:
        x += end * way[0]
        at = (x - 1.2 if leftmost else x + 1.2, y - end * way[1] + (SMALL if way[1] > 0.0 else 0.0))
        yield Text(at=at, text=f"{mouth.name} {words}", size=SMALL, anchor="end" if leftmost else "start")


def mouth_size(mouth: Opening, units: System) -> str:
    """The clear size of the duct, and how far it is off square."""
    leans = f", {degrees(mouth.slant):.0f}° off square" if mouth.leans else ""
    if mouth.diameter is not None:
        return f"Ø {figure(mouth.diameter, units)}{leans}"
    assert mouth.sides is not None, "a mouth is round or has two sides"
    return " x ".join(figure(side, units) for side in mouth.sides) + leans


def _reach(way: XY, place: XY, size: tuple[float, float, float, float]) -> float:
    """From a mouth to the outside along its axis, mm."""
    if abs(way[0]) > 0.5:
        return (place[0] - size[0] if way[0] < 0.0 else size[2] - place[0]) / abs(way[0])
    return (place[1] - size[1] if way[1] < 0.0 else size[3] - place[1]) / abs(way[1])


def _names(
    kit: Kit, found: tuple[cut.Slice, ...], way: cut.Way, size: tuple[float, float, float, float], view: View
) -> Iterator[Item]:
    """Labels of the boards that are cut, face by face, from the inside out."""
    (left, right), (low, high) = SIDES[way]
    x0, y1 = view.at(size[0], size[1])
    x1, y0 = view.at(size[2], size[3])
    for face, upright, whole, across in (
        (left, True, (y0, y1), x0 - 1.6),
        (right, True, (y0, y1), x1 + 1.6 + SMALL * 0.76),
        (low, False, (x0, x1), y1 + 1.0 + SMALL),
        (high, False, (x0, x1), y0 - 1.4),
    ):
        boards = [one for one in found if isinstance(one.piece, Part) and one.piece.face == face]
        text = " ".join(dict.fromkeys(short(one.piece.label) for one in boards))
        long = Text(at=(0.0, 0.0), text=text, size=SMALL).length
        along = _clear(kit, face, way, view, _ends(boards, view, upright, whole), long)
        least, most = whole[0] + long / 2.0 - SPARE, whole[1] - long / 2.0 + (0.0 if upright else SPARE)
        along = min(max(along, least), most)
        at = (across, along) if upright else (along, across)
        yield Text(at=at, text=text, size=SMALL, anchor="middle", upright=upright, bold=True)
    boards = [one for one in found if isinstance(one.piece, Part) and one.piece.kind == "divider"]
    for index, each in enumerate(boards):
        yield _divider_name(each, view, (0.5, 0.3, 0.7)[index % 3])
    for face in ("left slope", "right slope"):
        boards = [one for one in found if isinstance(one.piece, Part) and one.piece.face == face]
        if boards:
            yield _slope_name(boards, view, _inside(kit, way), (y0, y1), way)


def _ends(found: list[cut.Slice], view: View, upright: bool, whole: XY) -> XY:
    """From where to where the boards of a side reach on paper."""
    axis = 1 if upright else 0
    places = [point[axis] for one in found for ring in one.rings for point in view.ring(ring)]
    return (min(places), max(places)) if places else whole


def _clear(kit: Kit, face: str, way: cut.Way, view: View, ends: XY, length: float) -> float:
    """A place along a side, as near its middle as the ducts there leave room for a label."""
    axes = {"x": (1, 2), "y": (0, 2), "z": (0, 1)}[way]
    lines = [
        view.at(mouth.centre[axes[0]], mouth.centre[axes[1]])[1 if face in SIDES[way][0] else 0]
        for mouth in kit.openings
        if mouth.face == face
    ]
    shares = sorted((step / 20.0 for step in range(1, 20)), key=lambda share: abs(share - 0.5))
    places = [ends[0] + share * (ends[1] - ends[0]) for share in shares]
    free = (at for at in places if all(abs(at - line) > length / 2.0 + APART for line in lines))
    return next(free, places[0])


def _divider_name(each: cut.Slice, view: View, share: float) -> Text:
    """Along a divider, at a share of its length, so that the names of neighbours keep apart."""
    ring: Ring = view.ring(each.rings[0])
    xs, ys = ([point[axis] for point in ring] for axis in (0, 1))
    label = short(each.piece.label)
    if max(xs) - min(xs) > max(ys) - min(ys):
        at = (min(xs) + share * (max(xs) - min(xs)), min(ys) - 0.9)
        return Text(at=at, text=label, size=SMALL, anchor="middle", bold=True, plate=True)
    at = (max(xs) + 1.0 + SMALL * 0.76, min(ys) + share * (max(ys) - min(ys)))
    return Text(at=at, text=label, size=SMALL, anchor="middle", bold=True, plate=True, upright=True)


def _slope_name(boards: list[cut.Slice], view: View, inside: XY, ends: XY, way: cut.Way) -> Text:
    """Inside the innermost board; in the plan near the back, clear of the dividers' names."""
    ring = view.ring(boards[0].rings[0])
    xs, ys = ([point[axis] for point in ring] for axis in (0, 1))
    x, y = sum(xs) / len(xs), sum(ys) / len(ys)
    left = x < view.at(inside[0] / 2.0, 0.0)[0]
    labels = " ".join(short(one.piece.label) for one in boards)
    at = (x + (2.0 if left else -2.0), y + 1.6 * SMALL)
    if way == "z":
        at = (max(xs) + 1.0 if left else min(xs) - 1.0, ends[0] + 0.22 * (ends[1] - ends[0]) + SMALL / 2.0)
    return Text(at=at, text=labels, size=SMALL, anchor="start" if left else "end", bold=True, plate=True)
