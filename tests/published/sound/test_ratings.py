"""STC and R_w against the worked examples of the standards and of a measured series."""

from __future__ import annotations

import numpy as np

from evidence import Check
from sordino.physics.sound.ratings import stc, weighted_reduction

ISO = "ISO 717-1 Annex C Table C.1"
NRC = "NRC IR-761 (Halliwell et al. 1998)"
WINDOW = [20.4, 16.3, 17.7, 22.6, 22.4, 22.7, 24.8, 26.6, 28.0, 30.5, 31.8, 32.5, 33.4, 33.0, 31.0, 25.5]
REFERENCE = [33, 36, 39, 42, 45, 48, 51, 52, 53, 54, 55, 56, 56, 56, 56, 56]
TL_93_166 = [9, 16, 31, 34, 36, 43, 44, 44, 49, 51, 53, 54, 53, 45, 40, 43]
TL_93_176 = [21.5, 19.5, 21.8, 16.3, 12.5, 11.4, 22.6, 32.7, 36.7, 42.0, 44.2, 48.4, 53.4, 56.1, 57.3, 57.4]
TL_93_176 += [55.4, 45.5, 43.0, 47.4, 53.0, 57.4]


def test_the_standards_example(check: Check) -> None:
    """R_w (C; C_tr) = 30 (-2; -3), unfavourable deviations 31.8 dB."""
    ours = weighted_reduction(WINDOW)
    numbers = [ours.rw, ours.c, ours.ctr]
    check("R_w, C, Ctr, dB", [30, -2, -3], numbers, source=ISO, mark="second-hand", within=0)


def test_the_reference_curve_itself(check: Check) -> None:
    """32 dB over 16 bands let it rise by 2 dB over its value at 500 Hz."""
    ours = weighted_reduction(REFERENCE).rw
    check("R_w of the reference, dB", 54, ours, source="ISO 717-1", mark="second-hand", within=0)


def test_one_weak_band_governs(check: Check) -> None:
    """The 8 dB rule at 125 Hz holds a wall of 12 dB of deficiency to STC 33."""
    check("STC of TL-93-166", 33, stc(TL_93_166), source=NRC, mark="second-hand", within=0)


def test_a_stud_wall_with_cellulose(check: Check) -> None:
    """Both ratings of one spectrum, 50 Hz to 6.3 kHz."""
    check("STC of TL-93-176", 32, stc(TL_93_176[4:20]), source=NRC, mark="second-hand", within=0)
    ours = weighted_reduction(TL_93_176[3:19])
    check(
        "R_w, C, Ctr of TL-93-176, dB", [38, -6, -11], [ours.rw, ours.c, ours.ctr], source=NRC, mark="derived", within=0
    )


def test_the_contour_itself(check: Check) -> None:
    """A wall that is the contour of 40 with nothing missing rates 42 by sum: 16 bands of 2 dB."""
    contour = 40 + np.array([-16, -13, -10, -7, -4, -1, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4])
    check("STC of its own contour", 42, stc(contour), source="ASTM E413", mark="memory", within=0)
