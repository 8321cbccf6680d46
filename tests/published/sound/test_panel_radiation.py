"""Radiation of panels against the integral it stands for, and against Rayleigh's piston."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import j1

from evidence import Check
from sordino.bands import Array
from sordino.physics.sound.customary import SPEED_OF_SOUND
from sordino.physics.sound.panel_radiation import (
    forced_radiation_efficiency,
    radiation_efficiency_small,
    resonant_radiation_efficiency,
)

ANGLES = (np.arange(20) + 0.5) / 20.0 * np.pi / 2.0


def integral(f: float, width: float, height: float) -> Array:
    """Radiation of a plane velocity wave on a rectangle in a wall by its far field, mean over eight azimuths.

    s = S k^2 / 4 pi^2 int sinc^2 sinc^2 dOmega over the half-space, at ANGLES.
    """
    k, n = 2.0 * np.pi * f / SPEED_OF_SOUND, 90
    polar = ((np.arange(n) + 0.5) / n * np.pi / 2.0)[:, None]
    round_ = (np.arange(2 * n) + 0.5) / n * np.pi
    weight = np.sin(polar) * (np.pi / 2.0 / n) * (np.pi / n)
    total = np.zeros(ANGLES.size)
    for azimuth in (np.arange(8) + 0.5) / 8.0 * np.pi / 2.0:
        for place, angle in enumerate(ANGLES):
            x = np.sin(polar) * np.cos(round_) - np.sin(angle) * np.cos(azimuth)
            y = np.sin(polar) * np.sin(round_) - np.sin(angle) * np.sin(azimuth)
            beam = np.sinc(k * width / (2.0 * np.pi) * x) ** 2 * np.sinc(k * height / (2.0 * np.pi) * y) ** 2
            total[place] += float((beam * weight).sum()) / 8.0
    return width * height * k**2 / (4.0 * np.pi**2) * total


@pytest.mark.parametrize(("f", "width", "height"), [(63.0, 4.0, 3.0), (250.0, 1.2, 0.8), (500.0, 0.9, 0.45)])
def test_forced_radiation(check: Check, f: float, width: float, height: float) -> None:
    """Davy's formula, recalled, within half a decibel of the integral: each angle, and the diffuse mean."""
    true, ours = integral(f, width, height), forced_radiation_efficiency(f, np.cos(ANGLES), width, height)
    mean = float((ours * np.sin(ANGLES)).sum() / (true * np.sin(ANGLES)).sum())
    what, source = f"{width:g} x {height:g} m at {f:g} Hz", "forced radiation integral, evaluated by us"
    check(
        f"forced radiation, {what}, each angle, dB",
        np.zeros(20),
        10.0 * np.log10(ours / true),
        source=source,
        mark="derived",
        within=0.7,
    )
    check(
        f"forced radiation, {what}, diffuse mean, dB",
        0.0,
        10.0 * np.log10(mean),
        source=source,
        mark="derived",
        within=0.3,
    )


def test_a_small_panel_against_a_piston(check: Check) -> None:
    """Round piston 1 - 2 J1(2ka)/2ka of the same area, ka 0.25 to 2, dB."""
    ka, radius = np.array([0.25, 0.5, 1.0, 2.0]), 0.2
    piston = 10.0 * np.log10(1.0 - 2.0 * j1(2.0 * ka) / (2.0 * ka))
    width = 0.3
    ours = radiation_efficiency_small(ka * SPEED_OF_SOUND / (2.0 * np.pi * radius), width, np.pi * radius**2 / width)
    source = "Rayleigh's piston, closed form"
    check("panel moving in phase, dB", piston, 10.0 * np.log10(ours), source=source, mark="derived", within=0.7)


def test_own_modes_of_a_panel(check: Check) -> None:
    """(U/S)(c/f_c) d1 + d2 by hand: 1.5 x 1.0 m at a bending wave half as fast as sound, 500 Hz, f_c 2 kHz."""
    ours = resonant_radiation_efficiency(500.0, 0.5, 1.5, 1.0)
    check("resonant radiation", 0.04255, ours, source="EN 12354-1:2000 Annex B, recalled", mark="memory", relative=0.01)
