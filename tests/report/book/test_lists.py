"""The lists beside a book: whole, readable again, and harmless in a spreadsheet."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

from booked import book
from sordino.build.lists import Money
from sordino.build.prices import read_prices
from sordino.report.book.lists import csv_lists
from sordino.report.book.material import Material


def lists(made: Material) -> dict[str, str]:
    """Every list of a book as text."""
    kits = tuple(one.kit for one in made.boxes)
    return {name: data.decode("utf-8") for name, data in csv_lists(kits, made.cutting, made.quantities)}


def rows(text: str) -> list[dict[str, str]]:
    """A list as a spreadsheet reads it."""
    return list(csv.DictReader(io.StringIO(text)))


def labels(text: str) -> list[str]:
    return [row["label"] for row in rows(text)]


def test_every_board_and_stick_is_listed_once_and_cut_from_something() -> None:
    made = book("roof")
    (kit,), found = (one.kit for one in made.boxes), lists(made)
    assert labels(found["boards.csv"]) == [part.label for part in kit.parts]
    assert sorted(labels(found["sheets.csv"])) == sorted(part.label for part in kit.parts)
    assert all(row["sheet"].startswith("Sheet ") for row in rows(found["sheets.csv"]))
    assert labels(found["sticks.csv"]) == [stick.label for stick in kit.sticks]
    assert sorted(labels(found["bars.csv"])) == sorted(stick.label for stick in kit.sticks)
    assert all(row["bar"].startswith("Bar ") for row in rows(found["bars.csv"]))


def test_prices_go_out_and_come_back() -> None:
    """Placeholders stay placeholders; an edited row counts."""
    made = book("labyrinth")
    text = lists(made)["shopping.csv"]
    assert read_prices(text) == {}
    told = rows(text)
    told[0].update(low="12", high="14", dated="2026-05-05", source="")
    out = io.StringIO()
    writer = csv.DictWriter(out, told[0].keys())
    writer.writeheader()
    writer.writerows(told)
    back = read_prices(out.getvalue())
    assert {name: price.each for name, price in back.items()} == {
        made.quantities.lines[0].key: Money(low=12.0, high=14.0)
    }


def test_a_text_that_a_spreadsheet_would_run_is_harmless() -> None:
    """A box may be called `=1+1`."""
    made = book("straight")
    for name in ("=1+1", "+1", "-1", "@sum", "\t=1"):
        fibre = tuple(replace(piece, box=name) for piece in made.quantities.fibre)
        found = lists(replace(made, quantities=replace(made.quantities, fibre=fibre)))["fibre.csv"]
        assert {row["box"] for row in rows(found)} == {f"'{name}"}
