"""A flexible duct with a film core in fibre, against the dispersion equation with the film's pressure jump."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import newton
from scipy.special import jv, yv

from evidence import Check
from sordino.bands import CENTRES
from sordino.physics.wave.field import at_points
from sordino.physics.wave.operator import Filling, Film, operator
from sordino.physics.wave.porous import AIR, Fibre, fluid_miki
from sordino.physics.wave.prism import Port, Prism, Tube, whole
from sordino.physics.wave.solve import fields

RADIUS, SIDE, LENGTH, RESISTIVITY = 0.08, 0.30, 1.6, 8e3


def root(frequency: float, film: Film, start: complex) -> complex:
    """Axial wavenumber of a round core, film and fibre in a round shell of the box's area: 1/Y_in = 1/Y_out + j omega m
    + r."""
    shell = SIDE / np.sqrt(np.pi)
    omega = 2 * np.pi * frequency
    fibre = fluid_miki(np.array([frequency]), RESISTIVITY)
    kl, density = fibre.wavenumber(np.array([frequency]))[0], fibre.density[0]

    def gap(k: complex) -> complex:
        a, b = np.sqrt((omega / AIR.speed) ** 2 - k**2 + 0j), np.sqrt(kl**2 - k**2)
        above = jv(1, b * RADIUS) * yv(1, b * shell) - yv(1, b * RADIUS) * jv(1, b * shell)
        below = jv(0, b * RADIUS) * yv(1, b * shell) - yv(0, b * RADIUS) * jv(1, b * shell)
        inside = a * jv(1, a * RADIUS) / jv(0, a * RADIUS) / (1j * omega * AIR.density)
        outside = b / (1j * omega * density) * above / below
        return inside * (1 + outside * (1j * omega * film.mass + film.resistance)) - outside

    return complex(newton(gap, start, maxiter=200, tol=1e-9))


def box() -> Prism:
    """The tube through a square box full of fibre."""
    middle = SIDE / 2
    ports = [
        Port(face=face, centre=(x, middle, middle), diameter=2 * RADIUS)
        for face, x in (("left", 0.0), ("right", LENGTH))
    ]
    line = ((0.0, middle, middle), (LENGTH, middle, middle))
    prism = Prism(
        length=LENGTH,
        width=SIDE,
        height=SIDE,
        ports=(ports[0], ports[1]),
        tube=Tube(centreline=line, radius=RADIUS, film=True),
    )
    return replace(prism, regions=(whole(prism, 1),))


@pytest.mark.parametrize(
    "film", [Film(mass=0.10, resistance=40.0), Film(mass=0.02, resistance=500.0), Film(mass=0.2, resistance=200.0)]
)
def test_wave_along_a_film_core(check: Check, film: Film) -> None:
    """cosh(gamma d) = (p1 + p3) / 2 p2 on the axis, 63 to 250 Hz; the box is square, the equation round."""
    of, step = operator(box(), 0.025), 0.15
    filling = Filling(fibres=(Fibre(resistivity=RESISTIVITY),), film=film)
    points = np.array([[LENGTH / 2 + n * step, SIDE / 2, SIDE / 2] for n in (-1, 0, 1)])
    got, want = [], []
    for f in CENTRES[1:4]:
        p = at_points(of, fields(of, filling, float(f)), points)[0]
        gamma = np.arccosh((p[0] + p[2]) / (2 * p[1])) / step
        k = -1j * gamma if gamma.real > 0 else 1j * gamma
        exact = root(float(f), film, k)
        got += [k.real, k.imag]
        want += [exact.real, exact.imag]
    size = np.repeat(np.hypot(want[::2], want[1::2]), 2)
    check(
        f"wavenumber along a film core, {film.mass:g} kg/m2 {film.resistance:g} Pa s/m, over its size",
        np.array(want) / size,
        np.array(got) / size,
        source="dispersion equation (Cummings 1976) with a film, round shell of equal area; from memory",
        mark="memory",
        within=0.005,
    )
