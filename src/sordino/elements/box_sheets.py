"""The sheets of a casing: layer by layer, which board runs past which, and where each of them ends.

Each layer lies round the one before it as a shell. A sheet is what of its face's layer lies outside the inner planes of
its own face and inside those of the faces that run past it, so that the sheets of a layer fill it without gap or
overlap. Who runs past whom alternates from layer to layer, so that no joint lies over a joint; boards run past
cavities. Two faces that meet too flatly for a saw's bevel are mitred.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import asin, hypot, radians

from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_planes import Flat, Frame, Plane, Tagged, Vector, area, borders, cut_flat, dot
from sordino.physics.wave import prism as wave

STEEPEST = radians(45.5)
"""Bevel from square that a saw can still cut."""
EVEN = ("left", "right", "left slope", "right slope", "floor", "ceiling", "front", "back")
ODD = ("front", "back", "ceiling", "floor", "right slope", "left slope", "right", "left")
"""Faces by layer, each running past those before it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """One layer of one face, m: its inner and outer polygon in the frame, whose origin lies on its inner side."""

    face: str
    level: int
    layer: buildup.Layer
    damped: bool
    """Whether damping compound lies under it."""
    frame: Frame
    depth: float
    inner: tuple[Flat, ...]
    outer: tuple[Flat, ...]
    blank: tuple[Flat, ...]
    """What it is cut from: every edge where it reaches farthest."""
    core: tuple[Flat, ...]
    """What it covers over its whole depth."""
    ends: tuple[str, ...]
    """What each edge of the blank ends at."""
    tilts: tuple[float, ...]
    """How far the edges of the blank are from square, rad; above 0 where the inner side is the longer one."""
    middle: float
    """Area half way through it, m2."""

    @property
    def volume(self) -> float:
        """m3, by Simpson's rule, which is exact for a slab with straight bevels."""
        return self.depth / 6.0 * (area(self.inner) + 4.0 * self.middle + area(self.outer))


def sheets(box: Box, prism: wave.Prism, face: str = "front") -> tuple[Sheet, ...]:
    """Every board and cavity of the casing, from inside, if `face` closes the box."""
    bases = frames(prism)
    stacks = {name: _stack(box.layers(name)) for name in bases}
    offsets = {name: dot(base.n, base.origin) for name, base in bases.items()}
    found: list[Sheet] = []
    for level in range(max(len(stack) for stack in stacks.values())):
        here = {name: stack[level] for name, stack in stacks.items() if level < len(stack)}
        after = {name: offset + (_depth(here[name][0]) if name in here else 0.0) for name, offset in offsets.items()}
        order = sorted(here, key=lambda name: _rank(name, level, face, here[name][0]))
        for name in here:
            limits = tuple(_limits(name, order, bases, offsets, after, here))
            found.append(_sheet(name, level, here[name], bases[name], offsets[name], limits))
        offsets = after
    return tuple(found)


def frames(prism: wave.Prism) -> dict[str, Frame]:
    """Each face of the box with a corner of its inside, two directions in it and its way out, right-handed."""
    found = {name: _upright(a, b) for name, a, b in profile_edges(prism)}
    found["front"] = Frame(origin=(0.0, 0.0, 0.0), u=(1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0), n=(0.0, -1.0, 0.0))
    found["back"] = Frame(origin=(0.0, prism.width, 0.0), u=(-1.0, 0.0, 0.0), v=(0.0, 0.0, 1.0), n=(0.0, 1.0, 0.0))
    return found


def profile_edges(prism: wave.Prism) -> tuple[tuple[str, Flat, Flat], ...]:
    """The faces round the profile against the clock, each with its two inner corners."""
    length, height, left, right = prism.length, prism.height, prism.left, prism.right
    corners: tuple[Flat, ...] = (
        (0.0, 0.0),
        (length, 0.0),
        (length, height - right.drop),
        (length - right.run, height),
        (left.run, height),
        (0.0, height - left.drop),
    )
    names = ("floor", "right", "right slope", "ceiling", "left slope", "left")
    pairs = zip(names, corners, (*corners[1:], corners[0]), strict=True)
    return tuple((name, a, b) for name, a, b in pairs if hypot(b[0] - a[0], b[1] - a[1]) > wave.FLAT)


def _upright(a: Flat, b: Flat) -> Frame:
    long = hypot(b[0] - a[0], b[1] - a[1])
    dx, dz = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    return Frame(origin=(a[0], 0.0, a[1]), u=(dx, 0.0, dz), v=(0.0, -1.0, 0.0), n=(dz, 0.0, -dx))


def _stack(layers: buildup.Buildup) -> list[tuple[buildup.Layer, bool]]:
    """Boards and cavities from inside, each with whether compound lies under it."""
    found: list[tuple[buildup.Layer, bool]] = []
    damped = False
    for layer in layers:
        if not layer.damping:
            found.append((layer, damped))
        damped = layer.damping
    return found


def _depth(layer: buildup.Layer) -> float:
    return layer.thickness or layer.cavity or 0.0


def _rank(name: str, level: int, closing: str, layer: buildup.Layer) -> tuple[bool, int]:
    even = level % 2 == 0
    if name == closing and name not in ("front", "back"):
        return layer.board is not None, len(EVEN) if even else -1
    return layer.board is not None, (EVEN if even else ODD).index(name)


def _limits(
    name: str,
    order: list[str],
    bases: dict[str, Frame],
    before: dict[str, float],
    after: dict[str, float],
    here: dict[str, tuple[buildup.Layer, bool]],
) -> Iterator[Plane]:
    """Where a sheet ends: at outer planes of the faces it runs past, inner ones of those that run past it."""
    for other, base in bases.items():
        if other == name:
            continue
        past = other in order and order.index(other) > order.index(name)
        mitre = _mitre(name, other, bases, before, after) if _both_boards(name, other, here) else None
        if past and _parted(name, other, bases, here):
            past = False
        yield mitre or Plane(name=other, normal=base.n, offset=before[other] if past else after[other])


def _both_boards(name: str, other: str, here: dict[str, tuple[buildup.Layer, bool]]) -> bool:
    return all(each in here and here[each][0].board is not None for each in (name, other))


def _parted(name: str, other: str, bases: dict[str, Frame], here: dict[str, tuple[buildup.Layer, bool]]) -> bool:
    """Whether a face lies between the two that one of them is mitred with, so that they don't meet."""
    return any(
        _adjacent(name, mid, bases)
        and _adjacent(mid, other, bases)
        and (_flat(name, mid, bases, here) or _flat(mid, other, bases, here))
        for mid in bases
    ) and not _adjacent(name, other, bases)


def _flat(one: str, other: str, bases: dict[str, Frame], here: dict[str, tuple[buildup.Layer, bool]]) -> bool:
    """Whether two faces meet too flatly to lap."""
    return _both_boards(one, other, here) and asin(max(min(dot(bases[one].n, bases[other].n), 1.0), -1.0)) > STEEPEST


def _mitre(
    name: str, other: str, bases: dict[str, Frame], before: dict[str, float], after: dict[str, float]
) -> Plane | None:
    """The plane through the inner and the outer edge at which two flatly meeting faces part; None if they lap."""
    one, two = bases[name].n, bases[other].n
    if asin(max(min(dot(one, two), 1.0), -1.0)) <= STEEPEST or not _adjacent(name, other, bases):
        return None
    inside, outside = (_crossing(one, at[name], two, at[other]) for at in (before, after))
    dx, dz = outside[0] - inside[0], outside[1] - inside[1]
    long = hypot(dx, dz)
    normal = (dz / long, 0.0, -dx / long)
    if dot(normal, two) < dot(normal, one):
        normal = (-normal[0], 0.0, -normal[2])
    return Plane(name=other, normal=normal, offset=normal[0] * inside[0] + normal[2] * inside[1])


def _adjacent(name: str, other: str, bases: dict[str, Frame]) -> bool:
    ring = [each for each in bases if each not in ("front", "back")]
    if name not in ring or other not in ring:
        return False
    return (ring.index(name) - ring.index(other)) % len(ring) in (1, len(ring) - 1)


def _crossing(one: Vector, first: float, two: Vector, second: float) -> Flat:
    cross = one[0] * two[2] - one[2] * two[0]
    return (first * two[2] - second * one[2]) / cross, (one[0] * second - two[0] * first) / cross


def _sheet(
    name: str,
    level: int,
    here: tuple[buildup.Layer, bool],
    base: Frame,
    offset: float,
    limits: tuple[Plane, ...],
) -> Sheet:
    layer, damped = here
    shift = offset - dot(base.n, base.origin)
    frame = Frame(origin=base.at(0.0, 0.0, shift), u=base.u, v=base.v, n=base.n)
    return sheet_between(name, level, layer, damped, frame, _depth(layer), limits)


def sheet_between(
    name: str, level: int, layer: buildup.Layer, damped: bool, frame: Frame, depth: float, limits: tuple[Plane, ...]
) -> Sheet:
    """The sheet of that depth on the frame's plane, between other planes."""
    seen = borders(frame, limits)
    inner, middle, outer = (cut_flat(w, w, seen) for w in (0.0, depth / 2.0, depth))
    blank = cut_flat(0.0, depth, seen)
    tilt = {each.name: asin(max(-1.0, min(1.0, each.c))) for each in seen}
    return Sheet(
        face=name,
        level=level,
        layer=layer,
        damped=damped,
        frame=frame,
        depth=depth,
        inner=_points(inner),
        outer=_points(outer),
        blank=_points(blank),
        core=_points(cut_flat(depth, 0.0, seen)),
        ends=tuple(tag for _, tag in blank),
        tilts=tuple(tilt[tag] for _, tag in blank),
        middle=area(_points(middle)),
    )


def _points(polygon: Tagged) -> tuple[Flat, ...]:
    return tuple(point for point, _ in polygon)
