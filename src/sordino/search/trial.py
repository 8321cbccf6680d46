"""One change that was tried: what is measured of a plan, and what a change made of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

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

    @property
    def meets(self) -> bool:
        """Whether it is then within the limit."""
        return self.after <= self.limit

    @property
    def share(self) -> float:
        """The figure over its limit."""
        return self.after / self.limit if self.limit > 0.0 else float("inf")


def length(plan: Plan, value: float) -> str:
    """A length as words of a change tell it."""
    return show(round(value, 4), "length", plan.units)
