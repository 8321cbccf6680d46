"""Weight and its middle, by hand where a hand can."""

from __future__ import annotations

import pytest

from built import built
from sordino.build.weight import weight


@pytest.mark.parametrize("name", ["serpentine", "labyrinth", "roof", "sideways"])
def test_the_weight_is_that_of_the_kit(name: str) -> None:
    kit = built(name)
    found = weight(kit)
    assert found.whole == pytest.approx(kit.mass)
    assert [label for label, _ in found.pieces] == [piece.label for piece in kit.pieces]
    assert all(a < c < b for a, b, c in zip(found.low, found.high, found.centre, strict=True))


def test_a_box_that_is_the_same_both_ways_hangs_evenly() -> None:
    kit = built("straight")
    found = weight(kit)
    assert found.centre[1] == pytest.approx(125.0, abs=0.5)
    assert found.centre[0] == pytest.approx(400.0, abs=0.5)
    left, right = found.loads(4)
    assert left == pytest.approx(right, rel=1e-3)
    assert 2.0 * (left + right) == pytest.approx(found.whole)
    assert found.loads(6)[0] == pytest.approx(left * 2.0 / 3.0)


def test_loads_hold_the_moment() -> None:
    found = weight(built("roof"))
    left, right = found.loads(4)
    long = found.high[0] - found.low[0]
    middle = found.centre[0] - found.low[0]
    assert 2.0 * (left * 0.15 + right * 0.85) * long == pytest.approx(found.whole * middle)
