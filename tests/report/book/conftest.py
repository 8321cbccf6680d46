"""The books that the tests read: an example's, and one of each small box in both systems of units."""

from __future__ import annotations

import pytest

from booked import book, example
from boxed import BOXES
from sordino.report.book.material import Material

BOOKS = [("mill-loft.toml", "metric"), *((name, units) for name in BOXES for units in ("metric", "inch"))]


@pytest.fixture(params=BOOKS, ids=lambda case: f"{case[0]}-{case[1]}")
def made(request: pytest.FixtureRequest) -> Material:
    """Each of them in turn."""
    name, units = request.param
    return example(name) if name.endswith(".toml") else book(name, units)
