"""A found layout as records: parts, cuts and offcuts in mm on the sheet, trim and kerf back in their places."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from sordino.build.cutting.blanks import Block
from sordino.build.cutting.records import Cut, Layout, Offcut, Placed, Sheet
from sordino.build.cutting.slots import Slot, laid
from sordino.build.part import Part
from sordino.elements.box_planes import Flat

TENTHS = 10
"""Units of blanks in a millimetre."""
NOTHING = 0.15
"""What is narrower needs no cut, mm: blanks are rounded up to tenths."""


def blank_side(side: float, kerf: float) -> int:
    """A part's side with its kerf, rounded up."""
    return ceil(TENTHS * (side + kerf) - 1e-6)


def sheet_side(side: float, kerf: float, trim: float) -> int:
    """A sheet's side with one kerf and without the trim on both edges, rounded down."""
    return floor(TENTHS * (side - 2.0 * trim + kerf) + 1e-6)


def layout(
    label: str,
    sheet: Sheet,
    block: Block,
    waiting: dict[int, list[Part]],
    saw: tuple[float, float],
    keep: float,
    grained: bool,
) -> Layout:
    """One sheet; parts are taken off the lists of those that wait for a blank of their size; `saw` is kerf and trim."""
    kerf, trim = saw
    root = laid(block, 0, 0, sheet_side(sheet.length, kerf, trim), sheet_side(sheet.width, kerf, trim))
    placed = tuple(_placed(slot, waiting, trim, grained) for slot in root.held)
    lines = (*_trimming(sheet, kerf, trim), *_cuts(root, kerf, trim))
    return Layout(
        label=label,
        sheet=sheet,
        placed=placed,
        cuts=tuple(Cut(number=number, first=a, last=b) for number, (a, b) in enumerate(lines, 1)),
        offcuts=tuple(_offcuts(root, kerf, trim, keep)),
    )


def across(part: Part, grained: bool) -> bool:
    """Whether a part's u runs across the sheet when its blank isn't turned: for its grain, or as its long side is v."""
    return part.grain == "v" if grained and part.grain != "none" else part.size[1] > part.size[0]


def _placed(slot: Slot, waiting: dict[int, list[Part]], trim: float, grained: bool) -> Placed:
    assert slot.blank is not None, "the slot holds a blank"
    part = waiting[slot.blank].pop(0)
    turned = slot.turned != across(part, grained)
    return Placed(part=part, x=trim + slot.x / TENTHS, y=trim + slot.y / TENTHS, turned=turned)


def _trimming(sheet: Sheet, kerf: float, trim: float) -> Iterator[tuple[Flat, Flat]]:
    """Both long edges first, then both ends."""
    if trim <= 0.0:
        return
    half = kerf / 2.0
    for y in (trim - half, sheet.width - trim + half):
        yield (0.0, y), (sheet.length, y)
    for x in (trim - half, sheet.length - trim + half):
        yield (x, trim), (x, sheet.width - trim)


def _cuts(root: Slot, kerf: float, trim: float) -> Iterator[tuple[Flat, Flat]]:
    for slot in root.within:
        if slot.two is None or min(_sides(slot.two[1], 0.0)) <= NOTHING:
            continue
        x, y = trim + slot.x / TENTHS, trim + slot.y / TENTHS
        length, width = _sides(slot, kerf)
        middle = slot.at / TENTHS - kerf / 2.0
        if slot.way == "x":
            yield (x + middle, y), (x + middle, y + width)
        else:
            yield (x, y + middle), (x + length, y + middle)


def _sides(slot: Slot, kerf: float) -> tuple[float, float]:
    return slot.length / TENTHS - kerf, slot.width / TENTHS - kerf


def _offcuts(root: Slot, kerf: float, trim: float, keep: float) -> Iterator[Offcut]:
    for slot in root.left:
        length, width = _sides(slot, kerf)
        if min(length, width) > NOTHING:
            x, y = trim + slot.x / TENTHS, trim + slot.y / TENTHS
            yield Offcut(x=x, y=y, length=length, width=width, kept=min(length, width) >= keep)
