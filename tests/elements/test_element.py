"""What every part shares: sizes, labels, cut-on, the names of a place."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import made, refusal
from small import between
from sordino.physics.air.properties import STANDARD


def test_cut_on() -> None:
    """0.586 c / d for round, c / 2a for rectangular duct (closed forms; 160 mm and 300 x 200 mm at 343.2 m/s)."""
    assert made("bend", size="160 mm").cut_on(STANDARD) == pytest.approx(1.8412 / np.pi * 343.2 / 0.16, rel=1e-4)
    assert made("bend", size="300 x 200 mm").cut_on(STANDARD) == pytest.approx(343.2 / 0.6)


def test_a_part_takes_the_runs_size_until_a_transition() -> None:
    """Sizes follow the air: 160 mm, then what the transition leads to, and the bare end is of that size."""
    plan = between('{ is = "metal duct", length = "1 m" }, { is = "transition", to = "250 x 100 mm" }, { is = "bend" }')
    sizes = [part.section.area for part in plan.run["way"].parts]
    round_, flat = np.pi / 4 * 0.16**2, 0.025
    assert sizes == pytest.approx([round_, round_, flat, flat])


def test_a_part_lies_where_its_run_lies() -> None:
    """Unless it says otherwise."""
    plan = between('{ is = "bend" }, { is = "metal duct", length = "1 m", in = "loft" }')
    assert [part.within for part in plan.run["way"].parts] == [None, "loft", None]


def test_a_part_without_a_size_is_a_mistake_of_the_program() -> None:
    """Not of the file: parts are sized when they are read."""
    with pytest.raises(AssertionError, match="sized"):
        _ = made("bend").model_copy(update={"size": None}).section


def test_a_kind_nobody_knows() -> None:
    """Told apart by `is`."""
    assert "bend" in refusal("bellows")
