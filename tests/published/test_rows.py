"""The evidence table itself can fail."""

from __future__ import annotations

import pytest

from evidence import ROWS, Check


def test_a_wrong_number_fails_and_is_counted(check: Check) -> None:
    """A computed value outside its tolerance raises, and its row says so."""
    with pytest.raises(AssertionError, match="OUT"):
        check("two", 2.0, 2.2, source="arithmetic", mark="derived", relative=0.05)
    assert not ROWS.pop().within


def test_the_worst_of_several_is_the_row(check: Check) -> None:
    """An array's row shows the element that deviates most."""
    check("pair", [1.0, 2.0], [1.0, 2.05], source="arithmetic", mark="derived", within=0.1)
    row = ROWS.pop()
    assert row.published == 2.0
    assert row.quantity == "pair, worst of 2"
