"""One change that was tried: what is measured of a plan, and what a change made of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf

from sordino.plan.statement import Plan
from sordino.search.edits import Edit
from sordino.units import show

Change = tuple[str, Edit]
"""What a change is called, and what it does to a plan."""
Measure = Callable[[Plan], tuple[float, float]]
"""The figure of a plan and its upper limit."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gain:
    """A change and what it gives: the figure before and after and its limit, in the finding's unit."""

    words: str
    before: float
    after: float
    limit: float
    plan: Plan = field(repr=False, compare=False)
    """The plan with the change."""
    cost: str = ""
    """What else it costs, in words; empty where nothing is known of."""

    @property
    def meets(self) -> bool:
        """Whether it is then within the limit."""
        return self.after <= self.limit

    @property
    def over(self) -> float:
        """How far over its limit the figure is, as a share."""
        return share_over(self.after, self.limit)


def share_over(value: float, limit: float) -> float:
    """How far over its limit a figure is, as a share; endless where nothing at all would do, or nothing may be left."""
    if value <= limit:
        return 0.0 if limit <= 0.0 else value / limit - 1.0
    return inf if limit <= 0.0 else value / limit - 1.0


def length(plan: Plan, value: float) -> str:
    """A length as words of a change tell it."""
    return show(round(value, 4), "length", plan.units)
