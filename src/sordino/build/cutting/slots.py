"""A sheet split by through cuts, with places: what each cut parts, where blanks lie and what is left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.build.cutting.blanks import EMPTY, Block, Way, beside


@dataclass(frozen=True, kw_only=True, slots=True)
class Slot:
    """A rectangle of a sheet: cut in two at `at` along `way`, or holding one blank that fills it, or left over."""

    x: int
    y: int
    length: int
    width: int
    blank: int | None = None
    turned: bool = False
    way: Way | None = None
    at: int = 0
    two: tuple[Slot, Slot] | None = None

    @property
    def within(self) -> Iterator[Slot]:
        """This one and all that it is cut into, each before its halves."""
        yield self
        for half in self.two or ():
            yield from half.within

    @property
    def held(self) -> Iterator[Slot]:
        """Those that hold a blank."""
        return (slot for slot in self.within if slot.blank is not None)

    @property
    def left(self) -> Iterator[Slot]:
        """Those left over."""
        return (slot for slot in self.within if slot.blank is None and slot.two is None)


def laid(block: Block, x: int, y: int, length: int, width: int) -> Slot:
    """A block in the lower left corner of a rectangle, what is beyond it cut away first, the larger rest in one."""
    if block.length == 0:
        return Slot(x=x, y=y, length=length, width=width)
    over, beyond = length - block.length, width - block.width
    if over > 0 and over * width >= beyond * length:
        return _cut(block, x, y, length, width, "x", block.length)
    if beyond > 0:
        return _cut(block, x, y, length, width, "y", block.width)
    if block.two is None:
        return Slot(x=x, y=y, length=length, width=width, blank=block.blank, turned=block.turned)
    one, other = block.two
    if block.way == "x":
        halves = laid(one, x, y, one.length, width), laid(other, x + one.length, y, other.length, width)
    else:
        halves = laid(one, x, y, length, one.width), laid(other, x, y + one.width, length, other.width)
    at = one.length if block.way == "x" else one.width
    return Slot(x=x, y=y, length=length, width=width, way=block.way, at=at, two=halves)


def _cut(block: Block, x: int, y: int, length: int, width: int, way: Way, at: int) -> Slot:
    """What is beyond `at` cut away."""
    if way == "x":
        halves = laid(block, x, y, at, width), Slot(x=x + at, y=y, length=length - at, width=width)
    else:
        halves = laid(block, x, y, length, at), Slot(x=x, y=y + at, length=length, width=width - at)
    return Slot(x=x, y=y, length=length, width=width, way=way, at=at, two=halves)


def block_of(slot: Slot) -> Block:
    """The same without what is left over, moved together."""
    if slot.blank is not None:
        return Block(length=slot.length, width=slot.width, blank=slot.blank, turned=slot.turned)
    if slot.two is None:
        return EMPTY
    assert slot.way is not None, "a slot is cut along a way"
    return beside(block_of(slot.two[0]), block_of(slot.two[1]), slot.way)
