"""Branches and plenums."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import total
from sordino.bands import LINES
from sordino.elements.junction import Branch, Plenum
from sordino.physics.air.properties import STANDARD

TEE = Branch.model_validate({"is": "branch"})
BOX = {"is": "plenum", "length": "0.8 m", "width": "0.5 m", "height": "0.5 m"}


def test_a_tap_at_one_speed() -> None:
    """Idelchik ch. 7 (memory): a square tap at the trunk's speed loses 0.9 x 2 = 1.8 of its own velocity pressure."""
    assert TEE.leaving_coefficient("a", 0.02, 0.04, 0.04) == pytest.approx(1.8)


def test_a_tap_at_half_the_trunks_speed() -> None:
    """x = 0.5: 1 + 0.25 of the trunk's, 5.0 of its own velocity pressure (Idelchik, memory)."""
    assert TEE.leaving_coefficient("a", 0.04, 0.04, 0.08) == pytest.approx(5.0)


def test_a_wye_costs_less_and_straight_on_least() -> None:
    """Angle and the run that goes straight on."""
    wye = Branch.model_validate({"is": "branch", "angle": "45 deg", "straight": "on"})
    tap, side, on = (
        TEE.leaving_coefficient("a", 0.02, 0.04, 0.04),
        wye.leaving_coefficient("a", 0.02, 0.04, 0.04),
        wye.leaving_coefficient("on", 0.02, 0.04, 0.04),
    )
    assert tap > side > on == pytest.approx(0.0)


def test_joining_by_crane() -> None:
    """TP-410 (read), q = a = 0.5, 90 degrees: 0.55 [1 + 1 - 2 x 0.25 - 0] = 0.825 on either's velocity pressure."""
    assert TEE.joining_coefficient("a", 0.02, 0.04, 0.04) == pytest.approx(0.825, abs=0.002)


def test_no_arm_gains_pressure() -> None:
    """A gain that a table would give a weak arm is not credited: a network of rising losses always settles."""
    assert TEE.joining_coefficient("a", 0.01, 0.04, 0.20) >= 0.0


def test_split_of_sound() -> None:
    """8 of 12 ft2: 1.8 dB (application guide 125-1929, p. 75, read); two equal arms of a trunk of their area: 3 dB."""
    np.testing.assert_allclose(TEE.split(12.0, (8.0, 4.0), 0), 1.76, atol=0.05)
    np.testing.assert_allclose(TEE.split(0.04, (0.02, 0.02), 1), 3.01, atol=0.01)


def test_a_plenum_by_wells() -> None:
    """Lined against bare, small outlet against large: more is lost."""
    bare, lined = Plenum.model_validate(BOX), Plenum.model_validate(BOX | {"lining": "50 mm"})
    assert np.all(lined.split(0.02, (0.02, 0.02), 0) > bare.split(0.02, (0.02, 0.02), 0))
    assert np.all(lined.split(0.02, (0.01, 0.02), 0) > lined.split(0.02, (0.02, 0.02), 0))
    assert np.all(lined.split(0.02, (0.02,), 0) >= 0.0)


def test_into_and_out_of_a_plenum() -> None:
    """One velocity pressure in, half of one out (Idelchik 3-1, read)."""
    plenum = Plenum.model_validate(BOX)
    assert plenum.joining_coefficient("a", 0.02, 0.04, 0.04) == 1.0
    assert plenum.leaving_coefficient("a", 0.02, 0.04, 0.04) == 0.5


def test_a_plenum_holds_a_volume() -> None:
    """At low frequency two half chambers are a compliance: C of the four-pole is j w V / (rho c^2)."""
    half = Plenum.model_validate(BOX).half_pole(STANDARD)
    volume = 2.0 * half[0, 1, 0].imag * STANDARD.density * STANDARD.sound_speed**2 / (2.0 * np.pi * LINES[0])
    assert volume == pytest.approx(0.8 * 0.5 * 0.5, rel=0.01)


def test_own_noise() -> None:
    """A branch makes noise that rises with speed; a plenum makes none."""
    levels = [total(TEE.own_noise(speed, 0.02)) for speed in (1.0, 2.0, 4.0, 8.0)]
    assert np.all(np.diff(levels) > 12.0)
    assert Plenum.model_validate(BOX).own_noise(5.0, 0.02) is None
