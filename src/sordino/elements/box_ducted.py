"""Boxes that a flexible duct leads through, fibre all round it: folded by passes, or along a stated centreline."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from sordino.elements.box import Box
from sordino.elements.box_clash import Clash
from sordino.elements.box_mouths import Dividers, end_mouths
from sordino.elements.box_passage import Layout, Station, shape, shelf
from sordino.physics.wave import prism as wave
from sordino.physics.wave.line import CLOSE, Point, rounded
from sordino.quantities import Size

TIGHTEST = 0.75
"""Least centreline radius of a flexible bend over its diameter; under 1 makers warn, here it kinks (judgement)."""
GAP = 0.01
"""Clearance between a divider's edge and the duct that turns round it, m."""


def serpentine(box: Box, section: Size) -> Layout:
    """Flexible duct that goes back and forth between dividers."""
    duct = box.duct or section
    pitch = box.pass_height + box.divider
    radius = _bend_radius(box, duct.diameter, pitch) if box.passes > 1 else None
    levels = [box.pass_height / 2.0 + index * pitch for index in range(box.passes)]
    reach = box.length - box.lining - duct.diameter / 2.0
    ends = [reach if index % 2 == 0 else box.length - reach for index in range(box.passes - 1)]
    if box.pass_height < duct.diameter - CLOSE:
        raise Clash(
            "the duct of {duct} is higher than a pass of {height}",
            "make the inside height at least {least}",
            duct=duct.diameter,
            height=box.pass_height,
            least=box.passes * duct.diameter + (box.passes - 1) * box.divider,
        )
    if radius is not None:
        _check_room(box, reach, radius)
    corners = _corners(box, levels, ends)
    line = rounded(corners, radius) if radius is not None else tuple(corners)
    clear = duct.diameter / 2.0 + GAP
    dividers = tuple(
        shelf(box, level + box.pass_height / 2.0, index, end - clear, end + clear)
        for index, (level, end) in enumerate(zip(levels[:-1], ends, strict=True))
    )
    ports = end_mouths(box, section, levels, dividers)
    return _with_tube(box, duct, line, dividers, ports, box.passes, radius)


def _bend_radius(box: Box, diameter: float, pitch: float) -> float:
    radius = box.bend_radius or pitch / 2.0
    if radius > pitch / 2.0 + CLOSE:
        raise Clash(
            "two bends of radius {radius} need passes {need} apart, but they lie {pitch} apart",
            "write a bend_radius of {most} or make the inside height {least}",
            radius=radius,
            need=2.0 * radius,
            pitch=pitch,
            most=pitch / 2.0,
            least=box.height + box.passes * (2.0 * radius - pitch),
        )
    if box.bend_radius is not None and radius < TIGHTEST * diameter - CLOSE <= pitch / 2.0:
        raise Clash(
            "a bend of radius {radius} is too tight for flexible duct of {duct}",
            "make bend_radius at least {least}, or leave it out",
            radius=radius,
            duct=diameter,
            least=TIGHTEST * diameter,
        )
    if radius < TIGHTEST * diameter - CLOSE:
        need = box.passes * (2.0 * TIGHTEST * diameter - box.divider) + (box.passes - 1) * box.divider
        raise Clash(
            "a bend of radius {radius} is too tight for flexible duct of {duct}",
            "make the inside height at least {least}, or take a thinner duct",
            radius=radius,
            duct=diameter,
            least=need,
        )
    return radius


def _check_room(box: Box, reach: float, radius: float) -> None:
    """Room along the box for the bends: at one end with two passes, at both with more."""
    ends = 1.0 if box.passes == 2 else 2.0
    room = reach if box.passes == 2 else 2.0 * reach - box.length
    if room < ends * radius - CLOSE:
        raise Clash(
            "the bends of radius {radius} need {need} along the box and have {room}",
            "make the inside length at least {least}",
            radius=radius,
            need=ends * radius,
            room=max(room, 0.0),
            least=box.length + (ends * radius - room),
        )


def _corners(box: Box, levels: list[float], ends: list[float]) -> list[Point]:
    """Corners of the centreline, pass by pass."""
    middle = box.width / 2.0
    corners: list[Point] = [(0.0, middle, levels[0])]
    for (level, above), end in zip(pairwise(levels), ends, strict=True):
        corners += [(end, middle, level), (end, middle, above)]
    last = box.length if box.passes % 2 else 0.0
    return [*corners, (last, middle, levels[-1])]


def _with_tube(
    box: Box,
    duct: Size,
    line: tuple[Point, ...],
    dividers: Dividers,
    ports: tuple[wave.Port, wave.Port],
    passes: int,
    radius: float | None,
    turns: int = 2,
) -> Layout:
    """`turns`: right-angle turns between two stretches, two where passes are folded and one at a stated corner."""
    bare = shape(box, dividers, ports)
    tube = wave.Tube(centreline=line, radius=duct.diameter / 2.0, film=box.core is not None)
    whole = float(np.linalg.norm(np.diff(np.array(line), axis=0), axis=1).sum())
    stations = tuple(
        Station(label=f"pass {index + 1}", size=duct, length=whole / passes, turns=turns * (index < passes - 1))
        for index in range(passes)
    )
    prism = wave.Prism(**bare, regions=(wave.whole(wave.Prism(**bare), 1),), tube=tube)
    return Layout(prism=prism, stations=stations, radius=radius)


def stated_duct(box: Box, section: Size, ports: tuple[wave.Port, wave.Port], dividers: Dividers) -> Layout:
    """Flexible duct along the corners that the statement gives."""
    duct, middle = box.duct or section, box.width / 2.0
    corners: list[Point] = [(x, middle, z) for x, z in box.centreline]
    if len(corners) < 2:
        raise Clash("the centreline has one corner", "give at least its two ends, as [[along, up], [along, up]]")
    radius = box.bend_radius or TIGHTEST * duct.diameter
    if radius < TIGHTEST * duct.diameter - CLOSE:
        raise Clash(
            "bend_radius {radius} is too tight",
            "this duct wants at least {least}",
            radius=radius,
            least=TIGHTEST * duct.diameter,
        )
    line = rounded(corners, radius) if len(corners) > 2 else tuple(corners)
    for divider in dividers:
        if _pierces(divider, line, duct.diameter / 2.0):
            raise Clash(
                "the duct runs through the divider at {along} along, {up} up",
                "end the divider {least} before the centreline, or move the centreline",
                along=divider.x0,
                up=divider.z0,
                least=duct.diameter / 2.0 + GAP,
            )
    return _with_tube(box, duct, line, dividers, ports, max(len(corners) - 1, 1), radius, turns=1)


def _pierces(divider: wave.Divider, line: tuple[Point, ...], reach: float) -> bool:
    points = np.array(line)[:, [0, 2]]
    spaced = np.concatenate([np.linspace(a, b, 40) for a, b in pairwise(points)])
    near = np.clip(spaced, (divider.x0, divider.z0), (divider.x1, divider.z1))
    return bool(np.any(np.linalg.norm(spaced - near, axis=1) < reach - 1e-6))
