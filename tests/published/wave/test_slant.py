"""Ducts at a slant against plane waves, and against a general-purpose library on meshes that follow every wall."""

from __future__ import annotations

import numpy as np
import pytest
import skfem
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from scipy.special import jnp_zeros, jv
from skfem.helpers import dot, grad

from evidence import Check
from slanted import MORE, flat_mesh, oblique, round_mesh, round_through, under_a_roof
from sordino.bands import Array
from sordino.physics.wave.porous import AIR
from sordino.physics.wave.stub import Stub, stub
from sordino.physics.wave.twoport import transmission_loss
from wave_cases import loss, solved

Modes = tuple[Array, Array]
"""Integrals of shape functions times port modes (unknowns, n), and the modes' cut-on wavenumbers (n,)."""


def test_a_duct_cut_at_a_slant_is_a_straight_duct(check: Check) -> None:
    """Its far end is a slope at 37 degrees to it, and the duct goes on: a plane wave passes as through nothing."""
    prism, at = oblique(), np.array([63.0, 125.0, 250.0, 500.0, 700.0])
    got = solved(prism, 0.0125, at)
    length = 0.8 - 0.15 / 2
    want = np.exp(-2j * np.pi * at * length / AIR.speed)
    source = "plane wave in a straight duct, exp(-jkL)"
    check("TL through an oblique cut", np.zeros(5), transmission_loss(got), source=source, mark="derived", within=0.01)
    off = np.angle(got.scattering[:, 1, 0] / want)
    check("phase behind an oblique cut", np.zeros(5), off, source=source, mark="derived", within=0.02)
    sent_back = np.abs(got.scattering[:, 0, 0])
    check("reflection at an oblique cut", np.zeros(5), sent_back, source=source, mark="derived", within=0.002)


@pytest.mark.parametrize(("first", "second"), [(0.6, -0.5), (-0.9, 0.7)])
def test_flat_ducts_in_an_end_and_in_a_slope(check: Check, first: float, second: float) -> None:
    """34 to 52 degrees off square, up and down: quadratic triangles of another code against cells cut by the duct."""
    prism, at = under_a_roof(first, second), np.array([63.0, 125.0, 250.0, 400.0, 500.0])
    mesh, lines = flat_mesh(prism, 4)
    basis = skfem.Basis(mesh, skfem.ElementTriP2())
    doors = [slot_modes(mesh, *line) for line in lines]
    check(
        f"ducts leaning {np.degrees(first):.0f} and {np.degrees(second):.0f} degrees, 63 to 500 Hz, TL",
        through(basis, doors, at),
        loss(prism, 0.02, at),
        source="scikit-fem, quadratic triangles along every wall",
        mark="derived",
        within=0.15,
    )


def test_round_ducts_that_lean(check: Check) -> None:
    """29 degrees off square on both ends: quadratic hexahedra of another code that follow the round duct."""
    prism, at = round_through(0.5), np.array([63.0, 125.0, 250.0, 500.0])
    mesh = round_mesh(prism)
    basis = skfem.Basis(mesh, skfem.ElementHex2(), intorder=5)
    doors = [disc_modes(mesh, stub(prism, port)) for port in prism.ports]
    check(
        "round ducts leaning 29 degrees, 63 to 500 Hz, TL",
        through(basis, doors, at),
        loss(prism, 0.03, at),
        source="scikit-fem, quadratic hexahedra along every wall",
        mark="derived",
        within=0.15,
    )


def through(basis: skfem.Basis, doors: list[Modes], at: Array) -> Array:
    """TL of air between two ports with modes of their own, dB."""

    @skfem.BilinearForm
    def stiff(u, v, w):  # type: ignore[no-untyped-def]
        return dot(grad(u), grad(v))

    @skfem.BilinearForm
    def heavy(u, v, w):  # type: ignore[no-untyped-def]
        return u * v

    stiffness, mass = stiff.assemble(basis), heavy.assemble(basis)
    found = []
    for k in 2 * np.pi * at / AIR.speed:
        matrix = csc_matrix(stiffness - k**2 * mass, dtype=complex)
        for modes, cut_on in doors:
            matrix = matrix + csc_matrix(modes * np.sqrt(cut_on**2 - k**2 + 0j)) @ csc_matrix(modes.T)
        solver = splu(csc_matrix(matrix), "MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
        field = solver.solve(2j * k * doors[0][0][:, 0] + 0j)
        found.append(-20 * np.log10(abs(doors[1][0][:, 0] @ field)))
    return np.array(found)


def slot_modes(mesh: skfem.MeshTri, start: Array, end: Array, count: int = 6) -> Modes:
    """cos modes over a line from one point to another."""
    span = float(np.linalg.norm(end - start))
    way = (end - start) / span
    square = np.array((-way[1], way[0]))

    def along(at: Array) -> Array:
        return (at[0] - start[0]) * way[0] + (at[1] - start[1]) * way[1]

    def on_line(at: Array) -> Array:
        off = (at[0] - start[0]) * square[0] + (at[1] - start[1]) * square[1]
        return (abs(off) < 1e-9) & (abs(along(at) - span / 2) < span / 2 + 1e-9)

    facets = mesh.facets_satisfying(on_line, boundaries_only=True)
    side = skfem.FacetBasis(mesh, skfem.ElementTriP2(), facets=facets, intorder=8)
    columns = []
    for m in range(count):

        @skfem.LinearForm
        def projected(v, w, m=m):  # type: ignore[no-untyped-def]
            return np.cos(m * np.pi * along(w.x) / span) * np.sqrt((2 if m else 1) / span) * v

        columns.append(projected.assemble(side))
    return np.stack(columns, axis=-1), np.pi * np.arange(count) / span


def disc_modes(mesh: skfem.MeshHex, base: Stub, limit: float = 60.0) -> Modes:
    """J_m(j' r/a) cos and sin m theta over a duct's square end, up to a cut-on wavenumber, rad/m."""
    radius, middle = base.halves[0], base.end + MORE * base.axis

    def beside(at: Array, way: Array) -> Array:
        return sum((at[i] - middle[i]) * way[i] for i in range(3))

    facets = mesh.facets_satisfying(lambda at: abs(beside(at, base.axis)) < 1e-8, boundaries_only=True)
    side = skfem.FacetBasis(mesh, skfem.ElementHex2(), facets=facets, intorder=8)
    zeros = [(0.0, 0)] + [(z, m) for m in range(4) for z in jnp_zeros(m, 2) if z / radius < limit]
    columns, cut_on = [], []
    for zero, order in zeros:
        for wave in (np.cos, np.sin)[: 2 if order else 1]:

            def mode(w, zero=zero, order=order, wave=wave):  # type: ignore[no-untyped-def]
                u, v = beside(w.x, base.across), beside(w.x, base.rest)
                return jv(order, zero * np.hypot(u, v) / radius) * wave(order * np.arctan2(v, u))

            whole = skfem.Functional(lambda w, mode=mode: mode(w) ** 2).assemble(side)
            columns.append(skfem.LinearForm(lambda v, w, mode=mode: mode(w) * v).assemble(side) / np.sqrt(whole))
            cut_on.append(zero / radius)
    return np.stack(columns, axis=-1), np.array(cut_on)
