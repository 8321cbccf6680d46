"""Volume dampers."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import heads, made, refusal, rises_with_flow, total
from sordino.physics.air.properties import STANDARD


@pytest.mark.parametrize(("angle", "round_", "flat"), [(0, 0.20, 0.20), (20, 1.54, 1.34), (45, 18.7, 15.07)])
def test_the_published_coefficient_arrives(angle: int, round_: float, flat: float) -> None:
    """Weisbach's throttle valve, round and rectangular (memory)."""
    assert heads(made("damper", angle=f"{angle} deg"), 4.0) == pytest.approx(round_)
    assert heads(made("damper", size="300 x 150 mm", angle=f"{angle} deg"), 4.0) == pytest.approx(flat)


def test_shutting_it_costs_more_and_is_louder() -> None:
    """Loss and noise rise with the angle at one flow."""
    dampers = [made("damper", angle=f"{angle} deg") for angle in (0, 10, 20, 30, 40, 50, 60)]
    assert np.all(np.diff([damper.pressure_loss(0.05, STANDARD) for damper in dampers]) > 0.0)
    assert np.all(np.diff([total(damper.own_noise(0.05, STANDARD)) for damper in dampers]) > 0.0)
    assert rises_with_flow(dampers[3])


def test_noise_of_a_damper_goes_by_its_pressure() -> None:
    """30 lg of the coefficient at one speed (Gordon 1968, second-hand): 3.91 against 0.20 is 38.7 dB."""
    open_, turned = (total(made("damper", angle=f"{a} deg").own_noise(0.05, STANDARD)) for a in (0, 30))
    assert turned - open_ == pytest.approx(30.0 * np.log10(3.91 / 0.20), abs=0.01)


def test_noise_of_a_damper_by_hand() -> None:
    """Beranek's form (memory), 50 L/s, 160 mm, 30 degrees: 10 + 10 lg 0.0201 + 30 lg 3.91 + 60 lg 2.487 = 34.5."""
    assert total(made("damper", angle="30 deg").own_noise(0.05, STANDARD)) == pytest.approx(34.5, abs=0.5)


def test_a_damper_more_than_half_shut_is_spoken_of() -> None:
    """It whistles."""
    assert made("damper", angle="45 deg").notes() == ()
    assert "whistles" in made("damper", angle="46 deg").notes()[0]


def test_it_takes_no_sound_away() -> None:
    """No attenuation is credited."""
    np.testing.assert_array_equal(made("damper", angle="60 deg").attenuation(STANDARD), np.zeros(9))


@pytest.mark.parametrize("angle", ["-10 deg", "100 deg"])
def test_what_no_damper_is(angle: str) -> None:
    """Turned beyond open or shut."""
    assert "0 deg (open) to 90 deg (shut)" in refusal("damper", angle=angle)
