"""Fibre as an equivalent fluid: complex density and bulk modulus against frequency."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.tables import table


@dataclass(frozen=True, kw_only=True, slots=True)
class Medium:
    """The air around everything: density kg/m3, sound speed m/s and what porous models ask beside them."""

    density: float = 1.204
    speed: float = 343.2
    viscosity: float = 1.825e-5
    prandtl: float = 0.71
    heat_ratio: float = 1.4
    pressure: float = 101325.0

    @property
    def bulk_modulus(self) -> float:
        """rho c^2, Pa."""
        return self.density * self.speed**2


AIR = Medium()


@dataclass(frozen=True, kw_only=True, slots=True)
class Fluid:
    """Complex density kg/m3 and bulk modulus Pa at each frequency, and where the model behind them is
    valid."""

    density: Array
    bulk_modulus: Array
    valid: Array

    @property
    def impedance(self) -> Array:
        """Characteristic impedance sqrt(rho K), Pa s/m."""
        return np.sqrt(self.density * self.bulk_modulus)

    def wavenumber(self, frequency: Array) -> Array:
        """omega sqrt(rho / K), rad/m; its imaginary part is negative."""
        slowness = np.sqrt(self.density / self.bulk_modulus)
        return 2 * np.pi * frequency * np.where(slowness.imag > 0, -slowness, slowness)


def fluid_air(frequency: Array, medium: Medium = AIR) -> Fluid:
    """Plain lossless air."""
    one = np.ones(np.shape(frequency), complex)
    return Fluid(
        density=medium.density * one,
        bulk_modulus=medium.bulk_modulus * one,
        valid=np.ones(np.shape(frequency), bool),
    )


def fluid_one_parameter(frequency: Array, resistivity: float, fit: str, medium: Medium = AIR) -> Fluid:
    """Fibre known by its flow resistivity alone (power laws in X = 10^3 f/sigma, table
    wave/one_parameter_fits).

    frequency Hz > 0; resistivity Pa s/m2 > 0; fit `miki`, `delany_bazley` or `glass_roving`. Outside 0.01 <
    f/sigma < 1 the same power law goes on and `valid` is False. Miki 1990 eqs 31-34; Delany & Bazley 1970.
    """
    if resistivity <= 0:
        raise OutOfRange(f"flow resistivity is {resistivity:g} Pa s/m2; it must be above 0")
    row = {key: float(text) for key, text in table("wave/one_parameter_fits").row("fit", fit).items() if key != "fit"}
    ratio = np.asarray(frequency, float) / resistivity
    x = row["scale"] * ratio
    impedance = 1 + row["a"] * x ** -row["b"] - 1j * row["c"] * x ** -row["d"]
    index = 1 + row["e"] * x ** -row["g"] - 1j * row["h"] * x ** -row["i"]
    modulus = impedance / index
    passive = modulus.real + 1j * np.maximum(modulus.imag, 0.0)  # far below its data the fit would feed sound
    return Fluid(
        density=medium.density * impedance * index,
        bulk_modulus=medium.bulk_modulus * passive,
        valid=(ratio > row["low"]) & (ratio < row["high"]),
    )


def fluid_miki(frequency: Array, resistivity: float, medium: Medium = AIR) -> Fluid:
    """Fibre after Miki (J. Acoust. Soc. Jpn (E) 11, 1990): passive in layers, so the one for boxes."""
    return fluid_one_parameter(frequency, resistivity, "miki", medium)


def fluid_delany_bazley(frequency: Array, resistivity: float, medium: Medium = AIR) -> Fluid:
    """Fibre after Delany and Bazley (1970); a thin layer of it can turn active at low frequencies."""
    return fluid_one_parameter(frequency, resistivity, "delany_bazley", medium)


@dataclass(frozen=True, kw_only=True, slots=True)
class Pores:
    """A rigid-framed porous material by its five measured numbers: SI, lengths in m, porosity and tortuosity
    plain."""

    resistivity: float
    porosity: float
    tortuosity: float
    viscous_length: float
    thermal_length: float


def fluid_jca(frequency: Array, pores: Pores, medium: Medium = AIR) -> Fluid:
    """Johnson-Champoux-Allard fluid, porosity included so that its impedance faces the air directly.

    Johnson, Koplik & Dashen, J. Fluid Mech. 176 (1987); Champoux & Allard, J. Appl. Phys. 70 (1991). Valid
    while the wavelength is far longer than the pores, which for building fibre is the whole audible range.
    """
    omega = 2 * np.pi * np.asarray(frequency, float)
    return Fluid(
        density=_density_johnson(omega, pores, medium),
        bulk_modulus=_modulus_champoux(omega, pores, medium),
        valid=np.ones(np.shape(frequency), bool),
    )


def _density_johnson(omega: Array, pores: Pores, medium: Medium) -> Array:
    drag = pores.resistivity * pores.porosity / (1j * omega * medium.density * pores.tortuosity)
    corner = 4 * pores.tortuosity**2 * medium.viscosity * medium.density * omega
    shape = np.sqrt(1 + 1j * corner / (pores.resistivity * pores.viscous_length * pores.porosity) ** 2)
    return medium.density * pores.tortuosity / pores.porosity * (1 + drag * shape)


def _modulus_champoux(omega: Array, pores: Pores, medium: Medium) -> Array:
    thermal = medium.density * medium.prandtl * omega * pores.thermal_length**2
    exchange = 1 + 8 * medium.viscosity / (1j * thermal) * np.sqrt(1 + 1j * thermal / (16 * medium.viscosity))
    excess = medium.heat_ratio - (medium.heat_ratio - 1) / exchange
    return medium.heat_ratio * medium.pressure / pores.porosity / excess


def limp(fluid: Fluid, bulk_density: float, porosity: float = 0.99, medium: Medium = AIR) -> Fluid:
    """The same fibre with a frame that moves with the air and has no stiffness: only the density changes.

    rho_limp = (M rho - rho0^2) / (M + rho - 2 rho0), M = bulk density + porosity rho0 (Panneton, JASA 122,
    2007, EL217, from memory). bulk_density kg/m3 > 0; a heavy frame gives the rigid fluid back.
    """
    mass = bulk_density + porosity * medium.density
    moving = (mass * fluid.density - medium.density**2) / (mass + fluid.density - 2 * medium.density)
    return replace(fluid, density=moving)


@dataclass(frozen=True, kw_only=True, slots=True)
class Fibre:
    """What fills a region: flow resistivity Pa s/m2 (or measured pores), and its bulk density kg/m3 if its
    frame is limp."""

    resistivity: float = 0.0
    limp_density: float | None = None
    fit: str = "miki"
    pores: Pores | None = None

    def fluid(self, frequency: Array, medium: Medium = AIR) -> Fluid:
        """The equivalent fluid at these frequencies."""
        if self.pores is not None:
            rigid = fluid_jca(frequency, self.pores, medium)
        else:
            rigid = fluid_one_parameter(frequency, self.resistivity, self.fit, medium)
        return rigid if self.limp_density is None else limp(rigid, self.limp_density, medium=medium)


def surface_impedance(fluid: Fluid, frequency: Array, thickness: float) -> Array:
    """Normal impedance of a layer on a rigid wall, -j Z cot(k d), Pa s/m."""
    return -1j * fluid.impedance / np.tan(fluid.wavenumber(frequency) * thickness)


def absorption(impedance: Array, medium: Medium = AIR) -> Array:
    """Share of a plane wave's energy that a surface keeps at normal incidence, 0 to 1."""
    plain = medium.density * medium.speed
    return 1 - np.abs((impedance - plain) / (impedance + plain)) ** 2
