"""Bare duct ends."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import made, rises_with_flow, total
from sordino.physics.air.properties import STANDARD


def test_speed_has_the_ends_own_name() -> None:
    """And the loss is that of exit or entry, which belongs to the run's end."""
    end = made("open end", size="200 mm")
    assert end.velocities(0.0314) == {"open end": pytest.approx(1.0, rel=0.001)}
    assert end.pressure_loss(0.1, STANDARD) == 0.0
    assert end.terminal


def test_noise_is_that_of_three_tenths_of_a_velocity_head() -> None:
    """Beranek's form (memory): 10 + 10 lg S + 30 lg xi + 60 lg U; 5 m/s, 200 mm: 10 - 15.0 - 15.7 + 41.9 = 21.2 dB."""
    end = made("open end", size="200 mm")
    assert total(end.own_noise(5.0 * end.section.area, STANDARD)) == pytest.approx(21.2, abs=1.0)
    assert rises_with_flow(end)


def test_no_loss_of_its_own() -> None:
    """End reflection is worked out where the route ends."""
    np.testing.assert_array_equal(made("open end").attenuation(STANDARD), np.zeros(9))
