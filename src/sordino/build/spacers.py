"""Sticks that hold the outer boards of a casing off the inner ones: round the rim of every cavity."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from sordino.build.angles import cross
from sordino.build.faces import MM
from sordino.build.frame import SHORTEST
from sordino.build.openings import Opening
from sordino.build.part import Stick
from sordino.elements.box import Box
from sordino.elements.box_planes import Flat, Frame, dot
from sordino.elements.box_sheets import Sheet, sheets
from sordino.physics.wave import prism as wave

HalfPlane = tuple[Flat, float]
"""Outward normal in the face, and how far out it lies, m."""
Span = tuple[float, float]


def spacers(
    box: Box, prism: wave.Prism, face: str, mouths: tuple[Opening, ...], side: float, first: int, prefix: str = ""
) -> tuple[Stick, ...]:
    """Every spacer, `side` m wide and as deep as its cavity, labelled on from S`first`."""
    hollow = [sheet for sheet in sheets(box, prism, face) if sheet.layer.board is None]
    laid = [one for sheet in hollow for one in _round_rim(sheet, mouths, side)]
    return tuple(
        Stick(
            label=f"{prefix}S{number}",
            length=one.length,
            section=one.section,
            pose=one.pose,
            joins=one.joins,
            use="spacer",
            level=one.level,
        )
        for number, one in enumerate(laid, first)
    )


def _round_rim(sheet: Sheet, mouths: tuple[Opening, ...], side: float) -> Iterator[Stick]:
    """The longest first; each ends at those before it and at the ducts."""
    walls = _half_planes(sheet.core)
    rim = sorted(pairwise((*sheet.core, *sheet.core[:1])), key=lambda ends: -hypot(*_way(ends)))
    taken: list[HalfPlane] = []
    for ends in rim:
        own = _half_plane(ends)
        low, high = _span(ends, own, [*walls, *taken], side)
        for start, stop in _clear(sheet, ends, (low, high), mouths, side):
            if stop - start >= SHORTEST:
                yield _spacer(sheet, ends, start, stop, side)
        taken.append((own[0], own[1] - side))


def _way(ends: tuple[Flat, Flat]) -> Flat:
    (a, b), (c, d) = ends
    return c - a, d - b


def _half_planes(ring: tuple[Flat, ...]) -> list[HalfPlane]:
    return [_half_plane(ends) for ends in pairwise((*ring, *ring[:1]))]


def _half_plane(ends: tuple[Flat, Flat]) -> HalfPlane:
    du, dv = _way(ends)
    long = hypot(du, dv)
    normal = (dv / long, -du / long)
    return normal, normal[0] * ends[0][0] + normal[1] * ends[0][1]


def _span(ends: tuple[Flat, Flat], own: HalfPlane, walls: list[HalfPlane], side: float) -> Span:
    """From where to where a strip of that width along an edge lies inside all walls, m from the edge's start."""
    du, dv = _way(ends)
    long = hypot(du, dv)
    along = (du / long, dv / long)
    low, high = 0.0, long
    for normal, bound in walls:
        rate = normal[0] * along[0] + normal[1] * along[1]
        for depth in (0.0, side):
            u, v = ends[0][0] - depth * own[0][0], ends[0][1] - depth * own[0][1]
            room = bound - normal[0] * u - normal[1] * v
            if abs(rate) > 1e-9:
                low, high = (low, min(high, room / rate)) if rate > 0.0 else (max(low, room / rate), high)
            elif room < -1e-9:
                return 0.0, 0.0
    return low, high


def _clear(
    sheet: Sheet, ends: tuple[Flat, Flat], span: Span, mouths: tuple[Opening, ...], side: float
) -> Iterator[Span]:
    """What of a span the ducts through this face leave."""
    blocked = sorted(filter(None, (_blocked(sheet, ends, mouth, side) for mouth in mouths if mouth.face == sheet.face)))
    low, high = span
    for start, stop in blocked:
        yield low, min(start, high)
        low = max(low, stop)
    yield low, high


def _blocked(sheet: Sheet, ends: tuple[Flat, Flat], mouth: Opening, side: float) -> Span | None:
    """Where a duct takes the strip's place."""
    (du, dv), (normal, bound) = _way(ends), _half_plane(ends)
    long = hypot(du, dv)
    origin = sheet.frame.origin
    low = sum((MM * o - c) * n for o, c, n in zip(origin, mouth.centre, mouth.normal, strict=True))
    spot = mouth.spot(low + MM * sheet.depth / 2.0)
    away = tuple(c / MM - o for c, o in zip(spot, origin, strict=True))
    u, v = (sum(a * b for a, b in zip(away, way, strict=True)) for way in (sheet.frame.u, sheet.frame.v))
    whole = mouth.whole(MM * sheet.depth)
    reach = (hypot(*whole) if mouth.sides is not None else max(whole)) / 2.0 / MM
    if bound - normal[0] * u - normal[1] * v > side + reach:
        return None
    at = ((u - ends[0][0]) * du + (v - ends[0][1]) * dv) / long
    return at - reach, at + reach


def _spacer(sheet: Sheet, ends: tuple[Flat, Flat], low: float, high: float, side: float) -> Stick:
    """The stick on the inner side of a cavity from `low` to `high` along an edge."""
    du, dv = _way(ends)
    long = hypot(du, dv)
    frame = sheet.frame
    along = tuple((du * a + dv * b) / long for a, b in zip(frame.u, frame.v, strict=True))
    x, y, z = frame.at(ends[0][0] + low * du / long, ends[0][1] + low * dv / long, 0.0)
    n = (along[0], along[1], along[2])
    inwards = tuple((-dv * a + du * b) / long for a, b in zip(frame.u, frame.v, strict=True))
    # u into the face's inside, v away from it, n along the edge: turned so that the three are right-handed
    u = (inwards[0], inwards[1], inwards[2])
    pose = Frame(origin=(MM * x, MM * y, MM * z), u=frame.n, v=u, n=n)
    if dot(cross(frame.n, u), n) < 0.0:
        pose = Frame(origin=pose.origin, u=u, v=frame.n, n=n)
    wide, high_ = (MM * sheet.depth, MM * side) if pose.u == frame.n else (MM * side, MM * sheet.depth)
    section = ((0.0, 0.0), (wide, 0.0), (wide, high_), (0.0, high_))
    length = int(MM * (high - low) + 1e-6)
    joins = (sheet.face, sheet.face)
    return Stick(
        label="", length=float(length), section=section, pose=pose, joins=joins, use="spacer", level=sheet.level
    )
