"""Boxes with an open lined passage: folded between dividers, straight, or one chamber."""

from __future__ import annotations

import numpy as np

from sordino.elements.box import Box, Mouth
from sordino.elements.box_clash import Clash
from sordino.elements.box_mouths import cleared, end_mouths, height_on_end, mouths
from sordino.elements.box_passage import LEAST, Layout, Station, shape, shelf, sloped
from sordino.physics.wave import prism as wave
from sordino.physics.wave.line import CLOSE
from sordino.quantities import Size


def labyrinth(box: Box, section: Size) -> Layout:
    """Open passes between dividers, lined on floor, ceiling and both sides of every divider."""
    clear, pitch = box.pass_height - 2.0 * box.lining, box.pass_height + box.divider
    _check_passes(box, section, clear)
    levels = [box.pass_height / 2.0 + index * pitch for index in range(box.passes)]
    dividers = tuple(
        shelf(box, level + box.pass_height / 2.0, index, box.length - clear, clear)
        for index, level in enumerate(levels[:-1])
    )
    ports = end_mouths(box, section, levels, dividers)
    bare = shape(box, dividers, ports)
    frame = wave.Prism(**bare)
    strips = [_strip(frame, d.x0, d.x1, d.z0 - box.lining, d.z0) for d in dividers]
    strips += [_strip(frame, d.x0, d.x1, d.z1, d.z1 + box.lining) for d in dividers]
    linings = [wave.lining(frame, face, box.lining, 1) for face in ("floor", "ceiling", *sloped(frame))]
    regions = (*linings, *strips, *cleared(box, frame))
    return Layout(prism=wave.Prism(**bare, regions=regions), stations=_passes(box, frame, levels, clear), radius=None)


def _check_passes(box: Box, section: Size, clear: float) -> None:
    if clear < LEAST - CLOSE:
        side = "width" if box.family == "shallow" else "height"
        high = max(2.0 * box.lining + LEAST, height_on_end(box, section))
        raise Clash(
            "lining of {lining} on both sides leaves a passage of {clear}",
            f"make the inside {side} at least {{least}}, thin the lining to {{most}}, or take fewer passes",
            lining=box.lining,
            clear=max(clear, 0.0),
            least=box.passes * high + (box.passes - 1) * box.divider,
            most=max((box.pass_height - LEAST) / 2.0, 0.0),
        )
    if box.length < 2.0 * clear - CLOSE:
        raise Clash(
            "the dividers close the air path: {length} along the box leave no room for turns of {clear}",
            "make the inside length at least {least}",
            length=box.length,
            clear=clear,
            least=2.0 * clear,
        )


def _strip(frame: wave.Prism, x0: float, x1: float, z0: float, z1: float) -> wave.Region:
    return wave.Region(polygon=wave.rectangle((x0, z0), (x1, z1)), fluid=1, front=0.0, back=frame.width)


def _passes(box: Box, frame: wave.Prism, levels: list[float], clear: float) -> tuple[Station, ...]:
    """The stretches of an open folded passage; a slope may pinch the uppermost."""
    found = []
    for index, level in enumerate(levels):
        x = np.linspace(0.0, box.length, 101)
        tops = np.minimum(level + clear / 2.0, wave.ceiling(frame, x) - box.lining)
        least = float(np.min(tops) - (level - clear / 2.0))
        if least < LEAST - CLOSE:
            raise Clash(
                f"the slope pinches pass {index + 1} to {{clear}} at {{along}} along the box",
                "let the slope drop {least_less} less, or take fewer passes",
                clear=max(least, 0.0),
                along=float(x[int(np.argmin(tops))]),
                least_less=LEAST - least,
            )
        turns = 2 * (index < len(levels) - 1)
        size = Size.rectangle(frame.width, least)
        found.append(Station(label=f"pass {index + 1}", size=size, length=box.length, turns=turns))
    return tuple(found)


def straight(box: Box, section: Size) -> Layout:
    """One passage from end to end, lined on four faces."""
    inlet, outlet = (Mouth.model_construct(face=face, along=box.height / 2.0) for face in ("left", "right"))
    return _chamber(box, section, ("floor", "ceiling", "front", "back"), inlet, outlet)


def plenum(box: Box, section: Size) -> Layout:
    """One chamber lined all over; the mouths lie low on one end and high on the other."""
    faces = ("floor", "ceiling", "front", "back", "left", "right")
    low = box.lining + height_on_end(box, section) / 2.0
    inlet = Mouth.model_construct(face="left", along=low)
    outlet = Mouth.model_construct(face="right", along=max(box.height - low, low))
    return _chamber(box, section, faces, inlet, outlet)


def _chamber(box: Box, section: Size, faces: tuple[str, ...], inlet: Mouth, outlet: Mouth) -> Layout:
    ports = mouths(box, section, box.inlet or inlet, box.outlet or outlet)
    bare = shape(box, (), ports)
    frame = wave.Prism(**bare)
    clear = (box.width - 2.0 * box.lining, box.height - 2.0 * box.lining)
    if min(clear) < LEAST - CLOSE:
        raise Clash(
            "lining of {lining} all round leaves a passage of {clear}",
            "make the box wider or higher by {least}, or thin the lining",
            lining=box.lining,
            clear=max(min(clear), 0.0),
            least=LEAST - min(clear),
        )
    regions = [wave.lining(frame, face, box.lining, 1) for face in (*faces, *sloped(frame))]
    station = Station(label="passage", size=Size.rectangle(*clear), length=box.length)
    prism = wave.Prism(**bare, regions=(*regions, *cleared(box, frame)))
    return Layout(prism=prism, stations=(station,), radius=None)
