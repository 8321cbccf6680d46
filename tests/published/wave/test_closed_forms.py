"""Closed forms and mode matching: expansion chamber, side branch, a heavy slab, a film that seals."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import j0, jnp_zeros

from evidence import Check
from sordino.bands import CENTRES
from sordino.physics.wave.operator import Filling, operator
from sordino.physics.wave.porous import AIR
from sordino.physics.wave.prism import Divider, Port, Prism
from sordino.physics.wave.reduced import spectrum
from sordino.physics.wave.twoport import four_pole, transmission_loss
from wave_cases import loss, round_silencer, solved, through_duct

PLAIN = AIR.density * AIR.speed
BORE, SHELL, LENGTH = 0.0245, 0.0822, 0.2572


def test_expansion_chamber_in_one_dimension(check: Check) -> None:
    """A concentric chamber below a fifth of its first cut-on, against 10 lg[1 + (m - 1/m)^2 sin^2 kL / 4]."""
    at = np.array([60.0, 100.0, 150.0, 200.0, 0.2 * 1.8412 * AIR.speed / (2 * np.pi * SHELL)])
    ratio = (SHELL / BORE) ** 2
    plane = 10 * np.log10(1 + (ratio - 1 / ratio) ** 2 / 4 * np.sin(2 * np.pi * at / AIR.speed * LENGTH) ** 2)
    assert np.allclose(plane[[1, 3]], [8.70, 13.30], atol=0.005)
    check(
        "concentric chamber to 0.2 of cut-on, TL",
        plane,
        loss(round_silencer(BORE, SHELL, LENGTH), 0.003, at),
        source="expansion chamber formula (any text on silencers)",
        mark="second-hand",
        within=0.2,
    )


def mode_matched(frequency: float, count: int = 60) -> float:
    """TL of the concentric chamber by matching Bessel modes at both ends, dB."""
    k = 2 * np.pi * frequency / AIR.speed
    inner, outer = (np.concatenate([[0.0], jnp_zeros(0, n - 1)]) for n in (count // 3, count))
    r, w = np.polynomial.legendre.leggauss(400)
    r, w = BORE * (r + 1) / 2, BORE * w / 2 * 2 * np.pi * BORE * (r + 1) / 2
    small = j0(np.outer(r, inner) / BORE) / (np.sqrt(np.pi) * BORE * np.abs(j0(inner)))
    large = j0(np.outer(r, outer) / SHELL) / (np.sqrt(np.pi) * SHELL * np.abs(j0(outer)))
    overlap = small.T @ (w[:, None] * large)
    kz_small, kz = (np.conj(np.sqrt(k**2 - (z / s) ** 2 + 0j)) for z, s in ((inner, BORE), (outer, SHELL)))
    own, far = -1j * k / kz / np.tan(kz * LENGTH), -1j * k / kz / np.sin(kz * LENGTH)
    z_own, z_far = ((overlap * z) @ overlap.T for z in (own, far))
    door = np.diag(k / kz_small)
    system = np.block([[z_own + door, z_far], [z_far, z_own + door]])
    arriving = np.zeros(2 * len(inner), complex)
    arriving[0] = 2.0
    leaving = -np.linalg.solve(system, arriving)[len(inner)]
    return float(-20 * np.log10(abs(leaving)))


def test_expansion_chamber_by_mode_matching(check: Check) -> None:
    """The same chamber to four fifths of the cut-on of its first ring mode."""
    at = np.linspace(0.1, 0.8, 15) * jnp_zeros(0, 1)[0] * AIR.speed / (2 * np.pi * SHELL)
    check(
        "concentric chamber to 0.8 of cut-on, TL",
        [mode_matched(float(f)) for f in at],
        loss(round_silencer(BORE, SHELL, LENGTH), 0.002, at),
        source="mode matching, own code with 20 and 60 Bessel modes",
        mark="derived",
        within=0.2,
    )


DUCT, BRANCH, DEPTH = 0.10, 0.06, 0.40


def branch_null(count: int = 8, terms: int = 300) -> float:
    """Frequency at which a closed flat side branch stops a flat duct, by its Green's function and branch modes, Hz."""
    x, w = np.polynomial.legendre.leggauss(96)
    x, w = BRANCH * (x + 1) / 2, BRANCH * w / 2
    m, n = np.arange(count), np.arange(terms)
    phi = np.cos(np.pi * np.outer(x / BRANCH, m)) * np.sqrt(np.where(m == 0, 1, 2) / BRANCH)
    gap = np.abs(x[:, None] - x[None, :])

    def passed(frequency: float) -> float:
        k = 2 * np.pi * frequency / AIR.speed
        kn = np.conj(np.sqrt(k**2 - (np.pi * n / DUCT) ** 2 + 0j))
        kernel = sum((1 if i == 0 else 2) / (2j * kn[i] * DUCT) * np.exp(-1j * kn[i] * gap) for i in range(terms))
        duct = 1j * k * (phi.T * w) @ kernel @ (phi.T * w).T
        km = np.conj(np.sqrt(k**2 - (np.pi * m / BRANCH) ** 2 + 0j))
        branch = np.diag(-1j * k / km / np.tan(km * DEPTH))
        wave = np.exp(-1j * k * x)
        velocity = np.linalg.solve(duct + branch, (phi.T * w) @ wave)
        return abs(1 - (1 / (2 * DUCT)) * ((phi.T * w) @ np.exp(1j * k * x)) @ velocity)

    near = np.linspace(190, 214, 13)
    best = near[int(np.argmin([passed(f) for f in near]))]
    fine = np.linspace(best - 2, best + 2, 17)
    return float(fine[int(np.argmin([passed(f) for f in fine]))])


def test_quarter_wave_branch(check: Check) -> None:
    """The frequency a closed branch stops, its end correction included, against a boundary method of its own."""
    length, width = 0.5, 0.01
    blocks = (
        Divider(x0=0.0, z0=DUCT, x1=0.22, z1=DUCT + DEPTH),
        Divider(x0=0.22 + BRANCH, z0=DUCT, x1=length, z1=DUCT + DEPTH),
    )
    ports = tuple(
        Port(face=face, centre=(x, width / 2, DUCT / 2), sides=(DUCT, width))
        for face, x in (("left", 0.0), ("right", length))
    )
    prism = Prism(length=length, width=width, height=DUCT + DEPTH, ports=(ports[0], ports[1]), dividers=blocks)
    at = np.linspace(150, 215, 261)
    got = at[int(np.argmax(transmission_loss(spectrum(operator(prism, 0.01), Filling(), at).two_port)))]
    bare = AIR.speed / (4 * DEPTH)
    assert got < 0.97 * bare, "the end correction must show"
    check(
        "null of a quarter-wave branch, Hz",
        branch_null(),
        got,
        source="duct Green's function with branch modes, own code",
        mark="derived",
        relative=0.01,
    )


@pytest.mark.parametrize("mass", [4.0, 16.0])
def test_mass_law_of_a_slab(check: Check, mass: float) -> None:
    """A 25 mm limp plate across a duct obeys 10 lg[1 + (omega m / 2 rho c)^2], 63 to 500 Hz."""
    at = CENTRES[1:5]
    prism = through_duct(0.4, 0.15, 0.1, dividers=(Divider(x0=0.2, z0=0.0, x1=0.225, z1=0.15),))
    law = 10 * np.log10(1 + (np.pi * at * mass / PLAIN) ** 2)
    check(
        f"limp slab of {mass:g} kg/m2 across a duct, TL",
        law,
        loss(prism, 0.025, at, Filling(plates=(mass,))),
        source="normal-incidence mass law",
        mark="derived",
        within=0.1,
    )


def test_four_pole_of_a_duct(check: Check) -> None:
    """An empty duct of 0.5 m whose area is 0.02 m2, and the way round its pressures and volume velocities are
    counted."""
    at = np.array([63.0, 200.0, 410.0])
    got = four_pole(solved(through_duct(0.5, 0.2, 0.1), 0.02, at))
    phase, impedance = 2 * np.pi * at / AIR.speed * 0.5, PLAIN / 0.02
    exact = np.array([np.cos(phase), np.sin(phase) * impedance, np.sin(phase) / impedance, np.cos(phase)])
    found = np.array([got[:, 0, 0].real, got[:, 0, 1].imag, got[:, 1, 0].imag, got[:, 1, 1].real])
    check(
        "four-pole of an empty duct, three frequencies, relative to its size",
        exact / np.abs(exact).max(axis=1, keepdims=True),
        found / np.abs(exact).max(axis=1, keepdims=True),
        source="plane-wave four-pole of a duct (any text)",
        mark="derived",
        within=0.005,
    )


def test_a_straight_stub_only_delays(check: Check) -> None:
    """An empty duct with stubs passes everything, later by k times the whole length."""
    at = np.array([80.0, 300.0])
    port = [
        Port(face=p.face, centre=p.centre, sides=p.sides, stub=s)
        for p, s in zip(through_duct(0.5, 0.2, 0.1).ports, (0.3, 0.15), strict=True)
    ]
    prism = Prism(length=0.5, width=0.1, height=0.2, ports=(port[0], port[1]))
    got = solved(prism, 0.02, at).scattering[:, 1, 0]
    exact = np.exp(-2j * np.pi * at / AIR.speed * 0.95)
    check(
        "delay of an empty duct of 0.95 m, phase in rad",
        0.0,
        float(np.abs(np.angle(got / exact)).max()),
        source="plane wave",
        mark="derived",
        within=0.005,
    )
