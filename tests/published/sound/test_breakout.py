"""Breakout and break-in of metal ducts against the handbook table."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.kinds import FOOT, INCH, POUND
from sordino.physics.sound.breakout import (
    effective_length,
    rectangular_breakin_loss,
    rectangular_breakout_loss,
    round_breakout_loss,
)

POUND_PER_SQUARE_FOOT = POUND / FOOT**2
TABLE = "ASHRAE HVAC Applications, rectangular TL_out"


@pytest.mark.parametrize(
    ("width", "height", "mass", "printed"),
    [
        (12, 12, 1.0, [21, 24, 27, 30, 33, 36, 41, 45]),
        (12, 24, 1.0, [19, 22, 25, 28, 31, 35, 41, 45]),
        (24, 24, 1.2, [20, 23, 26, 29, 32, 37, 43, 45]),
    ],
)
def test_breakout_of_sheet_metal(check: Check, width: float, height: float, mass: float, printed: list[int]) -> None:
    """Sides in inches, surface mass in lb/ft2, 20 ft."""
    ours = rectangular_breakout_loss(width * INCH, height * INCH, mass * POUND_PER_SQUARE_FOOT, 20 * FOOT)[1:]
    check(f"breakout {width}x{height} in, dB", printed, ours, source=TABLE, mark="memory", within=0.55)


def test_break_in_above_cut_on(check: Check) -> None:
    """Three dB under the breakout loss from 6764/a = 564 Hz for 12 in."""
    ours = rectangular_breakin_loss(12 * INCH, 12 * INCH, POUND_PER_SQUARE_FOOT, 20 * FOOT)[5:]
    check("break-in 1 to 8 kHz, dB", [30, 33, 38, 42], ours, source="Long eq 14.59", mark="memory", within=0.55)


def test_break_in_below_cut_on(check: Check) -> None:
    """24 x 12 in, 1 lb/ft2, 12 ft at 250 Hz: f1 = 281.8, TL_out 25.4, 25.4 - 4 - 3.01 - 1.04 = 17.35."""
    ours = rectangular_breakin_loss(12 * INCH, 24 * INCH, POUND_PER_SQUARE_FOOT, 12 * FOOT)[3]
    check("break-in at 250 Hz, dB", 17.4, ours, source="Long eq 14.59; SMACNA 11.24", mark="derived", within=0.1)
    least = 10 * np.log10(12 * 12 * (1 / 12 + 1 / 24))
    ours = rectangular_breakin_loss(12 * INCH, 24 * INCH, POUND_PER_SQUARE_FOOT, 12 * FOOT)[1]
    check("break-in at 63 Hz, dB", least, ours, source="Long eq 14.59; SMACNA 11.24", mark="derived", within=0.01)


def test_breakout_of_round_duct(check: Check) -> None:
    """8 in spiral duct."""
    printed = [48, 64, 75, 72, 56, 56, 46, 29]
    ours = round_breakout_loss(8 * INCH)[1:]
    check("breakout 8 in spiral, dB", printed, ours, source="ASHRAE, round TL_out", mark="memory", within=0.01)


def test_effective_length(check: Check) -> None:
    """6 m losing 2 dB/m: (1 - 10^-1.2) 10/(2 ln 10) = 2.034 m."""
    ours = effective_length(6.0, 2.0)
    check("effective length, m", 2.034, ours, source="integral of the decay", mark="derived", within=0.001)
