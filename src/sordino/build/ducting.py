"""Ducts, fittings, collars, clamps, tape and straps of a whole project."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, dist, tan

from sordino.build.kit import Kit
from sordino.build.rules import rule
from sordino.elements.bend import Bend
from sordino.elements.boot import Boot
from sordino.elements.buildup import thickness
from sordino.elements.damper import Damper
from sordino.elements.element import Element
from sordino.elements.filter import Filter
from sordino.elements.flexible_duct import FlexibleDuct
from sordino.elements.grille import Grille
from sordino.elements.metal_duct import MetalDuct
from sordino.elements.silencer import Silencer
from sordino.elements.transition import Transition
from sordino.plan.statement import Plan
from sordino.quantities import Size

MM = 1e3
ENDS = 0.05
"""What a collar cut from straight duct stands out of the boards at each end, m (judgement)."""
FITTINGS: tuple[tuple[type[Element], str], ...] = (
    (Boot, "boot"),
    (Bend, "bend"),
    (Transition, "transition"),
    (Damper, "damper"),
    (Filter, "filter"),
    (Grille, "grille"),
    (Silencer, "silencer"),
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Item:
    """So much of one kind of thing, of one size: pieces, or m."""

    kind: str
    size: Size | None
    amount: float


def items(plan: Plan, kits: tuple[Kit, ...]) -> tuple[Item, ...]:
    """Everything in the runs and boxes, like things added up."""
    found: dict[tuple[str, Size | None], float] = {}
    for item in (*_in_runs(plan), *_in_boxes(kits)):
        key = (item.kind, item.size)
        found[key] = found.get(key, 0.0) + item.amount
    return tuple(Item(kind=kind, size=size, amount=amount) for (kind, size), amount in found.items())


def _in_runs(plan: Plan) -> Iterator[Item]:
    for run in plan.run.values():
        for part in run.parts:
            if isinstance(part, FlexibleDuct):
                yield from _flexible(part.section, part.length, part.pull)
                yield Item(kind="strap", size=None, amount=_straps(part.length, part.section))
            elif isinstance(part, MetalDuct):
                yield Item(kind="metal", size=part.section, amount=part.length)
                yield Item(kind="tape", size=None, amount=tape(part.section))
            for cls, kind in FITTINGS:
                if isinstance(part, cls):
                    yield Item(kind=kind, size=part.section, amount=1.0)
                    yield Item(kind="tape", size=None, amount=tape(part.section))


def _in_boxes(kits: tuple[Kit, ...]) -> Iterator[Item]:
    for kit in kits:
        for port in kit.made.prism.ports:
            mouth = Size.circle(port.diameter) if port.diameter is not None else Size.rectangle(*(port.sides or (0, 0)))
            if port.slant:  # no collar with a flange fits; it is cut from straight duct
                deep = thickness(kit.box.layers(port.face)) / cos(port.slant)
                yield Item(kind="metal", size=mouth, amount=deep + mouth.width * tan(abs(port.slant)) + 2.0 * ENDS)
            else:
                yield Item(kind="collar", size=mouth, amount=1.0)
            yield Item(kind="tape", size=None, amount=tape(mouth))
        tube = kit.made.prism.tube
        if tube is not None:
            inside = Size.circle(2.0 * tube.radius)
            length = sum(dist(a, b) for a, b in pairwise(tube.centreline))
            yield from _flexible(inside, length, kit.box.pull)


def _flexible(size: Size, length: float, pull: float) -> Iterator[Item]:
    """Its full length: as installed, and its tails, over 1 less the slack; both ends clamped and taped."""
    whole = (length + 2.0 * rule("tail") / MM) / (1.0 - pull)
    yield Item(kind="flexible", size=size, amount=whole)
    yield Item(kind="clamp", size=size, amount=2.0)
    yield Item(kind="tape", size=None, amount=2.0 * tape(size))


def tape(size: Size) -> float:
    """Tape for one joint, m: turns with their overlap."""
    return rule("tape turns") * (size.perimeter + rule("tape overlap") / MM)


def _straps(length: float, size: Size) -> float:
    """Strap under a flexible duct, m: one support every so far, each twice round."""
    count = int(length / (rule("strap distance") / MM)) + 1
    return count * 2.0 * size.perimeter
