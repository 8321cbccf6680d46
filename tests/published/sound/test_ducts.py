"""Straight duct, bare and lined, and flexible duct against the handbook tables."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.kinds import FOOT, INCH
from sordino.physics.sound.ducts import rectangular_lining, rectangular_unlined, round_lined, round_unlined
from sordino.physics.sound.flexible import flexible_duct

GUIDE = "application guide 125-1929 rev 4 (2009)"
ASHRAE = "ASHRAE HVAC Applications"

# Perimeter over area in 1/ft: a square of side s ft has 4/s. At P/A = 2 the guide repeats another row from 2 kHz up,
# so those cells are left out. Its "two-inch" Table 18 prints one-inch numbers and is used as such.
ONE_INCH = {
    12: [2.00, 2.06, 2.18, 3.66, 10.10, 10.36, 4.80, 2.87],
    9: [1.28, 1.43, 1.75, 3.16, 8.27, 8.22, 4.21, 2.67],
    8: [1.08, 1.24, 1.60, 2.98, 7.62, 7.48, 3.98, 2.60],
    4: [0.56, 0.60, 0.96, 2.09, 4.70, 4.29, 2.90, 2.20],
    2: [0.30, 0.32, 0.59, 1.47, 2.90],
    1: [0.16, 0.16, 0.34, 1.03, 1.79, 1.41, 1.54, 1.60],
}
ROUND = {
    (1, 12): [0.23, 0.46, 0.81, 1.45, 2.18, 1.91, 1.48, 1.05],
    (1, 24): [0.07, 0.25, 0.57, 1.28, 1.71, 1.24, 0.85, 0.80],
    (2, 6): [0.56, 0.80, 1.37, 2.25, 2.17, 2.31, 2.04, 1.26],
    (2, 8): [0.51, 0.75, 1.33, 2.23, 2.19, 2.17, 1.83, 1.18],
    (2, 12): [0.42, 0.67, 1.25, 2.18, 2.18, 1.91, 1.48, 1.05],
    (2, 24): [0.25, 0.46, 1.01, 2.00, 1.71, 1.24, 0.85, 0.80],
    (2, 48): [0.11, 0.15, 0.62, 1.36, 0.26, 0.34, 0.45, 0.44],
}
TWO_INCH_LINING = {
    8: [1.48, 2.07, 3.18, 6.10, 7.51, 7.38, 3.88, 2.49],
    4: [0.38, 0.78, 1.79, 4.31, 4.64, 4.23, 2.84, 2.14],
}


@pytest.mark.parametrize("ratio", ONE_INCH)
def test_one_inch_lined_rectangular_duct(check: Check, ratio: int) -> None:
    """Lining and bare duct together, dB/ft, as the guide prints them in its Tables 17 and 18."""
    side, printed = 4.0 / ratio * FOOT, ONE_INCH[ratio]
    ours = (rectangular_unlined(side, side) + rectangular_lining(side, side, INCH)) * FOOT
    what = f"1 in lined duct, P/A {ratio} /ft, dB/ft"
    check(what, printed, ours[1 : 1 + len(printed)], source=f"{GUIDE} Table 17", mark="read", within=0.015)


@pytest.mark.parametrize("ratio", TWO_INCH_LINING)
def test_two_inch_lining_follows_the_formula(check: Check, ratio: int) -> None:
    """A duct twice as wide as high of the same P/A, by hand from B (P/A)^C t^D."""
    height, width = 3.0 / ratio * FOOT, 6.0 / ratio * FOOT
    ours = rectangular_lining(width, height, 2.0 * INCH)[1:] * FOOT
    check(
        f"2 in lining alone, P/A {ratio} /ft, dB/ft",
        TWO_INCH_LINING[ratio],
        ours,
        source="Reynolds & Bledsoe 1991",
        mark="derived",
        within=0.02,
    )


@pytest.mark.parametrize("size", ROUND)
def test_lined_round_duct(check: Check, size: tuple[int, int]) -> None:
    """Thickness and diameter in inches, dB/ft, Tables 20 and 21."""
    thickness, diameter = size
    ours = round_lined(diameter * INCH, thickness * INCH)[1:] * FOOT
    what = f"lined round duct, {thickness} in on {diameter} in, dB/ft"
    check(what, ROUND[size], ours, source=f"{GUIDE} Table 20, 21", mark="read", within=0.0051)


def test_unlined_round_duct(check: Check) -> None:
    """The 12 in row with its 8 kHz value."""
    printed = [0.03, 0.03, 0.03, 0.05, 0.07, 0.07, 0.07, 0.08]
    ours = round_unlined(12.0 * INCH)[1:] * FOOT
    check("bare round duct 12 in, dB/ft", printed, ours, source=GUIDE, mark="read", within=0.001)


def test_unlined_rectangular_duct(check: Check) -> None:
    """The 12 by 12 in row of the ASHRAE table, P/A = 4 /ft; and insulation outside doubling the low bands."""
    ours = rectangular_unlined(FOOT, FOOT)[1:5] * FOOT
    check("bare duct 12x12 in, dB/ft", [0.35, 0.20, 0.10, 0.06], ours, source=ASHRAE, mark="memory", within=0.011)
    wrapped = rectangular_unlined(FOOT, FOOT, insulated=True)[1:5] * FOOT
    printed = [0.70, 0.40, 0.20, 0.06]
    check("the same insulated, dB/ft", printed, wrapped, source=ASHRAE, mark="memory", within=0.025)


@pytest.mark.parametrize(
    ("diameter", "length", "printed"),
    [
        (0.1, 1.8, [3, 6, 6, 16, 19, 21, 14]),
        (0.15, 3.7, [8, 12, 17, 33, 38, 40, 26]),
        (0.2, 0.9, [2, 3, 5, 8, 9, 9, 6]),
        (0.25, 2.7, [6, 8, 17, 24, 27, 26, 16]),
        (0.4, 3.7, [2, 4, 9, 23, 28, 23, 9]),
    ],
)
def test_flexible_duct(check: Check, diameter: float, length: float, printed: list[float]) -> None:
    """Cells of the table of insulated flexible duct, 63 Hz to 4 kHz."""
    what = f"flexible duct {1000 * diameter:g} mm, {length:g} m, dB"
    ours = flexible_duct(diameter, length)[1:8]
    check(what, printed, ours, source=f"{ASHRAE}; Long Table 14.4", mark="memory", within=0.01)


def test_flexible_duct_between_cells(check: Check) -> None:
    """Half way between 150 and 175 mm and twice the longest run, by hand: the mean of both rows doubled."""
    rows = np.array([[8, 12, 17, 33, 38, 40, 26], [8, 12, 19, 33, 37, 38, 25]])
    ours = flexible_duct(0.1625, 7.4)[1:8]
    check("flexible duct 162.5 mm, 7.4 m, dB", rows.sum(axis=0), ours, source=ASHRAE, mark="memory", within=0.01)
