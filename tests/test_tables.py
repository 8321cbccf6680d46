"""Every bundled table loads, is rectangular and says where it comes from."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from evidence import MARKS
from sordino.tables import table

ROOT = Path(str(files("sordino.tables")))
NAMES = sorted(path.relative_to(ROOT).with_suffix("").as_posix() for path in ROOT.rglob("*.csv"))


@pytest.mark.parametrize("name", NAMES)
def test_a_table_names_its_source_and_mark(name: str) -> None:
    """Title, source, unit and a known mark stand in the header, and no row is ragged."""
    loaded = table(name)
    assert {"title", "source", "unit", "mark"} <= loaded.header.keys()
    assert loaded.header["mark"].split()[0].strip(",;") in MARKS
    assert all(len(row) == len(loaded.columns) for row in loaded.rows)
    assert loaded.rows
