"""Fibre against the published one-parameter fits, JCA, layers and the attenuation measured in glass wool."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import CENTRES, Array
from sordino.physics.wave.fibre import resistivity_bies_hansen, resistivity_fibre, resistivity_squeezed
from sordino.physics.wave.porous import (
    AIR,
    Fluid,
    Medium,
    Pores,
    absorption,
    fluid_delany_bazley,
    fluid_jca,
    fluid_miki,
    surface_impedance,
)
from sordino.tables import table

PLAIN = AIR.density * AIR.speed
OCTAVES = CENTRES[2:8]


def parts(fluid: Fluid, frequency: Array) -> Array:
    """Normalised impedance and wavenumber as four real numbers each frequency."""
    impedance, index = (
        fluid.impedance / PLAIN,
        fluid.wavenumber(frequency) * AIR.speed / (2 * np.pi * frequency),
    )
    return np.stack([impedance.real, impedance.imag, index.real, index.imag])


def test_one_parameter_fits(check: Check) -> None:
    """Miki and Delany-Bazley at 500 Hz in 10 kPa s/m2."""
    at = np.array([500.0])
    check(
        "Miki Z and k at 500 Hz, sigma 10k",
        [1.4641, -0.7113, 1.6961, -1.0170],
        parts(fluid_miki(at, 1e4), at)[:, 0],
        source="Miki 1990, coefficients as published",
        mark="derived",
        relative=1e-4,
    )
    check(
        "Delany-Bazley Z and k at 500 Hz, sigma 10k",
        [1.4829, -0.6844, 1.6985, -1.0243],
        parts(fluid_delany_bazley(at, 1e4), at)[:, 0],
        source="Delany & Bazley 1970, coefficients as published",
        mark="derived",
        relative=1e-4,
    )


def test_johnson_champoux_allard(check: Check) -> None:
    """A fibre of 10 kPa s/m2 at three octaves, and 50 mm of it on a rigid wall."""
    at = np.array([125.0, 500.0, 2000.0])
    pores = Pores(resistivity=1e4, porosity=0.99, tortuosity=1.0, viscous_length=100e-6, thermal_length=200e-6)
    fluid = fluid_jca(at, pores)
    published = [
        [2.142, 1.3708, 1.1577],
        [-1.787, -0.7202, -0.2436],
        [2.811, 1.5901, 1.2395],
        [-2.596, -1.1119, -0.3784],
    ]
    source = "Johnson-Champoux-Allard equations, own arithmetic"
    check(
        "JCA Z and k, 125 500 2000 Hz",
        published,
        parts(fluid, at),
        source=source,
        mark="derived",
        relative=1e-3,
    )
    check(
        "JCA 50 mm absorption",
        [0.068, 0.509, 0.979],
        absorption(surface_impedance(fluid, at, 0.05)),
        source=source,
        mark="derived",
        within=0.001,
    )


@pytest.mark.parametrize(
    ("resistivity", "thickness", "published"),
    [
        (10e3, 0.050, [0.065, 0.191, 0.485, 0.882, 0.982, 0.970]),
        (10e3, 0.100, [0.263, 0.623, 0.937, 0.947, 0.982, 0.991]),
        (20e3, 0.025, [0.020, 0.065, 0.191, 0.483, 0.881, 0.982]),
        (20e3, 0.050, [0.085, 0.262, 0.621, 0.937, 0.948, 0.982]),
        (40e3, 0.050, [0.128, 0.348, 0.662, 0.845, 0.880, 0.949]),
        (5e3, 0.090, [0.158, 0.409, 0.810, 0.991, 0.936, 0.983]),
    ],
)
def test_layers_on_a_rigid_wall(check: Check, resistivity: float, thickness: float, published: list[float]) -> None:
    """Normal-incidence absorption of Miki layers, 125 Hz to 4 kHz."""
    got = absorption(surface_impedance(fluid_miki(OCTAVES, resistivity), OCTAVES, thickness))
    check(
        f"absorption {1000 * thickness:.0f} mm, sigma {resistivity / 1000:.0f}k",
        published,
        got,
        source="Miki 1990 layer on a rigid wall, own arithmetic",
        mark="derived",
        within=0.0011,
    )


@pytest.mark.parametrize(
    ("density", "direction", "resistivity", "published"),
    [(14, "across", 5880, 75), (14, "along", 2940, 57), (30, "across", 15500, 140), (30, "along", 7750, 100)],
)
def test_attenuation_in_glass_wool(
    check: Check, density: int, direction: str, resistivity: float, published: float
) -> None:
    """Measured attenuation of a free wave in glass wool at 1 kHz, dB/m."""
    at = np.array([1000.0])
    got = -20 * np.log10(np.e) * fluid_miki(at, resistivity).wavenumber(at).imag[0]
    check(
        f"glass wool {density} kg/m3 {direction} layers, 1 kHz, dB/m",
        published,
        got,
        source="Tarnow, JASA 108 (2000) 2243; resistivity from memory",
        mark="read",
        relative=0.15,
    )


def test_resistivity_from_density(check: Check) -> None:
    """Bies-Hansen glass fibre, mineral fibre against two measured slabs, and squeezing."""
    check(
        "resistivity of glass fibre 8 um, 10 16 32 60 kg/m3",
        [1.7e3, 3.5e3, 10e3, 26e3],
        resistivity_bies_hansen(np.array([10.0, 16.0, 32.0, 60.0])),
        source="Bies & Hansen 1980, formula",
        mark="derived",
        relative=0.03,
    )
    check(
        "resistivity of glass fibre 6 um, 12 and 48 kg/m3",
        [4.0e3, 33e3],
        resistivity_bies_hansen(np.array([12.0, 48.0]), 6e-6),
        source="Bies & Hansen 1980, formula",
        mark="derived",
        relative=0.03,
    )
    stone = table("wave/flow_resistivity")
    slabs = np.array([r[1:3] for r in stone.rows if r[0] == "stone wool slab"], float)[1:]
    check(
        "stone wool slabs of 50 and 80 kg/m3, measured",
        slabs[:, 1],
        resistivity_fibre(slabs[:, 0]),
        source="measured slabs, table wave/flow_resistivity",
        mark="second-hand",
        relative=0.25,
    )
    check(
        "glass wool 32 kg/m3 of 5 um radius, viscosity 1.8e-5",
        4728.8,
        resistivity_fibre(32.0, "glass_wool", 5e-6, Medium(viscosity=1.8e-5)),
        source="Cox & D'Antonio, formula worked by hand",
        mark="derived",
        relative=1e-3,
    )
    check(
        "squeezing 1.3 times raises resistivity",
        1.5,
        resistivity_squeezed(1.0, 1.3),
        source="own arithmetic on the published powers",
        mark="derived",
        relative=0.02,
    )
