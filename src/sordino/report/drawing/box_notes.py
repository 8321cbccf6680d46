"""What the section of a box can't show by itself, in words."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.box_picture import BoxPicture
from sordino.elements import buildup
from sordino.units import System, show


def box_notes(picture: BoxPicture, units: System) -> Iterator[str]:
    """Sentences beside the section."""
    box, prism = picture.box, picture.made.prism
    seen = "seen from above" if box.family == "shallow" else "seen from the front"
    across = "high" if box.family == "shallow" else "wide"
    yield f"Inside sizes; {show(prism.width, 'length', units)} {across} across the drawing, {seen}."
    for side, cut in (("Left", prism.left), ("Right", prism.right)):
        if cut.run > 0.0:
            yield f"{side} slope: {show(cut.run, 'length', units)} along, {show(cut.drop, 'length', units)} down."
    yield f"Casing, from inside: {_casing(picture, units)}."
    if prism.dividers:
        thick = show(box.divider, "length", units) if box.family != "custom" else "as drawn"
        yield f"Dividers: {box.divider_board}, {thick}."
    if prism.tube is not None:
        radius = picture.made.radius
        bends = f", bends of {show(radius, 'length', units)} radius on its middle" if radius is not None else ""
        duct = show(2.0 * prism.tube.radius, "length", units)
        yield f"Flexible duct {duct}{bends}; fibre of {_density(picture, units)} all round it."
    else:
        yield f"Lining: fibre of {_density(picture, units)}, {_lining(picture, units)}."


def _casing(picture: BoxPicture, units: System) -> str:
    shell = _layers(picture.box.shell, units)
    others = [f"{face}: {_layers(layers, units)}" for face, layers in picture.box.faces.items()]
    return "; ".join([shell, *others])


def _layers(layers: buildup.Buildup, units: System) -> str:
    names = [
        f"{show(layer.thickness or 0.0, 'length', units)} {layer.board}"
        if layer.board
        else "damping compound"
        if layer.damping
        else f"{show(layer.cavity or 0.0, 'length', units)} cavity"
        for layer in layers
    ]
    return ", ".join(names)


def _density(picture: BoxPicture, units: System) -> str:
    return show(picture.box.fill.density, "density", units)


def _lining(picture: BoxPicture, units: System) -> str:
    box = picture.box
    if box.family == "custom":
        return ", ".join(f"{show(one.thickness, 'length', units)} on the {one.face}" for one in box.linings)
    thick = show(box.lining, "length", units)
    if box.family == "straight":
        return f"{thick} on floor, ceiling, front and back"
    if box.family == "plenum":
        return f"{thick} on all faces"
    return f"{thick} on both sides of every pass"
