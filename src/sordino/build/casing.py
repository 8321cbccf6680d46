"""The boards of the casing, layer by layer, each as it is cut; joints of one layer never lie over those of another.

Layers alternate in who runs past whom, and each layer is as much larger as the ones under it are thick: the rule
stands in `elements.box_sheets`.
"""

from __future__ import annotations

from math import degrees

from sordino.build.faces import MM, settled
from sordino.build.part import Edge, Grain, Kind, Part
from sordino.elements.box import Box
from sordino.elements.box_clash import Clash
from sordino.elements.box_sheets import EVEN, Sheet, sheets
from sordino.physics.sound.sources import board
from sordino.physics.wave import prism as wave

LETTERS = "ABCEFGHJKLMNPQRT"
"""Of the layers from inside; D is for dividers and S for sticks."""
GRAINED = ("plywood", "birch plywood", "OSB")
"""Boards that are stiffer one way (judgement: the trade lays them along the longer side)."""


def panels(box: Box, prism: wave.Prism, face: str, prefix: str = "") -> tuple[Part, ...]:
    """Every board of the casing if `face` closes the box, labelled A1, A2, ... from the innermost layer."""
    found, counts = [], dict[int, int]()
    for sheet in sorted(sheets(box, prism, face), key=lambda one: (one.level, EVEN.index(one.face))):
        if sheet.layer.board is None:
            continue
        counts[sheet.level] = counts.get(sheet.level, 0) + 1
        letter = LETTERS[sheet.level % len(LETTERS)] * (1 + sheet.level // len(LETTERS))
        found.append(part_of(sheet, f"{prefix}{letter}{counts[sheet.level]}", "panel"))
    return tuple(found)


def part_of(sheet: Sheet, label: str, kind: Kind) -> Part:
    """A sheet of board as a part, mm; raises Clash if its bevels eat up one of its edges."""
    if not len(sheet.inner) == len(sheet.outer) == len(sheet.blank) > 2:
        raise Clash(
            f"the {sheet.face} of {{depth}} board is eaten up by the bevels at its ends",
            "make that face longer or its casing thinner, or give its neighbours the same layers",
            depth=sheet.depth,
        )
    name = sheet.layer.board
    assert name is not None, "cavities are no parts"
    pose, (outline, inner, outer) = settled(sheet.frame, (sheet.blank, sheet.inner, sheet.outer))
    bevels = zip(sheet.ends, sheet.tilts, strict=True)
    return Part(
        label=label,
        kind=kind,
        face=sheet.face,
        level=sheet.level,
        board=name,
        thickness=MM * sheet.depth,
        outline=outline,
        edges=tuple(Edge(meets=end, bevel=round(degrees(tilt), 6) + 0.0) for end, tilt in bevels),
        inner=inner,
        outer=outer,
        holes=(),
        grain=_grain(name, outline),
        pose=pose,
        volume=1e9 * sheet.volume,
        density=board(name).density,
        damped=sheet.damped,
    )


def _grain(name: str, outline: tuple[tuple[float, float], ...]) -> Grain:
    if name not in GRAINED:
        return "none"
    return "u" if max(u for u, _ in outline) >= max(v for _, v in outline) else "v"
