"""Room acoustics against textbook numbers and closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import COUNT
from sordino.physics.sound.modes import PURE_TONE_SPREAD, modal_bands, modal_field
from sordino.physics.sound.rooms import (
    diffuse_level_difference,
    direct_and_reverberant,
    room_constant,
    sabine_time,
    schroeder_frequency,
)

VOLUME, SURFACE = 16.56, 39.24
TIMES = {0.1: 0.679, 0.3: 0.226, 0.5: 0.136}


@pytest.mark.parametrize("absorption", TIMES)
def test_reverberation_of_a_booth(check: Check, absorption: float) -> None:
    """3 x 2.4 x 2.3 m at three mean absorptions."""
    sabine = TIMES[absorption]
    ours = sabine_time(VOLUME, absorption * SURFACE)
    check(f"Sabine time, a {absorption:g}, s", sabine, ours, source="Sabine", mark="derived", within=0.0006)


def test_level_from_power(check: Check) -> None:
    """Direct field alone is -11 dB at 1 m; reverberant alone is 4/R; S a/(1 - a) of the booth at a = 0.3 is
    16.8."""
    source = "Lp = Lw + 10 lg[Q/(4 pi r^2) + 4/R]"
    ours = direct_and_reverberant(1.0, 1e9)
    check("free field at 1 m, dB", -10.99, ours, source=source, mark="derived", within=0.01)
    constant = room_constant(SURFACE, 0.3)
    check("room constant, m2", 16.817, constant, source=source, mark="derived", within=0.001)
    ours = direct_and_reverberant(1.2, constant, 2.0)
    check("booth at 1.2 m in a wall, dB", -4.58, ours, source=source, mark="derived", within=0.01)


def test_schroeder(check: Check) -> None:
    """2000 sqrt(0.3/30) = 200 Hz."""
    ours = schroeder_frequency(30.0, 0.3)
    check("Schroeder frequency, Hz", 200.0, ours, source="Schroeder 1962", mark="memory", within=1e-6)


def test_level_difference_through_a_wall(check: Check) -> None:
    """R 50 dB, 10 m2 into 5 m2: 47 dB."""
    ours = diffuse_level_difference(50.0, 10.0, 5.0)
    check("level difference, dB", 46.99, ours, source="R' = D + 10 lg(S/A), ISO 16283", mark="second-hand", within=0.01)


def test_a_very_low_tone_meets_the_volume_alone(check: Check) -> None:
    """p = rho c^2 q/(j w V) with q from W = rho w^2 q^2/(2 pi c): Lp - Lw = 10 lg[2 pi / (V^2 k^4)]."""
    f, volume, c = 3.0, 2.0 * 1.8 * 2.2, 340.0
    k = 2.0 * np.pi * f / c
    wanted = 10.0 * np.log10(2.0 * np.pi / (volume**2 * k**4))
    ours = 10.0 * np.log10(modal_field(np.array([f]), (2.0, 1.8, 2.2), 0.05, c).mean)
    check("compliance of a booth at 3 Hz, dB", wanted, ours[0], source="compliance", mark="derived", within=0.1)


def test_the_first_mode_of_a_long_room(check: Check) -> None:
    """At resonance the lengthwise mode alone is e / (k A/4V)^2: 2 pi/V^2 e (4V/kA)^2, e = 1.154 over its
    walls."""
    sides, area, c = np.array([7.0, 2.0, 2.2]), 0.8, 343.0
    k, volume = np.pi / 7.0, 30.8
    walls = volume / sides
    on_walls = (2.0 * walls[0] + walls[1] + walls[2]) / walls.sum()
    wanted = 10.0 * np.log10(2.0 * np.pi / volume**2 * on_walls * (4.0 * volume / (k * area)) ** 2)
    ours = 10.0 * np.log10(modal_field(np.array([c / 14.0]), sides, area, c).mean)
    check("first mode of a 7 m room, dB", wanted, ours[0], source="modal sum", mark="derived", within=0.1)


def test_a_diffuse_field_scatters_as_tones_do(check: Check) -> None:
    """Mean square pressure is exponentially distributed, so a tone's level has the deviation (10/ln 10) pi/sqrt 6.

    A band of nine tones has a third of it.
    """
    wanted = 10.0 / np.log(10.0) * np.pi / np.sqrt(6.0)
    check("spread of a tone, dB", wanted, PURE_TONE_SPREAD, source="Schroeder 1954", mark="derived", within=0.01)
    ours = modal_bands((4.0, 3.0, 2.5), np.full(COUNT, 8.0)).spread[7]
    check("spread of the 4 kHz octave, dB", wanted / 3.0, ours, source="Schroeder 1954", mark="derived", within=0.01)
