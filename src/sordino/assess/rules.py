"""Familiar rules of thumb for fresh air and supply air, as flows."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.tables import table


@dataclass(frozen=True, kw_only=True, slots=True)
class Rule:
    """A rule of thumb as a flow of fresh air in m3/s; NaN where it says nothing of fresh air."""

    words: str
    fresh: float
    supply: float
    """All air that it asks for, m3/s."""
    misses: str


def rules_of_thumb(people: int, volume: float) -> tuple[Rule, ...]:
    """Every rule on record for a room of a volume in m3."""
    rules = table("climate/rules")
    rows = [dict(zip(rules.columns, row, strict=True)) for row in rules.rows]
    return tuple(_rule(row, people, volume) for row in rows)


def _rule(row: dict[str, str], people: int, volume: float) -> Rule:
    by_people = 1e-3 * float(row["per_person"]) * people if row["per_person"] else 0.0
    whole = by_people or float(row["changes"] or 0.0) * volume / 3600.0
    share = float(row["fresh"])
    return Rule(words=row["rule"], fresh=share * whole, supply=whole, misses=row["misses"])
