"""The ranges inside which each handbook method was tabulated or measured."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.tables import table

NOMINAL = 0.01
"""Share by which a nominal size may leave a range: rounding."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stretch:
    """One quantity that lies outside the data of a method, over or under them."""

    quantity: str
    over: bool


def stretched(method: str, **quantities: float) -> tuple[Stretch, ...]:
    """The quantities that leave the range of a method: `stretched("flexible duct", diameter=0.08)`.

    A quantity is named as in the table with `_` for a space; one without a range on record is never
    stretched.
    """
    listed = table("sound/validity")
    ends = zip(listed.text("method"), listed.text("quantity"), listed.numbers("low", "high"), strict=True)
    ranges = {quantity: (float(low), float(high)) for name, quantity, (low, high) in ends if name == method}
    found = []
    for key, value in quantities.items():
        quantity = key.replace("_", " ")
        low, high = ranges.get(quantity, (value, value))
        if not (1.0 - NOMINAL) * low <= value <= (1.0 + NOMINAL) * high:
            found.append(Stretch(quantity=quantity, over=value > high))
    return tuple(found)
