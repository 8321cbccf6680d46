"""Rectangles to be cut and how a sheet is split by through cuts, in whole tenths of a millimetre.

A kerf is added to every blank and to the sheet, which makes the problem one without kerf: exact as long as every cut
takes one kerf (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Way = Literal["x", "y"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Blank:
    """A rectangle wanted `count` times; `value` counts where not all can be had."""

    length: int
    width: int
    count: int
    turns: bool = False
    value: float = 0.0

    @property
    def area(self) -> int:
        """Of one."""
        return self.length * self.width

    @property
    def ways(self) -> tuple[tuple[int, int, bool], ...]:
        """Along x, along y, and whether turned: one way or two."""
        straight = (self.length, self.width, False)
        return (straight, (self.width, self.length, True)) if self.turns and self.length != self.width else (straight,)

    def fits(self, length: int, width: int) -> bool:
        """Whether it can lie in a rectangle."""
        return any(along <= length and across <= width for along, across, _ in self.ways)


@dataclass(frozen=True, kw_only=True, slots=True)
class Block:
    """Blanks side by side: one blank, or two blocks next to each other along `way`."""

    length: int
    width: int
    blank: int | None = None
    turned: bool = False
    way: Way | None = None
    two: tuple[Block, Block] | None = None

    @property
    def held(self) -> Iterator[int]:
        """The blanks in it, by their number."""
        if self.blank is not None:
            yield self.blank
        for block in self.two or ():
            yield from block.held


EMPTY = Block(length=0, width=0)
"""Nothing."""


def beside(one: Block, other: Block, way: Way) -> Block:
    """Two blocks next to each other."""
    if one == EMPTY or other == EMPTY:
        return other if one == EMPTY else one
    along = way == "x"
    return Block(
        length=one.length + other.length if along else max(one.length, other.length),
        width=max(one.width, other.width) if along else one.width + other.width,
        way=way,
        two=(one, other),
    )


def without(block: Block, spare: dict[int, int]) -> Block:
    """The block with as many of each blank taken out as `spare` says, which is counted down."""
    if block.blank is not None:
        if spare.get(block.blank, 0) > 0:
            spare[block.blank] -= 1
            return EMPTY
        return block
    if block.two is None:
        return block
    assert block.way is not None, "two blocks lie along a way"
    return beside(without(block.two[0], spare), without(block.two[1], spare), block.way)
