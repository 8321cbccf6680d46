"""The records of what is bought: lines of a shopping list with amounts, packs and prices."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Group = Literal["boards", "sticks", "fibre", "ducts", "sealing", "damping", "fixings", "hanging"]
Measure = Literal["pieces", "length", "area", "volume"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Money:
    """A range of an amount of money."""

    low: float
    high: float

    def times(self, count: float) -> Money:
        """So many of it."""
        return Money(low=count * self.low, high=count * self.high)

    def plus(self, other: Money) -> Money:
        """Both together."""
        return Money(low=self.low + other.low, high=self.high + other.high)


@dataclass(frozen=True, kw_only=True, slots=True)
class Price:
    """What one pack costs."""

    each: Money
    dated: str
    """When it was asked for, as 2026-03-14; empty if nobody said."""
    source: str
    """`your project`, `your list`, or `invented placeholder`."""

    @property
    def invented(self) -> bool:
        """Whether nobody asked a shop for it."""
        return self.source == "invented placeholder"


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """One thing to buy."""

    key: str
    """By which its price can be given, as `sealant` or `plywood 18 mm, 2440 x 1220 mm`."""
    group: Group
    name: str
    measure: Measure
    need: float
    """What goes into the boxes, waste included: pieces, m, m2 or m3."""
    pack: str
    """What it is sold by, as `sheet` or `tube of 0.3 L`."""
    packs: int
    """How many of them to buy."""
    rule: str
    """How the need was found, in words."""
    price: Price

    @property
    def cost(self) -> Money:
        """Of all packs."""
        return self.price.each.times(self.packs)


@dataclass(frozen=True, kw_only=True, slots=True)
class FibrePiece:
    """One piece of fibre as it is cut, mm, loose thickness."""

    label: str
    """As `F3`, after the box's own prefix."""
    box: str
    place: str
    """Where it goes: `lining on the floor`, `filling of pass 2`."""
    length: float
    width: float
    thickness: float
    """As it lies in the box."""
    loose: float
    """As it comes from the bag."""
    count: int

    @property
    def area(self) -> float:
        """m2, all of them."""
        return 1e-6 * self.length * self.width * self.count


@dataclass(frozen=True, kw_only=True, slots=True)
class Quantities:
    """The shopping list of a project."""

    lines: tuple[Line, ...]
    fibre: tuple[FibrePiece, ...]
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Cost:
    """What it all costs, as a range, beside what may be spent."""

    currency: str
    whole: Money
    groups: tuple[tuple[Group, Money], ...]
    budget: float | None
    invented: int
    """How many prices nobody asked a shop for."""
    oldest: str
    """The earliest date among the prices; empty if none has one."""

    @property
    def overspend(self) -> Money | None:
        """How far it goes over the budget at the least and at the most; nil where it stays within."""
        if self.budget is None:
            return None
        return Money(low=max(self.whole.low - self.budget, 0.0), high=max(self.whole.high - self.budget, 0.0))
