"""A weighting against the printed table of the sound level meter standard."""

from __future__ import annotations

import numpy as np

from evidence import Check
from sordino.bands import COUNT
from sordino.physics.sound.weighting import a_level, a_weighting

TABLE = "IEC 61672-1:2013 Table 3"
EXACT = 1000.0 * 10.0 ** (np.arange(-20, 14) / 10.0)
A = [-70.4, -63.4, -56.7, -50.5, -44.7, -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6]
A += [-6.6, -4.8, -3.2, -1.9, -0.8, 0, 0.6, 1.0, 1.2, 1.3, 1.2, 1.0, 0.5, -0.1, -1.1, -2.5, -4.3, -6.6, -9.3]


def test_a_weighting_is_the_printed_table(check: Check) -> None:
    """Thirty-four one-third octaves 10 Hz to 20 kHz, printed to 0.1 dB."""
    check("A weighting, dB", A, a_weighting(EXACT), source=TABLE, mark="second-hand", within=0.06)


def test_the_a_level_of_one_band(check: Check) -> None:
    """70 dB in the 250 Hz octave and nothing known elsewhere."""
    levels = np.full(COUNT, np.nan)
    levels[3] = 70.0
    check("70 dB at 250 Hz, dB(A)", 61.4, a_level(levels), source=TABLE, mark="second-hand", within=0.1)
