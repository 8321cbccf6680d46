"""Bought silencers by their makers' figures."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from elements.made import made, noise, refusal, rises_with_flow
from sordino.physics.air.properties import STANDARD
from sordino.physics.sound.fourpole import characteristic_impedance, transmission_loss

LOSS = [4, 7, 13, 22, 28, 24, 16, 11]
FIELDS: dict[str, Any] = {"length": "0.9 m", "loss": LOSS, "drop": "18 Pa", "at": "80 L/s"}


def test_the_makers_figures_arrive() -> None:
    """Loss per octave, and pressure by the square of flow from the stated point."""
    silencer = made("silencer", **FIELDS)
    np.testing.assert_array_equal(silencer.attenuation(STANDARD)[1:], LOSS)
    assert np.isnan(silencer.attenuation(STANDARD)[0])
    assert silencer.pressure_loss(0.080, STANDARD) == pytest.approx(18.0)
    assert silencer.pressure_loss(0.040, STANDARD) == pytest.approx(4.5)


def test_between_matched_ducts_it_loses_just_that() -> None:
    """Below cut-on its four-pole is a matched attenuator."""
    silencer = made("silencer", **FIELDS)
    z = characteristic_impedance(silencer.section.area, STANDARD.density, STANDARD.sound_speed)
    np.testing.assert_allclose(
        transmission_loss(silencer.four_pole(STANDARD), z, z), np.repeat(np.array([4, *LOSS], float), 9)
    )


def test_own_noise_where_the_maker_gives_it() -> None:
    """At the stated flow as stated, else by 55 lg of flow (between the 50 and 60 of ducts and dampers; judgement)."""
    assert made("silencer", **FIELDS).own_noise(0.08, STANDARD) is None
    loud = made("silencer", **FIELDS, noise=[40, 38, 36, 34, 32, 30, 26, 20])
    np.testing.assert_allclose(noise(loud, 0.080)[1:], [40, 38, 36, 34, 32, 30, 26, 20])
    np.testing.assert_allclose(noise(loud, 0.040)[1], 40 - 55 * np.log10(2))
    assert rises_with_flow(loud)


@pytest.mark.parametrize(
    "fields", [{"loss": LOSS[:6]}, {"loss": [-1, *LOSS[1:]]}, {"drop": None}, {"at": "0.9 m"}, {"at": "0 L/s"}]
)
def test_what_no_silencer_is(fields: dict[str, object]) -> None:
    """Six bands, a gain, no pressure drop, a length for a flow."""
    assert refusal("silencer", **(FIELDS | fields))
