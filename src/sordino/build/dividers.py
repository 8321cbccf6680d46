"""The dividers as boards, labelled D1, D2, ..."""

from __future__ import annotations

from sordino.build.casing import part_of
from sordino.build.part import Part
from sordino.elements.box import Box
from sordino.elements.box_dividers import divider_sheets
from sordino.physics.wave import prism as wave


def dividers(box: Box, prism: wave.Prism, prefix: str = "") -> tuple[Part, ...]:
    """Every board of every divider."""
    found = divider_sheets(box, prism)
    return tuple(part_of(sheet, f"{prefix}D{number}", "divider") for number, sheet in enumerate(found, 1))
