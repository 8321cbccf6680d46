"""Noise of moving air against worked examples."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import CENTRES, energy_sum
from sordino.kinds import FOOT
from sordino.physics.sound.flow_noise import (
    bend_noise,
    duct_noise,
    grille_noise,
    junction_noise,
)

GUIDE = "application guide 125-1929 rev 4 (2009)"
FPM = FOOT / 60.0


def test_a_bend_with_vanes(check: Check) -> None:
    """12 ft2 at 1250 ft/min with 15 vanes of 0.8 ft: the guide's example, rounded to whole dB at each
    step."""
    printed = [40, 41, 39, 35, 28, 18, 4]
    ours = bend_noise(1250.0 * FPM, 12.0 * FOOT**2, 1.0, vanes=(15, 0.8 * FOOT))[1:8]
    check("vaned bend Lw, dB", printed, ours, source=f"{GUIDE} p. 71", mark="read", within=1.1)


def test_a_bend_without_vanes(check: Check) -> None:
    """K of the guide's own formula for U = 1528 ft/min, D = 1 ft; its figure reads 4 to 5 dB less, the quieter
    way."""
    speed, section = 1528.0 * FPM, 0.79 * FOOT**2
    ours = bend_noise(speed, section, FOOT)[1:5]
    rest = 10 * np.log10(CENTRES[1:5]) + 50 * np.log10(1528) + 10 * np.log10(0.79) - 107
    source = f"{GUIDE} p. 35, formula"
    check("bend K 63 to 500 Hz, dB", [-16.5, -23.0, -30.5, -39.0], ours - rest, source=source, mark="read", within=0.15)


def test_a_take_off_of_equal_velocity_is_a_bend(check: Check) -> None:
    """At m = 1 the recalled K_J is the printed K of a bend, -9.22 - 16.48 x - 5.05 x^2 with x = lg St."""
    x = np.log10(CENTRES * 0.25 / 4.0)
    rest = 10 * np.log10(CENTRES * 4.0**5 * 0.05 * 0.25) + 23.2
    ours = junction_noise(4.0, 0.05, 0.25, 4.0, radius_ratio=0.13) - rest
    printed = -9.22 - 16.48 * x - 5.05 * x**2
    check("take-off K_J at m = 1, dB", printed, ours, source=f"{GUIDE} p. 35", mark="read", within=0.06)


def test_what_a_sharp_corner_and_stirred_air_add(check: Check) -> None:
    """m = 1.5: -1.667 + 2.7 - 0.299 = 0.734 dB for turbulence; half-rounded at St = 10: 0.5 (6.793 - 1.86) = 2.47
    dB."""
    source = "Reynolds & Bledsoe 1991"
    speed, bore = 5.0, 0.2
    rounded, stirred, half = (
        junction_noise(speed, 0.03, bore, 7.5, radius_ratio=ratio, turbulent=air)[3]
        for ratio, air in ((0.13, False), (0.13, True), (0.065, False))
    )
    check("stirred air, dB", 0.734, stirred - rounded, source=source, mark="memory", within=0.001)
    check("half-rounded corner at St 10, dB", 2.47, half - rounded, source=source, mark="memory", within=0.01)


@pytest.mark.parametrize("speed", [4.0, 7.0])
def test_a_straight_duct_overall(check: Check, speed: float) -> None:
    """7 + 50 lg w + 10 lg S from the octaves added up again."""
    wanted = 7.0 + 50.0 * np.log10(speed) + 10.0 * np.log10(0.08)
    ours = energy_sum(duct_noise(speed, 0.08))
    check(f"straight duct {speed:g} m/s, overall dB", wanted, ours, source="VDI 2081", mark="memory", within=1.0)


def test_a_grille_overall_and_peak(check: Check) -> None:
    """3 m/s, 0.02 m2, 13 Pa (xi 2.4): 10 - 17.0 + 11.4 + 28.6 in all; the peak lies in the 500 Hz octave."""
    ours = grille_noise(3.0, 0.02, 13.0)
    check("grille overall, dB", 33.04, energy_sum(ours), source="Beranek; Reynolds", mark="memory", within=0.7)
    check("grille peak band", 4, int(np.argmax(ours)), source="Beranek; Reynolds", mark="memory", within=0)
