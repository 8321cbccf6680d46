"""The ranges inside which each handbook method was tabulated or measured."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.tables import table


@dataclass(frozen=True, kw_only=True, slots=True)
class Validity:
    """One quantity of one method and the range in which the method stands on data."""

    method: str
    quantity: str
    low: float
    high: float
    unit: str

    def holds(self, value: float) -> bool:
        """Whether a value lies inside, with a per cent for rounding of nominal sizes."""
        return 0.99 * self.low <= value <= 1.01 * self.high


def validities(method: str) -> tuple[Validity, ...]:
    """The ranges of a method, empty if it has none on record."""
    listed = table("sound/validity")
    rows = (dict(zip(listed.columns, row, strict=True)) for row in listed.rows)
    return tuple(
        Validity(
            method=method,
            quantity=row["quantity"],
            low=float(row["low"]),
            high=float(row["high"]),
            unit=row["unit"],
        )
        for row in rows
        if row["method"] == method
    )


def stretched(method: str, **quantities: float) -> tuple[Validity, ...]:
    """The ranges that the given quantities leave: `stretched("flexible duct", diameter=0.08)`.

    A quantity is named as in the table with `_` for a space; one without a range on record is never
    stretched.
    """
    given = {name.replace("_", " "): value for name, value in quantities.items()}
    return tuple(
        validity
        for validity in validities(method)
        if validity.quantity in given and not validity.holds(given[validity.quantity])
    )
