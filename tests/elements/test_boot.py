"""Boots between a round duct and the back of a grille."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import heads, made, refusal
from sordino.physics.air.properties import STANDARD


def test_a_turning_boot_costs_more_than_a_straight_one() -> None:
    """22 and 55 ft of 0.08 in w.g. per 100 ft over 0.0505 in w.g. (residential practice; memory): 0.35 and 0.87."""
    for turn, feet in ((False, 22.0), (True, 55.0)):
        boot = made("boot", to="300 x 100 mm", turn=turn)
        assert heads(boot, 4.57) == pytest.approx(feet * 0.08 / 100 / 0.0505, abs=0.005)


def test_a_boot_is_credited_with_no_sound_loss() -> None:
    """Nothing is published for it; below cut-on it is a short length of duct."""
    boot = made("boot", to="300 x 100 mm", length="0.3 m")
    np.testing.assert_array_equal(boot.attenuation(STANDARD), np.zeros(9))
    assert boot.own_noise(0.1, STANDARD) is None
    assert boot.path_length == 0.3


def test_it_ends_in_the_grilles_size() -> None:
    """The run goes on in `to`, which must be given."""
    assert made("boot", to="300 x 100 mm").outlet.area == pytest.approx(0.03)
    assert "to" in refusal("boot")
