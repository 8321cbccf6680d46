"""Where ducts meet a box: mouths wholly on their faces and on no divider, turned if they fit only so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sordino.bands import Array
from sordino.elements.box import Box, Face, Mouth
from sordino.elements.box_clash import Clash
from sordino.elements.box_passage import shape
from sordino.physics.wave import prism as wave
from sordino.physics.wave.line import Point
from sordino.physics.wave.stub import Stub, opening, stub
from sordino.quantities import Size

Dividers = tuple[wave.Divider, ...]


def mouths(box: Box, section: Size, first: Mouth, last: Mouth, dividers: Dividers = ()) -> tuple[wave.Port, wave.Port]:
    """The ports of a run of that section at two places; a rectangular one is turned if it fits only so."""
    inlet, outlet = (
        _fitted(box, section, name, mouth, dividers) for name, mouth in (("inlet", first), ("outlet", last))
    )
    _check_apart(box, inlet, outlet)
    if inlet.slant or outlet.slant:
        _check_lean(wave.Prism(**shape(box, (), (inlet, outlet))))
    return inlet, outlet


def _check_apart(box: Box, inlet: wave.Port, outlet: wave.Port) -> None:
    """Two ducts on one face may not reach into one another."""
    if inlet.face != outlet.face:
        return
    places = zip(place_on_face(box, inlet), place_on_face(box, outlet), strict=True)
    along, aside = (abs(one - other) for one, other in places)
    needs = [one + other for one, other in zip(halves(inlet), halves(outlet), strict=True)]
    if along < needs[0] - 1e-9 and aside < needs[1] - 1e-9:
        raise Clash(
            f"inlet and outlet overlap on the {inlet.face}: their middles lie {{apart}} apart",
            "put them at least {least} apart, or on two faces",
            apart=max(along, aside),
            least=min(needs),
        )


def _check_lean(frame: wave.Prism) -> None:
    """Two ducts may not meet on the first of their way out of the box either."""
    first, second = (stub(frame, port) for port in frame.ports)
    gap = float(np.linalg.norm(_axis(first)[:, None] - _axis(second)[None], axis=-1).min())
    need = first.halves[0] + second.halves[0]
    if gap < need - 1e-9:
        raise Clash(
            "inlet and outlet lean into one another: outside the box their middles come as near as {gap}",
            "move one of them by {least} or more, or let them lean apart",
            gap=gap,
            least=need - gap,
        )


def _axis(of: Stub) -> Array:
    """Points of a duct's middle line from its face outwards, as far as it is meshed, (n, 3)."""
    return np.asarray(of.foot + np.linspace(0.0, of.reach, 25)[:, None] * of.axis)


def end_mouths(box: Box, section: Size, levels: list[float], dividers: Dividers) -> tuple[wave.Port, wave.Port]:
    """Mouths at the two ends of a folded path, unless the statement puts them elsewhere."""
    far: Face = "right" if len(levels) % 2 else "left"
    first = box.inlet or Mouth.model_construct(face="left", along=levels[0], across=None)
    last = box.outlet or Mouth.model_construct(face=far, along=levels[-1], across=None)
    return mouths(box, section, first, last, dividers)


def _fitted(box: Box, section: Size, name: str, mouth: Mouth, dividers: Dividers) -> wave.Port:
    port = _port(box, mouth, section)
    fault = next(_faults(box, name, port, dividers), None)
    if fault is None:
        return port
    if port.sides is not None:
        turned = replace(port, sides=port.sides[::-1])
        if next(_faults(box, name, turned, dividers), None) is None:
            return turned
    raise fault


def _port(box: Box, mouth: Mouth, section: Size) -> wave.Port:
    height, width = box.standing
    across = mouth.across if mouth.across is not None else (height if mouth.face in ("front", "back") else width) / 2.0
    sides = (section.width, section.height) if box.family == "shallow" else (section.height, section.width)
    return wave.Port(
        face=mouth.face,
        centre=_on_face(box, mouth, across),
        diameter=section.diameter if section.round else None,
        sides=None if section.round else sides,
        # the solver counts a slant down a right slope, to larger x, as above 0
        slant=-mouth.slant if mouth.face == "right slope" else mouth.slant,
    )


def _on_face(box: Box, mouth: Mouth, across: float) -> Point:
    height, width = box.standing
    along = mouth.along
    if mouth.face.endswith("slope"):
        return _on_slope(box, mouth.face, along, across)
    places: dict[str, Point] = {
        "left": (0.0, across, along),
        "right": (box.length, across, along),
        "floor": (along, across, 0.0),
        "ceiling": (along, across, height),
        "front": (along, 0.0, across),
        "back": (along, width, across),
    }
    return places[mouth.face]


def _on_slope(box: Box, face: str, along: float, across: float) -> Point:
    cut = box.left_slope if face == "left slope" else box.right_slope
    if cut is None:
        raise Clash(f"there is no {face} for a duct to join", f"state {face.replace(' ', '_')}, or name another face")
    share = along / float(np.hypot(cut.run, cut.drop))
    x = share * cut.run
    return x if face == "left slope" else box.length - x, across, box.standing[0] - (1.0 - share) * cut.drop


def place_on_face(box: Box, port: wave.Port) -> tuple[float, float]:
    """Where a port's middle lies as a statement counts it: along its face, and across it from the front, m."""
    x, y, z = port.centre
    if port.face in ("left", "right"):
        return z, y
    if port.face in ("front", "back"):
        return x, z
    if not port.face.endswith("slope"):
        return x, y
    cut = box.left_slope if port.face == "left slope" else box.right_slope
    assert cut is not None, "a port lies on a slope that is there"
    return float(np.hypot(cut.run, cut.drop) * (x if port.face == "left slope" else box.length - x) / cut.run), y


def _faults(box: Box, name: str, port: wave.Port, dividers: Dividers) -> Iterator[Clash]:
    yield from _off_face(box, name, port, dividers)
    for divider in dividers if port.face in ("left", "right") else ():
        (_, _, z), (up, _) = port.centre, halves(port)
        touches = divider.x0 <= 1e-9 if port.face == "left" else divider.x1 >= box.length - 1e-9
        if touches and z - up < divider.z1 - 1e-9 and z + up > divider.z0 + 1e-9:
            yield _on_divider(box, name, port, divider, dividers)
    for divider in dividers if port.face.endswith("slope") else ():
        if _ends_in_opening(box, port, divider):
            yield Clash(
                f"the {name} on the {port.face} meets the divider {{along}} along",
                "end that divider before the slope, or move the duct along the slope",
                along=divider.x0,
            )


def _ends_in_opening(box: Box, port: wave.Port, divider: wave.Divider) -> bool:
    """Whether a divider reaches a slope where the hole for a duct is."""
    base = stub(wave.Prism(**shape(box, (), (port, port))), port)
    shares = np.linspace(-1.0, 1.0, 25)[:, None]
    x, _, z = (base.foot + shares * base.opening[0] * base.along - 1e-6 * base.normal).T
    return bool(np.any((x > divider.x0) & (x < divider.x1) & (z > divider.z0) & (z < divider.z1)))


def _on_divider(box: Box, name: str, port: wave.Port, divider: wave.Divider, dividers: Dividers) -> Clash:
    """A mouth on the edge of a divider, with the nearest clear place on that face, if one is high enough."""
    what = f"the {name} on the {port.face} meets the divider {{up}} up"
    half, place = halves(port)[0], _place(box, port, dividers)
    if place is not None:
        least, most = place
        return Clash(what, "put its middle between {least} and {most}", up=divider.z0, least=least, most=most)
    grow = (
        "leave {least} clear beside that divider" if box.family == "custom" else "make the passes at least {least} high"
    )
    return Clash(what, grow, up=divider.z0, least=2.0 * half)


def _place(box: Box, port: wave.Port, dividers: Dividers) -> tuple[float, float] | None:
    """The nearest stretch of an end in which the middle of a mouth may lie, between the dividers; None without one."""
    (_, _, z), (half, _) = port.centre, halves(port)
    spans = [(low + half, high - half) for low, high in _clear(box, port.face, dividers) if high - low >= 2.0 * half]
    return min(spans, key=lambda span: max(span[0] - z, z - span[1]), default=None)


def _clear(box: Box, face: str, dividers: Dividers) -> list[tuple[float, float]]:
    """Stretches of an end between the dividers that reach it, from the floor up, m."""
    ends = 0.0 if face == "left" else box.length
    reach = [(each.z0, each.z1) for each in dividers if each.x0 - 1e-9 <= ends <= each.x1 + 1e-9]
    slope = box.left_slope if face == "left" else box.right_slope
    top = box.standing[0] - (slope.drop if slope else 0.0)
    edges = [0.0, *[edge for pair in sorted(reach) for edge in pair], top]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _off_face(box: Box, name: str, port: wave.Port, dividers: Dividers) -> Iterator[Clash]:
    words = ("along", "across")
    for word, at, half, most in zip(
        words, place_on_face(box, port), halves(port), _face_sides(box, port.face), strict=True
    ):
        if at - half < -1e-9 or at + half > most + 1e-9:
            ends = port.face in ("left", "right") and word == "along"
            yield _reaching(name, port.face, at, half, most, word, _place(box, port, dividers) if ends else None)


def _face_sides(box: Box, face: str) -> tuple[float, float]:
    """How far a face reaches along and across, m; front, back, floor and ceiling as without slopes."""
    height, width = box.standing
    slopes = {"left": box.left_slope, "right": box.right_slope}
    slope = slopes.get(face.removesuffix(" slope"))
    if face in slopes:
        return height - (slope.drop if slope is not None else 0.0), width
    if face.endswith("slope"):
        assert slope is not None, "a port lies on a slope that is there"
        return float(np.hypot(slope.run, slope.drop)), width
    return box.length, height if face in ("front", "back") else width


def _reaching(
    name: str, face: str, at: float, half: float, most: float, word: str, place: tuple[float, float] | None
) -> Clash:
    if most <= 0.0:
        return Clash(
            f"the slope leaves no {face} for the {name}", "make the slope drop less, or put it on another face"
        )
    if 2.0 * half > most + 1e-9:
        what = f"the {name} of {{mouth}} is larger than the {face} of {{face}}"
        return Clash(what, "make the box that big", mouth=2.0 * half, face=most)
    return Clash(
        f"the {name} reaches off the {face}: its middle lies {{at}} {word} it",
        "put its middle between {least} and {most}",
        at=at,
        least=place[0] if place else half,
        most=place[1] if place else most - half,
    )


def height_on_end(box: Box, section: Size) -> float:
    """How high a duct stands on an end of an undivided box, m: turned if it fits only so."""
    upright = section.width <= box.width and section.height <= box.height
    turned = section.height <= box.width and section.width <= box.height
    return section.width if turned and not upright else section.height


def halves(port: wave.Port) -> tuple[float, float]:
    """Half the hole of a mouth along the profile and along the rest, m; longer where the duct stands at a slant."""
    along, rest = opening(port)
    return along / 2.0, rest / 2.0


def cleared(box: Box, frame: wave.Prism) -> list[wave.Region]:
    """Air where the lining is cut away before each mouth, as deep as the lining is thick."""
    return [_before(box, frame, port) for port in frame.ports]


def _before(box: Box, frame: wave.Prism, port: wave.Port) -> wave.Region:
    up, aside = halves(port)
    x, y, z = port.centre
    depth = box.lining if box.family != "custom" else max((lining.thickness for lining in box.linings), default=0.0)
    front, back = max(y - aside, 0.0), min(y + aside, frame.width)
    if port.face in ("front", "back"):
        front = 0.0 if port.face == "front" else frame.width - depth
        corners = wave.rectangle((x - up, z - aside), (x + up, z + aside))
        return wave.Region(polygon=corners, fluid=0, front=front, back=front + depth)
    return wave.Region(polygon=_way_in(frame, port, depth), fluid=0, front=front, back=back)


def _way_in(frame: wave.Prism, port: wave.Port, depth: float) -> tuple[tuple[float, float], ...]:
    """The profile of a duct carried on into the box through a lining, m."""
    base = stub(frame, port)
    shift = -depth / float(base.axis @ base.normal) * base.axis
    rims = [base.foot + sign * base.opening[0] * base.along for sign in (-1.0, 1.0)]
    ring = (rims[0], rims[1], rims[1] + shift, rims[0] + shift)
    return tuple((float(point[0]), float(point[2])) for point in ring)
