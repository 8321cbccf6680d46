"""Panels and composite walls against measured and standard numbers."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import LINES
from sordino.physics.sound.panels import (
    band_loss,
    composite_loss,
    critical_frequency,
    double_leaf_loss,
    field_mass_law,
    mass_air_mass,
    normal_mass_law,
    single_leaf_loss,
)
from sordino.physics.sound.sources import board

MEASURED = "Bies, Hansen & Howard 2017 Table 7.6"
SINGLE = {
    "gypsum board 9 mm": ("gypsum board", 0.009, 7.0, [15, 20, 24, 29, 32, 35]),
    "plywood 6 mm": ("plywood", 0.006, 3.5, [9, 13, 16, 21, 27, 29]),
    "plywood 12 mm": ("plywood", 0.012, 7.0, [10, 15, 17, 19, 20, 26]),
    "plywood 18 mm": ("plywood", 0.018, 10.0, [24, 22, 27, 28, 25, 27]),
    "chipboard 19 mm": ("chipboard", 0.019, 11.0, [17, 18, 25, 30, 26, 32]),
    "steel 0.55 mm": ("steel sheet", 0.00055, 6.0, [8, 14, 20, 23, 26, 27]),
    "steel 0.9 mm": ("steel sheet", 0.0009, 7.0, [8, 14, 20, 26, 32, 38]),
    "steel 1.2 mm": ("steel sheet", 0.0012, 10.0, [13, 20, 24, 29, 33, 39]),
}
DOUBLE = {False: [33, 39, 50, 64, 51, 59], True: [42, 56, 68, 74, 70, 73]}


@pytest.mark.parametrize("name", SINGLE)
def test_a_single_panel_as_measured(check: Check, name: str) -> None:
    """Median over 125 Hz to 4 kHz of model less measurement: within 5 dB, our stated scatter; one row
    each."""
    kind, thickness, mass, measured = SINGLE[name]
    sheet = board(kind)
    ours = single_leaf_loss(LINES, mass, sheet.critical_frequency(thickness), sheet.loss_factor)
    gap = np.median(band_loss(ours)[2:8] - measured)
    what = f"{name}, median of model less measured, dB"
    check(what, 0.0, gap, source=MEASURED, mark="second-hand", within=5.0)


@pytest.mark.parametrize("filled", DOUBLE)
def test_a_double_panel_as_measured(check: Check, filled: bool) -> None:
    """2 x 16 mm gypsum, 200 mm apart without studs: the model stays below the measurement, by 8 dB in the
    median."""
    sheet = board("gypsum board")
    critical = sheet.critical_frequency(0.016)
    ours = double_leaf_loss(LINES, 11.5, critical, 11.5, critical, 0.2, filled, sheet.loss_factor)
    gaps = band_loss(ours)[2:8] - DOUBLE[filled]
    what = f"double gypsum, {'filled' if filled else 'empty'}, median of model less measured, dB"
    check(what, 0.0, np.median(gaps), source=MEASURED, mark="second-hand", within=8.5)
    assert gaps.max() < 3.0


def test_critical_frequency_of_plywood(check: Check) -> None:
    """18 mm of 600 kg/m3 at 6, 8 and 10 GPa."""
    ours = critical_frequency(0.018, 10.8, np.array([6e9, 8e9, 10e9]))
    source = "f_c = c^2/(2 pi) sqrt(m/B)"
    check("plywood 18 mm, Hz", [1090, 940, 840], ours, source=source, mark="second-hand", relative=0.006)


def test_mass_laws(check: Check) -> None:
    """18 mm plywood by the field law; 10 kg/m2 at 500 Hz at normal incidence, worked by hand."""
    ours = field_mass_law(np.array([125.0, 250.0, 500.0, 1000.0]), 10.0)
    check(
        "18 mm plywood, mass law, dB",
        [14.9, 21.0, 27.0, 33.0],
        ours,
        source="R = 20 lg(m f) - 47",
        mark="derived",
        within=0.06,
    )
    check(
        "10 kg/m2 at 500 Hz, normal, dB",
        31.61,
        normal_mass_law(500.0, 10.0),
        source="mass law",
        mark="derived",
        within=0.02,
    )


def test_mass_air_mass_resonance(check: Check) -> None:
    """60 sqrt((m1 + m2)/(m1 m2 d)) with 8 and 12 kg/m2 at 90 mm, and 51 filled."""
    ours = [mass_air_mass(8.0, 12.0, 0.09, filled) for filled in (False, True)]
    check(
        "mass-air-mass, Hz", [91.3, 77.6], ours, source="textbook constants 60 and 51", mark="second-hand", within=0.1
    )


def test_a_wall_with_windows_and_an_air_inlet(check: Check) -> None:
    """Wall 6 m2, windows 4.5 and 0.5 m2, an inlet given by D_n,e, over 11.3 m2; 125, 250, 500 Hz."""
    inlet = np.array([28, 23, 25]) - 10.0 * np.log10(10.0 / 0.3)
    losses = np.array([[41, 46, 52], [23, 22, 30], [24, 27, 30], inlet])
    ours = composite_loss([6.0, 4.5, 0.5, 0.3], losses)
    check("facade R', dB", [24.4, 21.5, 24.9], ours, source="EN 12354-3 Annex F", mark="second-hand", within=0.06)
