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


def test_noise_is_that_of_one_velocity_head_lost() -> None:
    """Beranek's form (memory): 10 + 10 lg S + 60 lg U overall; 5 m/s, 200 mm: 10 - 15.0 + 41.9 = 36.9 dB."""
    end = made("open end", size="200 mm")
    assert total(end.own_noise(5.0 * end.section.area, STANDARD)) == pytest.approx(36.9, abs=1.0)
    assert rises_with_flow(end)


def test_no_loss_of_its_own() -> None:
    """End reflection is worked out where the route ends."""
    np.testing.assert_array_equal(made("open end").attenuation(STANDARD), np.zeros(9))
