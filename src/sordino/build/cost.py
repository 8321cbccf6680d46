"""What everything on the list costs, as a range, beside what may be spent."""

from __future__ import annotations

from functools import reduce

from sordino.build.lists import Cost, Group, Line, Money, Quantities
from sordino.plan.building import Building

NOTHING = Money(low=0.0, high=0.0)


def cost(found: Quantities, building: Building) -> Cost:
    """The sum of all lines: each from the lowest to the highest price asked."""
    bought = [line for line in found.lines if line.packs]
    names: dict[Group, list[Line]] = {}
    for line in bought:
        names.setdefault(line.group, []).append(line)
    return Cost(
        currency=building.currency,
        whole=_sum(bought),
        groups=tuple((group, _sum(lines)) for group, lines in names.items()),
        budget=building.budget,
        invented=sum(1 for line in bought if line.price.invented),
        oldest=min((line.price.dated for line in bought if line.price.dated), default=""),
    )


def _sum(lines: list[Line]) -> Money:
    return reduce(Money.plus, (line.cost for line in lines), NOTHING)
