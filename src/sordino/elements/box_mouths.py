"""Where ducts meet a box: mouths wholly on their faces and on no divider, turned if they fit only so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sordino.elements.box import Box, Face, Mouth
from sordino.elements.box_clash import Clash
from sordino.physics.wave import prism as wave
from sordino.physics.wave.line import Point
from sordino.quantities import Size

Dividers = tuple[wave.Divider, ...]


def mouths(box: Box, section: Size, first: Mouth, last: Mouth, dividers: Dividers = ()) -> tuple[wave.Port, wave.Port]:
    """The ports of a run of that section at two places; a rectangular one is turned if it fits only so."""
    inlet, outlet = (
        _fitted(box, section, name, mouth, dividers) for name, mouth in (("inlet", first), ("outlet", last))
    )
    _check_apart(inlet, outlet)
    return inlet, outlet


def _check_apart(inlet: wave.Port, outlet: wave.Port) -> None:
    """Two ducts on one face may not reach into one another."""
    if inlet.face != outlet.face:
        return
    gaps = [abs(one - other) for one, other in zip(inlet.centre, outlet.centre, strict=True)]
    along, aside = (gaps[2], gaps[1]) if inlet.face in ("left", "right") else (gaps[0], gaps[1] + gaps[2])
    needs = [one + other for one, other in zip(halves(inlet), halves(outlet), strict=True)]
    if along < needs[0] - 1e-9 and aside < needs[1] - 1e-9:
        raise Clash(
            f"inlet and outlet overlap on the {inlet.face}: their middles lie {{apart}} apart",
            "put them at least {least} apart, or on two faces",
            apart=max(along, aside),
            least=min(needs),
        )


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
        raise Clash(
            f"a duct can't join the {mouth.face} squarely",
            "put a bend before the box and let the duct join left, right, floor, ceiling, front or back",
        )
    return places[mouth.face]


def _faults(box: Box, name: str, port: wave.Port, dividers: Dividers) -> Iterator[Clash]:
    yield from _off_face(box, name, port, dividers)
    for divider in dividers if port.face in ("left", "right") else ():
        (_, _, z), (up, _) = port.centre, halves(port)
        touches = divider.x0 <= 1e-9 if port.face == "left" else divider.x1 >= box.length - 1e-9
        if touches and z - up < divider.z1 - 1e-9 and z + up > divider.z0 + 1e-9:
            yield _on_divider(box, name, port, divider, dividers)


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
    (height, width), (x, y, z), (up, aside) = box.standing, port.centre, halves(port)
    slopes = {"left": box.left_slope, "right": box.right_slope}
    drop = slope.drop if (slope := slopes.get(port.face)) is not None else 0.0
    plain = (x, up, box.length)
    spans = {
        "left": ((z, up, height - drop), (y, aside, width)),
        "right": ((z, up, height - drop), (y, aside, width)),
        "front": (plain, (z, aside, height)),
        "back": (plain, (z, aside, height)),
    }
    for word, (at, half, most) in zip(
        ("along", "across"), spans.get(port.face, (plain, (y, aside, width))), strict=True
    ):
        if at - half < -1e-9 or at + half > most + 1e-9:
            ends = port.face in ("left", "right") and word == "along"
            yield _reaching(name, port.face, at, half, most, word, _place(box, port, dividers) if ends else None)


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
    """Half a mouth along the profile and along the rest, m."""
    if port.diameter is not None:
        return port.diameter / 2.0, port.diameter / 2.0
    assert port.sides is not None
    return port.sides[0] / 2.0, port.sides[1] / 2.0


def cleared(box: Box, frame: wave.Prism) -> list[wave.Region]:
    """Air where the lining is cut away before each mouth, as deep as the lining is thick."""
    return [_before(box, frame, port) for port in frame.ports]


def _before(box: Box, frame: wave.Prism, port: wave.Port) -> wave.Region:
    up, aside = halves(port)
    x, y, z = port.centre
    depth = box.lining if box.family != "custom" else max((lining.thickness for lining in box.linings), default=0.0)
    front, back = max(y - aside, 0.0), min(y + aside, frame.width)
    if port.face in ("left", "right"):
        x0, x1 = (0.0, depth) if port.face == "left" else (box.length - depth, box.length)
        corners = (x0, z - up), (x1, z + up)
    elif port.face in ("floor", "ceiling"):
        z0, z1 = (0.0, depth) if port.face == "floor" else (frame.height - depth, frame.height)
        corners = (x - up, z0), (x + up, z1)
    else:
        front = 0.0 if port.face == "front" else frame.width - depth
        back = front + depth
        corners = (x - up, z - aside), (x + up, z + aside)
    return wave.Region(polygon=wave.rectangle(*corners), fluid=0, front=front, back=back)
