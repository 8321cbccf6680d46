"""The tables of weight, hanging, lifting and fit, and their record."""

from __future__ import annotations

import json

import pytest

from sordino.assess.weight import PLANNING
from sordino.report import record, text
from sordino.report.weight import sides, structure
from sordino.search.help import helping
from structures import assessed, booth


def test_every_table_stands_once_and_within_the_terminal() -> None:
    rows = structure(assessed())
    titles = ("What it weighs", "What hangs, and from what", "Who lifts it", "Whether it fits its place")
    assert all(rows.count(title) == 1 for title in (*titles, "Whether it passes on the way"))
    assert max(map(len, rows)) <= 100
    assert PLANNING in " ".join(rows)
    assert any("second way to stay up" in row for row in rows)


def test_the_tables_hold_what_was_worked_out() -> None:
    found = assessed()
    rows = structure(found)
    weight = found.structure.weights["muffler"]
    (row,) = (row for row in rows if row.startswith("muffler") and "1272 x 522 x 472 mm" in row)
    assert f"{weight.whole:.0f} kg" in row
    (hung,) = (row for row in rows if row.startswith("muffler") and "loft" in row)
    assert f"{found.structure.hangs[0].load:.0f} N" in hung


def test_sides_in_inches_are_plain_and_unknown_ones_a_dash() -> None:
    plan = booth(("[room.booth]", 'units = "inch"\n[room.booth]'))
    assert sides(plan, (1.2954, 0.5842, 0.635)) == "51 x 23 x 25 in"
    assert sides(plan, (float("nan"),) * 3) == "–"


def test_nothing_is_printed_where_nothing_stands() -> None:
    plain = assessed()
    assert structure(plain)
    text_of = text.report(plain, ("normal",), helping(plain, ("normal",)))
    assert max(map(len, text_of.splitlines())) <= 100


def test_the_record_holds_the_same() -> None:
    found = assessed(('by = "gasket"', 'by = "screws"'), (', deflection = "10 mm"', ""))
    made = json.loads(record.text(record.record(found, ("normal",), helping(found, ("normal",)))))
    stood = made["structure"]
    assert stood["caution"] == PLANNING
    assert stood["weights"][0]["whole_kg"] == pytest.approx(found.structure.weights["muffler"].whole)
    assert stood["hangs"][0]["ringing"] is None
    (helped,) = made["gains"]
    assert helped["question"] == "bridge"
    assert helped["best"][0]["within_limit"] is True
