"""Branches, expansions and plenums against worked numbers."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import Array
from sordino.kinds import FOOT
from sordino.physics.sound.fourpole import characteristic_impedance, lossy_line, transmission_loss
from sordino.physics.sound.junctions import area_change, branch_split
from sordino.physics.sound.plenum import plenum_wells

WELLS = "Wells 1958"


def test_two_thirds_of_the_sound_goes_the_wider_way(check: Check) -> None:
    """8 of 12 ft2 where the branches together are as large as the main duct: only the area term is left."""
    ours = branch_split(12.0 * FOOT**2, [8.0 * FOOT**2, 4.0 * FOOT**2], 0)
    source = "application guide 125-1929 rev 4 (2009) p. 75"
    check("branch 8 of 12 ft2, dB", 1.8, ours, source=source, mark="read", within=0.05)


def test_a_branch_that_narrows_reflects(check: Check) -> None:
    """Main 0.09 m2, branches 0.03 and 0.015 m2, m = 0.5: 0.51 dB of reflection and 4.77 dB for the third."""
    ours = branch_split(0.09, [0.03, 0.015], 1)
    check("narrow branch, dB", 0.5115 + 4.7712, ours, source="SMACNA eq 11-120", mark="derived", within=0.001)


@pytest.mark.parametrize(("ratio", "loss"), [(4.0, 1.938), (9.0, 4.437), (0.25, 1.938)])
def test_an_area_change(check: Check, ratio: float, loss: float) -> None:
    """10 lg[(1 + m)^2 / 4m], alike both ways."""
    ours = area_change(0.02, 0.02 * ratio)
    check(f"area step 1:{ratio:g}, dB", loss, ours, source="plane waves, continuity", mark="derived", within=0.001)


@pytest.mark.parametrize(("absorption", "loss"), [(0.1, 11.0), (0.3, 16.3), (0.6, 20.2), (0.9, 23.0), (0.95, 23.5)])
def test_a_lined_plenum(check: Check, absorption: float, loss: float) -> None:
    """0.8 x 0.5 x 0.5 m, 150 mm outlet set off by 0.2 m."""
    ours = plenum_wells(0.0177, 0.825, np.arccos(0.970), 2.1, absorption)
    check(f"plenum, absorption {absorption:g}, dB", loss, ours, source=WELLS, mark="derived", within=0.06)


def chamber(f: Array, ratio: float, length: float, nepers: float = 0.0, c: float = 343.2) -> Array:
    """Transmission loss of the program's own four-pole of a chamber between equal ducts, dB."""
    z = characteristic_impedance(0.02, 1.2, c)
    pole = lossy_line(f, length, ratio * 0.02, nepers * 10.0 / np.log(10.0), 1.2, c)
    return transmission_loss(pole, z, z)


def test_an_empty_chamber(check: Check) -> None:
    """Area ratio 11.257 and 257.2 mm: three lobes, one zero."""
    hertz, losses = [100.0, 200.0, 333.0, 500.0, 1000.0], [8.70, 13.30, 15.08, 12.21, 15.08]
    ours = chamber(np.array(hertz), 11.257, 0.2572)
    source = "10 lg[1 + (m - 1/m)^2 sin^2(kL)/4], closed form"
    check("expansion chamber, dB", losses, ours, source=source, mark="second-hand", within=0.02)
    zero = chamber(np.array([667.0]), 11.257, 0.2572)[0]
    check("expansion chamber at half a wave, dB", 0.0, zero, source=source, mark="second-hand", within=0.01)


def test_a_lossy_chamber_is_a_chamber_of_complex_wave_number(check: Check) -> None:
    """|cos kl + j M sin kl| with k l = x - j s/2, worked with complex numbers."""
    f, m, length, s, c = 170.0, 6.0, 0.9, 1.4, 345.0
    kl = 2 * np.pi * f * length / c - 1j * s / 2
    wanted = 20 * np.log10(abs(np.cos(kl) + 0.5j * (m + 1 / m) * np.sin(kl)))
    ours = chamber(np.array([f]), m, length, s, c)[0]
    check("lossy chamber, dB", wanted, ours, source="complex wave number", mark="derived", within=1e-9)
