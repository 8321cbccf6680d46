"""What one pack costs: stated in the project or in a list, or an invented placeholder that says so."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from datetime import date

from sordino.build.lists import Money, Price
from sordino.errors import Refusal
from sordino.plan.building import Building
from sordino.tables import table

INVENTED = "invented placeholder"
COLUMNS = ("name", "low", "high", "dated")
MOST = 1e6


def price_for(key: str, kind: str, measure: float, building: Building, listed: Mapping[str, Price]) -> Price:
    """Of one pack: from the list, else the project, else the placeholder of its kind times `measure`."""
    if key in listed:
        return listed[key]
    stated = building.price.get(key)
    if stated is not None:
        high = stated.low if stated.high is None else stated.high
        dated = "" if stated.dated is None else stated.dated.isoformat()
        return Price(each=Money(low=stated.low, high=high), dated=dated, source="your project")
    row = table("build/price").row("kind", kind)
    each = Money(low=float(row["low"]), high=float(row["high"])).times(measure)
    return Price(each=Money(low=round(each.low, 2), high=round(each.high, 2)), dated="", source=INVENTED)


def read_prices(text: str) -> dict[str, Price]:
    """A list of prices as CSV with the columns name, low, high and dated; rows without a low are left out.

    A row that carries the mark of a placeholder in `source` stays one: only an edited row, its mark taken away, counts.
    Raises Refusal that names the row.
    """
    rows = csv.DictReader(io.StringIO(text.removeprefix("\ufeff")))
    missing = [name for name in ("name", "low") if name not in (rows.fieldnames or ())]
    if missing:
        raise Refusal(
            f"the list of prices has no column {missing[0]}", f"the first row names the columns: {', '.join(COLUMNS)}"
        )
    found: dict[str, Price] = {}
    for number, row in enumerate(rows, 2):
        name, low = (row.get("name") or "").strip(), (row.get("low") or "").strip()
        if name and low and (row.get("source") or "").strip() != INVENTED:
            found[name] = _price(row, low, number)
    return found


def _price(row: Mapping[str, str | None], low: str, number: int) -> Price:
    least = _amount(low, number)
    most = _amount((row.get("high") or "").strip() or low, number)
    if most < least:
        raise Refusal(f"row {number} of the prices runs backwards, from {least:g} to {most:g}", "write low before high")
    dated = (row.get("dated") or "").strip()
    if dated:
        try:
            date.fromisoformat(dated)
        except ValueError:
            raise Refusal(f"row {number} of the prices is dated '{dated[:20]}'", "write it as 2026-03-14") from None
    return Price(each=Money(low=least, high=most), dated=dated, source="your list")


def _amount(text: str, number: int) -> float:
    try:
        value = float(text)
    except ValueError:
        raise Refusal(
            f"row {number} of the prices reads '{text[:20]}' for a price", "write a number, as 12.50"
        ) from None
    if not 0.0 <= value <= MOST:
        raise Refusal(f"row {number} of the prices reads '{text[:20]}' for a price", "prices from 0 to a million do")
    return value
