"""The walls of boxes and ducts as layers for heat and vapour, face by face."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.assess.shells import sheets
from sordino.elements.box import Box
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.metal_duct import MetalDuct
from sordino.elements.wrap import Wrap
from sordino.physics.climate import layers
from sordino.plan.statement import Plan
from sordino.tables import table

STOP_SD = 65.0
"""Vapour resistance of a polythene sheet or foil with taped seams, m of still air: about 0.05 perm."""
RETARDER = "vapour retarder"
STEEL = 7850.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Skin:
    """One kind of face of a part: its layers from inside, which way it faces, how its outermost surface radiates."""

    run: str
    subject: str
    """Key of the box, or of the run for its ducts."""
    part: int
    label: str
    face: str
    """up, side, down, or corner."""
    within: str
    sheets: tuple[layers.Sheet, ...]
    emissivity: float


def skins(plan: Plan, subject: str = "") -> tuple[Skin, ...]:
    """Every face, told apart by what it is made of and how it lies, of all parts that lie in a known place.

    Of one subject only if one is named: a box, or a run for its ducts.
    """
    found: list[Skin] = []
    for name, run in plan.run.items():
        for index, part in enumerate(run.parts):
            mine = part.box if isinstance(part, BuiltBox) else name
            if part.within is not None and subject in ("", mine):
                found += _of_part(name, index, part)
    return tuple(found)


def _of_part(run: str, index: int, part: Element) -> Iterator[Skin]:
    within = part.within or ""
    if isinstance(part, BuiltBox):
        for face, made in _box_faces(part.build):
            yield Skin(
                run=run,
                subject=part.box,
                part=index,
                label=part.label(),
                face=face,
                within=within,
                sheets=made,
                emissivity=emissivity(part.build.wrap),
            )
    elif isinstance(part, FlexibleDuct | MetalDuct):
        made = _flexible(part) if isinstance(part, FlexibleDuct) else _metal(part)
        yield Skin(
            run=run,
            subject=run,
            part=index,
            label=part.label(),
            face="side",
            within=within,
            sheets=made,
            emissivity=emissivity(part.wrap),
        )


def emissivity(wrap: Wrap) -> float:
    """Of the outermost surface."""
    return float(table("climate/jacket").row("jacket", wrap.jacket)["emissivity"])


def _box_faces(box: Box) -> Iterator[tuple[str, tuple[layers.Sheet, ...]]]:
    """Each way of facing with its layers, each pair once; a corner is that of an upright face."""
    lying = {"ceiling": "up", "left slope": "up", "right slope": "up", "floor": "down"}
    seen: dict[tuple[str, tuple[layers.Sheet, ...]], None] = {}
    names = ["ceiling", "floor", "left", "right", "front", "back"]
    names += ["left slope"] * (box.left_slope is not None) + ["right slope"] * (box.right_slope is not None)
    for name in names:
        made = box_sheets(box, name)
        seen[lying.get(name, "side"), made] = None
        if name in ("left", "right", "front", "back"):
            seen["corner", made] = None
    yield from seen


def box_sheets(box: Box, face: str) -> tuple[layers.Sheet, ...]:
    """Layers of one face of a box from the air inside to the air outside."""
    made: list[layers.Sheet] = []
    if box.holds_duct:
        made.append(layers.Sheet(name="film of the duct", resistance=0.0, sd=STOP_SD))
    depth = _lining(box, face)
    if depth > 0.0:
        made.append(layers.fibre(depth, box.fill.density))
    if box.wrap.retarder == "inside":
        made.append(layers.Sheet(name=RETARDER, resistance=0.0, sd=STOP_SD))
    made += sheets(box.layers(face), box.fill.density)
    return (*made, *_wrapping(box.wrap))


def _lining(box: Box, face: str) -> float:
    if box.family != "custom" or box.holds_duct:
        return box.lining
    return max((each.thickness for each in box.linings if each.face == face), default=0.0)


def _wrapping(wrap: Wrap) -> Iterator[layers.Sheet]:
    if wrap.r > 0.0:
        yield layers.Sheet(name="insulation", resistance=wrap.r, sd=0.04 * wrap.r)
    held = float(table("climate/jacket").row("jacket", wrap.jacket)["sd"]) if wrap.retarder == "outside" else 0.0
    if wrap.r > 0.0 or held > 0.0:
        yield layers.Sheet(name="jacket", resistance=0.0, sd=held)


def _flexible(part: FlexibleDuct) -> tuple[layers.Sheet, ...]:
    return (layers.Sheet(name="film of the duct", resistance=0.0, sd=STOP_SD), *_wrapping(part.wrap))


def _metal(part: MetalDuct) -> tuple[layers.Sheet, ...]:
    lined = [layers.fibre(part.lining, 24.0)] if part.lining else []
    wrap = part.wrap
    outer = [] if wrap.jacket == "bare metal" and wrap.r <= 0.0 else list(_wrapping(wrap))
    return (*lined, layers.board("steel sheet", part.sheet / STEEL), *outer)
