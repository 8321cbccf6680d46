"""Boxes stated in full: mouths, dividers, linings or the centreline of a duct."""

from __future__ import annotations

from sordino.elements.box import Box
from sordino.elements.box_clash import Clash
from sordino.elements.box_ducted import stated_duct
from sordino.elements.box_mouths import Dividers, cleared, mouths
from sordino.elements.box_passage import LEAST, Layout, Station, shape
from sordino.physics.wave import prism as wave
from sordino.quantities import Size


def custom(box: Box, section: Size) -> Layout:
    """Mouths, dividers, linings and centreline as stated."""
    assert box.inlet is not None
    assert box.outlet is not None
    dividers = tuple(_stated_divider(divider.start, divider.end) for divider in box.dividers)
    ports = mouths(box, section, box.inlet, box.outlet, dividers)
    if box.centreline:
        return stated_duct(box, section, ports, dividers)
    bare = shape(box, dividers, ports)
    frame = wave.Prism(**bare)
    linings = [wave.lining(frame, lining.face, lining.thickness, 1) for lining in box.linings]
    prism = wave.Prism(**bare, regions=(*linings, *cleared(box, frame)))
    return Layout(prism=prism, stations=_stations(box, dividers), radius=None)


def _stated_divider(start: tuple[float, float], end: tuple[float, float]) -> wave.Divider:
    (x0, x1), (z0, z1) = sorted((start[0], end[0])), sorted((start[1], end[1]))
    return wave.Divider(x0=x0, z0=z0, x1=x1, z1=z1)


def _stations(box: Box, dividers: Dividers) -> tuple[Station, ...]:
    """The least clear height beside each divider as the air path's stations; refuses a divider that closes it."""
    clear_width = box.width - sum(lining.thickness for lining in box.linings if lining.face in ("front", "back"))
    lined = {lining.face: lining.thickness for lining in box.linings}
    low, high = lined.get("floor", 0.0), box.height - lined.get("ceiling", 0.0)
    found = [Station(label="chamber", size=Size.rectangle(clear_width, max(high - low, LEAST)), length=box.length)]
    for divider in dividers:
        gaps = (divider.z0 - low, high - divider.z1) if divider.across_x else (divider.x0, box.length - divider.x1)
        if max(gaps) < LEAST:
            raise Clash(
                "the divider at {along} along closes the air path",
                "end it at least {least} before the opposite face",
                along=divider.x0,
                least=max(lined.values()) + LEAST,
            )
        size = Size.rectangle(clear_width, max(gaps))
        found.append(Station(label="round the divider", size=size, length=max(gaps), turns=2))
    return tuple(found)
