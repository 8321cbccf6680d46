"""A duct lined for ever: the box's own slice repeated, against the dispersion equation and its published roots."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import eig
from scipy.optimize import newton
from scipy.special import jv, yv

from evidence import Check
from sordino.bands import CENTRES, Array
from sordino.physics.wave.operator import Filling, factors, operator
from sordino.physics.wave.porous import AIR, Fibre, fluid_miki
from sordino.physics.wave.prism import Port, Prism, Region, rectangle
from sordino.physics.wave.reduced import spectrum
from sordino.physics.wave.twoport import transmission_loss
from wave_cases import round_silencer

FIBRE = Filling(fibres=(Fibre(resistivity=1e4),))
BANDS = CENTRES[1:8]
NEPER = 20 * np.log10(np.e)
TABLE = {
    "flat 75/50": [0.45, 1.63, 5.24, 14.55, 35.40, 31.11, 11.72],
    "flat 75/100": [1.33, 4.51, 12.66, 28.45, 37.71, 30.45, 12.13],
    "round 75/125": [1.32, 4.58, 12.96, 29.02, 56.37, 69.39, 30.63],
    "round 50/100": [2.37, 7.80, 19.59, 38.29, 65.48, 112.45, 66.19],
}
WAVENUMBERS = {
    "flat 75/50": [1.586, 3.123, 6.039, 11.344, 20.538, 33.36, 70.862],
    "flat 75/100": [1.897, 3.627, 6.580, 11.225, 17.893, 34.928, 70.73],
    "round 75/125": [2.106, 4.047, 7.415, 13.023, 22.725, 28.819, 68.383],
    "round 50/100": [2.541, 4.742, 8.282, 13.987, 24.015, 43.353, 67.18],
}


def lined(name: str, length: float, width: float = 0.0025) -> Prism:
    """Half a flat duct above its plane of symmetry, or a round one, with Miki fibre outside the airway."""
    shape, figures = name.split()
    airway, second = (float(figure) / 1000 for figure in figures.split("/"))
    if shape == "round":
        return round_silencer(airway, second, length, filled=True)
    fibre = Region(polygon=rectangle((0, airway), (length, airway + second)), fluid=1, front=0.0, back=width)
    ports = tuple(
        Port(face=face, centre=(x, width / 2, airway / 2), sides=(airway, width))
        for face, x in (("left", 0.0), ("right", length))
    )
    return Prism(length=length, width=width, height=airway + second, ports=(ports[0], ports[1]), regions=(fibre,))


def slice_wavenumbers(name: str, frequency: float, size: float = 0.0025) -> Array:
    """Wavenumbers of every wave that one cell, repeated for ever, lets pass: lambda^2 A_lr + lambda (A_ll + A_rr) +
    A_rl = 0."""
    of = operator(lined(name, size), size)
    matrix = of.sparse(factors(of, FIBRE, np.array([frequency]))[0] @ of.terms).toarray()
    column = of.leaves.connection
    layers = [np.unique(column[:, corners]) for corners in ([0, 1], [4, 5])]
    front = [np.unique(column[:, corners]) for corners in ([2, 3], [6, 7])]
    sides = [np.concatenate(pair) for pair in zip(layers, front, strict=True)]
    (ll, lr), (rl, rr) = [[matrix[np.ix_(row, col)] for col in sides] for row in sides]
    zero, one = np.zeros_like(ll), np.eye(len(ll))
    values = eig(np.block([[zero, one], [-rl, -(ll + rr)]]), np.block([[one, zero], [zero, lr]]), right=False)
    values = values[np.isfinite(values) & (np.abs(values) > 1e-6) & (np.abs(values) < 1)]
    return 1j * np.log(values) / size


def root(name: str, frequency: float, start: complex) -> complex:
    """The axial wavenumber that solves the dispersion equation of a bulk-reacting lining, from a start nearby."""
    shape, figures = name.split()
    first, second = (float(figure) / 1000 for figure in figures.split("/"))
    k0 = 2 * np.pi * frequency / AIR.speed
    fibre = fluid_miki(np.array([frequency]), 1e4)
    kl, density = fibre.wavenumber(np.array([frequency]))[0], fibre.density[0] / AIR.density

    def flat(k: complex) -> complex:
        a, b = np.sqrt(k0**2 - k**2 + 0j), np.sqrt(kl**2 - k**2)
        return a * np.tan(a * first) + b / density * np.tan(b * second)

    def turned(k: complex) -> complex:
        a, b = np.sqrt(k0**2 - k**2 + 0j), np.sqrt(kl**2 - k**2)
        above = jv(1, b * first) * yv(1, b * second) - yv(1, b * first) * jv(1, b * second)
        below = jv(0, b * first) * yv(1, b * second) - yv(0, b * first) * jv(1, b * second)
        return a * jv(1, a * first) / jv(0, a * first) - b / density * above / below

    return complex(newton(flat if shape == "flat" else turned, start, maxiter=200, tol=1e-10))


@pytest.mark.parametrize("name", list(TABLE))
def test_least_attenuated_wave(check: Check, name: str) -> None:
    """Attenuation and wavenumber of the least attenuated wave, 63 Hz to 4 kHz."""
    every = [slice_wavenumbers(name, float(f)) for f in BANDS]
    least = np.array([waves[np.argmax(waves.imag)] for waves in every])
    source = "dispersion equation (Scott 1946), roots found two ways"
    check(f"dB/m, {name} mm", TABLE[name], -NEPER * least.imag, source=source, mark="derived", relative=0.02)
    check(f"rad/m, {name} mm", WAVENUMBERS[name], np.abs(least.real), source=source, mark="derived", relative=0.02)


@pytest.mark.parametrize("name", ["flat 75/50", "round 75/125"])
def test_a_longer_lined_duct(check: Check, name: str) -> None:
    """What each further half metre of a straight lined duct takes, between two ports, against the equation."""
    bands = CENTRES[4:6]
    short, long = (
        transmission_loss(spectrum(operator(lined(name, length), 0.0075), FIBRE, bands, floor=150).two_port)
        for length in (0.6, 1.1)
    )
    starts = np.array(WAVENUMBERS[name])[3:5] - 1j * np.array(TABLE[name])[3:5] / NEPER
    exact = [-NEPER * root(name, float(f), start).imag for f, start in zip(bands, starts, strict=True)]
    check(
        f"straight lined duct 500 Hz and 1 kHz, {name} mm, dB/m",
        exact,
        2 * (long - short),
        source="dispersion equation (Scott 1946; Cummings 1976), equation from memory",
        mark="memory",
        relative=0.03,
    )
