"""The counting rules of tables/build/rule.csv, by name."""

from __future__ import annotations

from sordino.tables import table


def rule(name: str) -> float:
    """A rule's value in the unit of its row."""
    return float(table("build/rule").row("name", name)["value"])


def with_waste(amount: float, name: str) -> float:
    """An amount and the share of it that is lost."""
    return amount * (1.0 + rule(name))
