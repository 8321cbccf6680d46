"""From a box's statement to one geometry: every family becomes a prism with regions, dividers, a tube and two mouths.

x runs along the box, z up, y across. A layout that does not fit raises Clash, which names what meets what and the
smallest change that cures it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sordino.elements.box import Box, Face, Mouth
from sordino.errors import OutOfRange, Refusal
from sordino.physics.wave import prism as wave
from sordino.physics.wave.line import Point, rounded
from sordino.quantities import Size

TIGHTEST = 0.75
"""Least centreline radius of a flexible bend over its diameter; under 1 makers warn, here it kinks (judgement)."""
GAP = 0.01
"""Clearance between a divider's edge and the duct that turns round it, m."""
LEAST = 0.02
"""Clear height under which a passage counts as pinched, m."""


class Clash(Refusal):
    """A box that can't be laid out: what meets what, and the smallest change that would do."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Station:
    """One stretch of the air path: its clear section and length, and the right-angle turns that follow it."""

    label: str
    size: Size
    length: float
    turns: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """A laid-out box: what the sound field needs, and the air path through it."""

    prism: wave.Prism
    stations: tuple[Station, ...]
    radius: float | None
    """Centreline radius of the flexible duct's bends, m; None in an open passage."""

    @property
    def narrowest(self) -> Station:
        """The stretch with the least clear section."""
        return min(self.stations, key=lambda station: station.size.area)

    @property
    def length(self) -> float:
        """Length of the air path, m."""
        return sum(station.length for station in self.stations)

    @property
    def turns(self) -> int:
        """Right-angle turns on the way."""
        return sum(station.turns for station in self.stations)


def layout(box: Box, section: Size) -> Layout:
    """Lay a box out for a run of that section; raises Clash."""
    if box.holds_duct and not (box.duct or section).round:
        raise Clash("a flexible duct is round, but the run is rectangular here", "give the box its own duct, as 200 mm")
    try:
        made = _LAYOUTS[box.family](box, section)
    except OutOfRange as error:
        raise Clash(str(error), "change the box so that it fits") from None
    _check_mouths(box, made.prism)
    return made


def _serpentine(box: Box, section: Size) -> Layout:
    duct = box.duct or section
    pitch = box.pass_height + box.divider
    radius = _bend_radius(box, duct.diameter, pitch) if box.passes > 1 else None
    levels = [box.pass_height / 2.0 + index * pitch for index in range(box.passes)]
    reach = box.length - box.lining - duct.diameter / 2.0
    ends = [reach if index % 2 == 0 else box.length - reach for index in range(box.passes - 1)]
    if box.pass_height < duct.diameter:
        raise Clash(
            f"the duct of {_mm(duct.diameter)} is higher than a pass of {_mm(box.pass_height)}",
            f"make the inside height at least {_mm(box.passes * duct.diameter + (box.passes - 1) * box.divider)}",
        )
    room = reach if box.passes == 2 else 2.0 * reach - box.length
    need = (radius or 0.0) * (1.0 if box.passes == 2 else 2.0)
    if box.passes > 1 and room < need:
        raise Clash(
            f"the bends of radius {_mm(radius or 0.0)} need {_mm(need)} along the box and have {_mm(max(room, 0.0))}",
            f"make the inside length at least {_mm(box.length + (need - room) / (1.0 if box.passes == 2 else 2.0))}",
        )
    corners = _corners(box, levels, ends)
    line = rounded(corners, radius) if radius is not None else tuple(corners)
    dividers = [
        _shelf(
            box, level + box.pass_height / 2.0, index, end - duct.diameter / 2.0 - GAP, end + duct.diameter / 2.0 + GAP
        )
        for index, (level, end) in enumerate(zip(levels, ends, strict=False))
    ]
    return _with_tube(box, duct, line, tuple(dividers), _ends_of_passes(box, section, levels), box.passes, radius)


def _bend_radius(box: Box, diameter: float, pitch: float) -> float:
    radius = box.bend_radius or pitch / 2.0
    if radius > pitch / 2.0 + 1e-9:
        raise Clash(
            f"two bends of radius {_mm(radius)} need passes {_mm(2 * radius)} apart, but they lie {_mm(pitch)} apart",
            f"write bend_radius = '{1e3 * pitch / 2:.0f} mm' or make the inside height "
            f"{_mm(box.height + box.passes * (2 * radius - pitch))}",
        )
    if radius < TIGHTEST * diameter:
        need = box.passes * (2.0 * TIGHTEST * diameter - box.divider) + (box.passes - 1) * box.divider
        raise Clash(
            f"a bend of radius {_mm(radius)} is too tight for flexible duct of {_mm(diameter)}",
            f"make the inside height at least {_mm(need)}, or take a thinner duct",
        )
    return radius


def _corners(box: Box, levels: list[float], ends: list[float]) -> list[Point]:
    """Corners of the centreline, pass by pass."""
    middle = box.width / 2.0
    corners: list[Point] = [(0.0, middle, levels[0])]
    for level, above, end in zip(levels[:-1], levels[1:], ends, strict=True):
        corners += [(end, middle, level), (end, middle, above)]
    last = box.length if box.passes % 2 else 0.0
    return [*corners, (last, middle, levels[-1])]


def _shelf(box: Box, level: float, index: int, stop: float, start: float) -> wave.Divider:
    """A divider over the pass `index`: open at the far end after an even pass, at the near end after an odd one."""
    x0, x1 = (0.0, stop) if index % 2 == 0 else (start, box.length)
    return wave.Divider(x0=x0, z0=level, x1=x1, z1=level + box.divider)


def _ends_of_passes(box: Box, section: Size, levels: list[float]) -> tuple[wave.Port, wave.Port]:
    """Mouths at the two ends of the folded path, unless the statement puts them elsewhere."""
    last: Face = "right" if box.passes % 2 else "left"
    first_mouth = box.inlet or Mouth.model_construct(face="left", along=levels[0], across=None)
    last_mouth = box.outlet or Mouth.model_construct(face=last, along=levels[-1], across=None)
    return _port(box, first_mouth, section), _port(box, last_mouth, section)


def _with_tube(
    box: Box,
    duct: Size,
    line: tuple[Point, ...],
    dividers: tuple[wave.Divider, ...],
    ports: tuple[wave.Port, wave.Port],
    passes: int,
    radius: float | None,
    turns: int = 2,
) -> Layout:
    """`turns`: right-angle turns between two stretches, two where passes are folded and one at a stated corner."""
    shape = _shape(box, dividers, ports)
    tube = wave.Tube(centreline=line, radius=duct.diameter / 2.0, film=box.core is not None)
    whole = float(np.linalg.norm(np.diff(np.array(line), axis=0), axis=1).sum())
    stations = tuple(
        Station(label=f"pass {index + 1}", size=duct, length=whole / passes, turns=turns * (index < passes - 1))
        for index in range(passes)
    )
    prism = wave.Prism(**shape, regions=(wave.whole(wave.Prism(**shape), 1),), tube=tube)
    return Layout(prism=prism, stations=stations, radius=radius)


def _labyrinth(box: Box, section: Size) -> Layout:
    """Open passes between dividers, lined on floor, ceiling and both sides of every divider."""
    height, width = box.standing
    clear, pitch = box.pass_height - 2.0 * box.lining, box.pass_height + box.divider
    if clear < LEAST:
        need = box.passes * (2 * box.lining + LEAST) + (box.passes - 1) * box.divider
        side = "width" if box.family == "shallow" else "height"
        raise Clash(
            f"lining of {_mm(box.lining)} on both sides leaves a passage of {_mm(max(clear, 0.0))}",
            f"make the inside {side} at least {_mm(need)}, thin the lining to "
            f"{_mm(max((box.pass_height - LEAST) / 2, 0.0))}, or take fewer passes",
        )
    if box.length < 2.0 * clear:
        raise Clash(
            f"the dividers close the air path: {_mm(box.length)} along the box leave no room for turns of {_mm(clear)}",
            f"make the inside length at least {_mm(2 * clear)}",
        )
    levels = [box.pass_height / 2.0 + index * pitch for index in range(box.passes)]
    dividers = tuple(
        _shelf(box, level + box.pass_height / 2.0, index, box.length - clear, clear)
        for index, level in enumerate(levels[:-1])
    )
    ports = _ends_of_passes(box, section, levels)
    shape = _shape(box, dividers, ports)
    frame = wave.Prism(**shape)
    strips = [_strip(box, d.x0, d.x1, d.z0 - box.lining, d.z0) for d in dividers]
    strips += [_strip(box, d.x0, d.x1, d.z1, d.z1 + box.lining) for d in dividers]
    sloped = [name for name, cut in (("left slope", frame.left), ("right slope", frame.right)) if cut.run > 0]
    linings = [wave.lining(frame, face, box.lining, 1) for face in ("floor", "ceiling", *sloped)]
    stations = _passes(box, frame, levels, clear, width)
    regions = (*linings, *strips, *_cleared(box, frame, ports))
    return Layout(prism=wave.Prism(**shape, regions=regions), stations=stations, radius=None)


def _passes(box: Box, frame: wave.Prism, levels: list[float], clear: float, width: float) -> tuple[Station, ...]:
    """The stretches of an open folded passage; a slope may pinch the uppermost."""
    found = []
    for index, level in enumerate(levels):
        x = np.linspace(0.0, box.length, 101)
        tops = np.minimum(level + clear / 2.0, wave.ceiling(frame, x) - box.lining)
        least = float(np.min(tops) - (level - clear / 2.0))
        if least < LEAST:
            at = float(x[int(np.argmin(tops))])
            raise Clash(
                f"the slope pinches pass {index + 1} to {_mm(max(least, 0.0))} at {_mm(at)} along the box",
                f"make the inside height {_mm(box.height + LEAST - least)}, or let the slope drop {_mm(LEAST - least)} less",
            )
        turns = 2 * (index < len(levels) - 1)
        size = Size.rectangle(width, least)
        found.append(Station(label=f"pass {index + 1}", size=size, length=box.length, turns=turns))
    return tuple(found)


def _straight(box: Box, section: Size) -> Layout:
    """One passage from end to end, lined on four faces."""
    middle = box.height / 2.0
    return _chamber(box, section, ("floor", "ceiling", "front", "back"), middle, middle)


def _plenum(box: Box, section: Size) -> Layout:
    """One chamber lined all over; the mouths lie low on one end and high on the other."""
    low = box.lining + section.height / 2.0
    faces = ("floor", "ceiling", "front", "back", "left", "right")
    return _chamber(box, section, faces, low, max(box.height - low, low))


def _chamber(box: Box, section: Size, faces: tuple[str, ...], first: float, last: float) -> Layout:
    inlet = box.inlet or Mouth.model_construct(face="left", along=first, across=None)
    outlet = box.outlet or Mouth.model_construct(face="right", along=last, across=None)
    ports = (_port(box, inlet, section), _port(box, outlet, section))
    shape = _shape(box, (), ports)
    frame = wave.Prism(**shape)
    clear = (box.width - 2.0 * box.lining, box.height - 2.0 * box.lining)
    if min(clear) < LEAST:
        raise Clash(
            f"lining of {_mm(box.lining)} all round leaves a passage of {_mm(max(min(clear), 0.0))}",
            f"make the box wider or higher by {_mm(LEAST - min(clear))}, or thin the lining",
        )
    sloped = [name for name, cut in (("left slope", frame.left), ("right slope", frame.right)) if cut.run > 0]
    regions = [wave.lining(frame, face, box.lining, 1) for face in (*faces, *sloped)]
    station = Station(label="passage", size=Size.rectangle(*clear), length=box.length)
    prism = wave.Prism(**shape, regions=(*regions, *_cleared(box, frame, ports)))
    return Layout(prism=prism, stations=(station,), radius=None)


def _custom(box: Box, section: Size) -> Layout:
    """Mouths, dividers, linings and centreline as stated."""
    assert box.inlet is not None
    assert box.outlet is not None
    ports = (_port(box, box.inlet, section), _port(box, box.outlet, section))
    dividers = tuple(_stated_divider(divider.start, divider.end) for divider in box.dividers)
    if box.centreline:
        return _stated_duct(box, section, ports, dividers)
    shape = _shape(box, dividers, ports)
    frame = wave.Prism(**shape)
    regions = [wave.lining(frame, lining.face, lining.thickness, 1) for lining in box.linings]
    thick = max(lining.thickness for lining in box.linings)
    stations = _stated_stations(box, dividers, thick)
    return Layout(
        prism=wave.Prism(**shape, regions=(*regions, *_cleared(box, frame, ports))), stations=stations, radius=None
    )


def _stated_divider(start: tuple[float, float], end: tuple[float, float]) -> wave.Divider:
    (x0, x1), (z0, z1) = sorted((start[0], end[0])), sorted((start[1], end[1]))
    return wave.Divider(x0=x0, z0=z0, x1=x1, z1=z1)


def _stated_duct(
    box: Box, section: Size, ports: tuple[wave.Port, wave.Port], dividers: tuple[wave.Divider, ...]
) -> Layout:
    duct, middle = box.duct or section, box.width / 2.0
    corners: list[Point] = [(x, middle, z) for x, z in box.centreline]
    if len(corners) < 2:
        raise Clash("the centreline has one corner", "give at least its two ends, as [[along, up], [along, up]]")
    radius = box.bend_radius or TIGHTEST * duct.diameter
    if radius < TIGHTEST * duct.diameter:
        raise Clash(
            f"bend_radius {_mm(radius)} is too tight", f"this duct wants at least {_mm(TIGHTEST * duct.diameter)}"
        )
    line = rounded(corners, radius) if len(corners) > 2 else tuple(corners)
    for divider in dividers:
        if _pierces(divider, line, duct.diameter / 2.0):
            raise Clash(
                f"the duct runs through the divider at {_mm(divider.x0)} along, {_mm(divider.z0)} up",
                f"end the divider {_mm(duct.diameter / 2 + GAP)} before the centreline, or move the centreline",
            )
    return _with_tube(box, duct, line, dividers, ports, max(len(corners) - 1, 1), radius, turns=1)


def _pierces(divider: wave.Divider, line: tuple[Point, ...], reach: float) -> bool:
    points = np.array(line)[:, [0, 2]]
    spaced = np.concatenate([np.linspace(a, b, 40) for a, b in zip(points[:-1], points[1:], strict=True)])
    near = np.clip(spaced, (divider.x0, divider.z0), (divider.x1, divider.z1))
    return bool(np.any(np.linalg.norm(spaced - near, axis=1) < reach - 1e-6))


def _stated_stations(box: Box, dividers: tuple[wave.Divider, ...], thick: float) -> tuple[Station, ...]:
    """The least clear height beside each divider as the air path's stations; refuses a divider that closes it."""
    clear_width = box.width - sum(lining.thickness for lining in box.linings if lining.face in ("front", "back"))
    lined = {lining.face: lining.thickness for lining in box.linings}
    low, high = lined.get("floor", 0.0), box.height - lined.get("ceiling", 0.0)
    found = [Station(label="chamber", size=Size.rectangle(clear_width, max(high - low, LEAST)), length=box.length)]
    for divider in dividers:
        gaps = (divider.z0 - low, high - divider.z1) if divider.across_x else (divider.x0, box.length - divider.x1)
        if max(gaps) < LEAST:
            raise Clash(
                f"the divider at {_mm(divider.x0)} along closes the air path",
                f"end it at least {_mm(thick + LEAST)} before the opposite face",
            )
        size = Size.rectangle(clear_width, max(gaps))
        found.append(Station(label="round the divider", size=size, length=max(gaps), turns=2))
    return tuple(found)


_LAYOUTS: dict[str, Callable[[Box, Size], Layout]] = {
    "serpentine": _serpentine,
    "labyrinth": _labyrinth,
    "shallow": _labyrinth,
    "straight": _straight,
    "plenum": _plenum,
    "custom": _custom,
}


def _shape(box: Box, dividers: tuple[wave.Divider, ...], ports: tuple[wave.Port, wave.Port]) -> dict:  # type: ignore[type-arg]
    """The bare prism's arguments: a shallow box lies on its side, so its width is the solver's height."""
    height, width = box.standing
    cuts = {
        side: wave.Cut(run=slope.run, drop=slope.drop)
        for side, slope in (("left", box.left_slope), ("right", box.right_slope))
        if slope is not None
    }
    return {"length": box.length, "width": width, "height": height, "dividers": dividers, "ports": ports, **cuts}


def _port(box: Box, mouth: Mouth, section: Size) -> wave.Port:
    height, width = box.standing
    across = mouth.across if mouth.across is not None else (height if mouth.face in ("front", "back") else width) / 2.0
    centre = _on_face(box, mouth, across)
    if section.round:
        return wave.Port(face=mouth.face, centre=centre, diameter=section.diameter)
    sides = (section.width, section.height) if box.family == "shallow" else (section.height, section.width)
    return wave.Port(face=mouth.face, centre=centre, sides=sides)


def _on_face(box: Box, mouth: Mouth, across: float) -> Point:
    height, width = box.standing
    along = mouth.along
    places: dict[str, Point] = {
        "left": (0.0, across, along),
        "right": (box.length, across, along),
        "floor": (along, across, 0.0),
        "ceiling": (along, across, height),
        "front": (along, 0.0, across),
        "back": (along, width, across),
    }
    if mouth.face not in places:
        raise Clash(f"a duct can't join the {mouth.face}", "choose left, right, floor, ceiling, front or back")
    return places[mouth.face]


def _strip(box: Box, x0: float, x1: float, z0: float, z1: float) -> wave.Region:
    _, width = box.standing
    return wave.Region(polygon=wave.rectangle((x0, z0), (x1, z1)), fluid=1, front=0.0, back=width)


def _cleared(box: Box, frame: wave.Prism, ports: tuple[wave.Port, wave.Port]) -> list[wave.Region]:
    """Air where the lining is cut away before each mouth, as deep as the lining is thick."""
    return [_before(box, frame, port) for port in ports]


def _before(box: Box, frame: wave.Prism, port: wave.Port) -> wave.Region:
    half_up, half_across = _halves(port)
    x, y, z = port.centre
    depth = box.lining if box.family != "custom" else max((lining.thickness for lining in box.linings), default=0.0)
    if port.face in ("left", "right"):
        x0, x1 = (0.0, depth) if port.face == "left" else (box.length - depth, box.length)
        polygon = wave.rectangle((x0, z - half_up), (x1, z + half_up))
        return wave.Region(
            polygon=polygon, fluid=0, front=max(y - half_across, 0.0), back=min(y + half_across, frame.width)
        )
    if port.face in ("floor", "ceiling"):
        z0, z1 = (0.0, depth) if port.face == "floor" else (frame.height - depth, frame.height)
        polygon = wave.rectangle((x - half_up, z0), (x + half_up, z1))
        return wave.Region(
            polygon=polygon, fluid=0, front=max(y - half_across, 0.0), back=min(y + half_across, frame.width)
        )
    front = 0.0 if port.face == "front" else frame.width - depth
    polygon = wave.rectangle((x - half_up, z - half_across), (x + half_up, z + half_across))
    return wave.Region(polygon=polygon, fluid=0, front=front, back=front + depth)


def _halves(port: wave.Port) -> tuple[float, float]:
    if port.diameter is not None:
        return port.diameter / 2.0, port.diameter / 2.0
    assert port.sides is not None
    return port.sides[0] / 2.0, port.sides[1] / 2.0


def _check_mouths(box: Box, made: wave.Prism) -> None:
    """Both mouths wholly on their faces, and on no divider's edge."""
    for name, port in zip(("inlet", "outlet"), made.ports, strict=True):
        up, across = _halves(port)
        x, y, z = port.centre
        spans = {
            "left": (z, up, made.height - made.left.drop, y, across, made.width),
            "right": (z, up, made.height - made.right.drop, y, across, made.width),
            "floor": (x, up, made.length, y, across, made.width),
            "ceiling": (x, up, made.length, y, across, made.width),
            "front": (x, up, made.length, z, across, made.height),
            "back": (x, up, made.length, z, across, made.height),
        }
        along, half_along, reach, aside, half_aside, breadth = spans[port.face]
        for at, half, most, word in ((along, half_along, reach, "along"), (aside, half_aside, breadth, "across")):
            if at - half < -1e-9 or at + half > most + 1e-9:
                raise _off_face(name, port.face, at, half, most, word)
        for divider in made.dividers if port.face in ("left", "right") else ():
            touches = divider.x0 <= 1e-9 if port.face == "left" else divider.x1 >= made.length - 1e-9
            if touches and z - up < divider.z1 - 1e-9 and z + up > divider.z0 + 1e-9:
                raise Clash(
                    f"the {name} on the {port.face} meets the divider {_mm(divider.z0)} up",
                    f"move the {name}, or make the passes at least {_mm(2 * up)} high",
                )


def _off_face(name: str, face: str, at: float, half: float, most: float, word: str) -> Clash:
    if 2.0 * half > most:
        return Clash(f"the {name} of {_mm(2 * half)} is larger than the {face} of {_mm(most)}", "make the box that big")
    cure = f"put its middle between {_mm(half)} and {_mm(most - half)}"
    return Clash(f"the {name} reaches off the {face}: its middle lies {_mm(at)} {word} it", cure)


def _mm(length: float) -> str:
    return f"{1e3 * length:.0f} mm"
