"""How fast the program is, as ratios and rates measured in one run: `python -m benchmarks`, one line each.

Every file here but this one and `__main__` is a benchmark: its `rows()` gives name, value and goal.
"""

from __future__ import annotations

from typing import NamedTuple


class Row(NamedTuple):
    """One measured figure beside what it should be."""

    name: str
    value: float
    goal: str
    """As `<= 2.5` or `>= 20`; other words are printed as they are."""


def meets(value: float, goal: str) -> bool | None:
    """Whether a value keeps a goal; None for a goal that is no bound."""
    sign, _, bound = goal.partition(" ")
    if sign not in ("<=", ">="):
        return None
    return value <= float(bound) if sign == "<=" else value >= float(bound)
