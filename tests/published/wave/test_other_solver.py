"""The same boxes through a general-purpose finite element library, one frequency at a time."""

from __future__ import annotations

import numpy as np
import skfem
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from scipy.special import jnp_zeros, jv
from skfem.helpers import dot, grad

from evidence import Check
from sordino.bands import CENTRES, Array
from sordino.physics.wave.grid import grid
from sordino.physics.wave.line import distance
from sordino.physics.wave.operator import MODE_REACH
from sordino.physics.wave.porous import AIR, fluid_miki
from sordino.physics.wave.prism import Cut, Port, Prism
from wave_cases import BATT, loss, serpentine


def forms(basis: skfem.Basis, density: Array, modulus: Array, frequency: float) -> csc_matrix:
    """Stiffness less omega^2 mass, with complex fields at the quadrature points."""

    @skfem.BilinearForm(dtype=complex)
    def box(u, v, w):  # type: ignore[no-untyped-def]
        return AIR.density / w.rho * dot(grad(u), grad(v)) - (2 * np.pi * frequency) ** 2 * AIR.density / w.k * u * v

    return csc_matrix(box.assemble(basis, rho=density, k=modulus))


def transmission(matrix: csc_matrix, modes: list[Array], cut_on: Array, frequency: float) -> float:
    """TL between two ports with b_n in `modes` (unknowns, n) each, dB."""
    k = 2 * np.pi * frequency / AIR.speed
    for each in modes:
        jk = np.sqrt(cut_on**2 - k**2 + 0j)
        matrix = matrix + csc_matrix(each * jk) @ csc_matrix(each.T)
    field = splu(csc_matrix(matrix)).solve(2j * k * modes[0][:, 0] + 0j)
    return float(-20 * np.log10(abs(modes[1][:, 0] @ field)))


def round_modes(radius: float, limit: float) -> list[tuple[float, int, float]]:
    """Zero, order and cut-on of the mirrored modes of a round duct."""
    zeros = [(0.0, 0)] + [(z, m) for m in range(12) for z in jnp_zeros(m, 4)]
    return [(z, m, z / radius) for z, m in zeros if z / radius < limit]


def mouth_integrals(basis: skfem.FacetBasis, centre: float, radius: float, limit: float, middle: float) -> Array:
    """Integrals of each shape function times each mode over the half disc, by many points on every facet."""
    columns = []
    for zero, order, _ in round_modes(radius, limit):

        @skfem.LinearForm
        def projected(v, w, zero=zero, order=order):  # type: ignore[no-untyped-def]
            up, side = w.x[2] - centre, w.x[1] - middle
            ring, angle = np.hypot(up, side), np.arctan2(side, up)
            return (ring < radius) * jv(order, zero * ring / radius) * np.cos(order * angle) * v

        @skfem.Functional
        def square(w, zero=zero, order=order):  # type: ignore[no-untyped-def]
            up, side = w.x[2] - centre, w.x[1] - middle
            ring, angle = np.hypot(up, side), np.arctan2(side, up)
            return (ring < radius) * (jv(order, zero * ring / radius) * np.cos(order * angle)) ** 2

        columns.append(projected.assemble(basis) / np.sqrt(square.assemble(basis)))
    return np.stack(columns, axis=-1)


def test_serpentine_on_the_same_grid(check: Check) -> None:
    """The two-pass box: other elements code, other quadrature over the mouths, the same hexahedra."""
    prism, size = serpentine(), 0.05
    assert prism.tube is not None
    lines = grid(prism, size)
    mesh = skfem.MeshHex.init_tensor(lines.x, lines.y, lines.z)
    x, _, z = mesh.p[:, mesh.t].mean(axis=1)
    mesh = mesh.remove_elements(np.flatnonzero((x < 0.55) & (abs(z - 0.45) < 0.0125)))
    middles = mesh.p[:, mesh.t].mean(axis=1).T
    crossed = abs(distance(middles, prism.tube.centreline) - 0.125) < 0.045
    bases = [
        skfem.Basis(mesh, skfem.ElementHex1(), elements=np.flatnonzero(chosen), intorder=order)
        for chosen, order in ((crossed, 17), (~crossed, 4))
    ]
    wall = mesh.facets_satisfying(lambda at: at[0] < 1e-9)
    side = skfem.FacetBasis(mesh, skfem.ElementHex1(), facets=wall, intorder=40)
    limit = MODE_REACH / size
    modes = [mouth_integrals(side, port.centre[2], 0.125, limit, 0.225) for port in prism.ports]
    cut_on = np.array([k for _, _, k in round_modes(0.125, limit)])
    cores = [
        distance(np.moveaxis(np.asarray(basis.global_coordinates()), 0, -1), prism.tube.centreline) < 0.125
        for basis in bases
    ]
    at = CENTRES[1:5]
    want = []
    for f in at:
        fibre = fluid_miki(np.array([f]), 5e3)
        matrix = sum(
            forms(
                basis,
                np.where(core, AIR.density, fibre.density[0]),
                np.where(core, AIR.bulk_modulus, fibre.bulk_modulus[0]),
                float(f),
            )
            for basis, core in zip(bases, cores, strict=True)
        )
        want.append(transmission(matrix, modes, cut_on, float(f)))
    got = loss(prism, size, at, BATT)
    check(
        "two-pass box on the same 50 mm grid, 63 to 500 Hz, TL",
        want,
        got,
        source="scikit-fem, trilinear hexahedra, direct",
        mark="derived",
        within=0.1,
    )


def test_a_box_under_a_roof(check: Check) -> None:
    """Both top corners cut, ports low in both walls: quadratic triangles of another code against wedges."""
    width = 0.02
    prism = Prism(
        length=0.9,
        width=width,
        height=0.6,
        left=Cut(run=0.3, drop=0.4),
        right=Cut(run=0.45, drop=0.35),
        ports=(
            Port(face="left", centre=(0.0, width / 2, 0.1), sides=(0.14, width)),
            Port(face="right", centre=(0.9, width / 2, 0.13), sides=(0.1, width)),
        ),
    )
    corners = [(0, 0), (0.9, 0), (0.9, 0.08), (0.9, 0.18), (0.9, 0.25), (0.45, 0.6), (0.3, 0.6), (0, 0.2), (0, 0.17)]
    points = np.array([*corners, (0, 0.03), (0.4, 0.25)]).T
    fan = np.array([[i, (i + 1) % 10, 10] for i in range(10)]).T
    mesh = skfem.MeshTri(points, fan).refined(4)
    basis = skfem.Basis(mesh, skfem.ElementTriP2())
    doors = [
        mesh.facets_satisfying(lambda at: (at[0] < 1e-9) & (abs(at[1] - 0.1) < 0.07)),
        mesh.facets_satisfying(lambda at: (at[0] > 0.9 - 1e-9) & (abs(at[1] - 0.13) < 0.05)),
    ]
    at = np.array([63.0, 125.0, 250.0, 400.0, 500.0, 700.0])
    air = np.ones(np.asarray(basis.global_coordinates()).shape[1:])
    want = []
    for f in at:
        matrix = forms(basis, AIR.density * air, AIR.bulk_modulus * air, float(f))
        columns = []
        for facets, low, high in zip(doors, (0.03, 0.08), (0.17, 0.18), strict=True):
            side = skfem.FacetBasis(mesh, skfem.ElementTriP2(), facets=facets, intorder=8)
            columns.append(flat_integrals(side, low, high))
        want.append(flat_transmission(matrix, columns, float(f)))
    check(
        "box under two slopes, 63 to 700 Hz, TL",
        want,
        loss(prism, 0.02, at),
        source="scikit-fem, quadratic triangles",
        mark="derived",
        within=0.15,
    )


def flat_integrals(basis: skfem.FacetBasis, low: float, high: float, count: int = 6) -> tuple[Array, Array]:
    """Integrals of shape functions times cos modes over a slot, and the cut-on wavenumbers."""
    span = high - low
    columns = []
    for m in range(count):

        @skfem.LinearForm
        def projected(v, w, m=m):  # type: ignore[no-untyped-def]
            return np.cos(m * np.pi * (w.x[1] - low) / span) * np.sqrt((2 if m else 1) / span) * v

        columns.append(projected.assemble(basis))
    return np.stack(columns, axis=-1), np.pi * np.arange(count) / span


def flat_transmission(matrix: csc_matrix, doors: list[tuple[Array, Array]], frequency: float) -> float:
    """TL between two slots with modes of their own, dB."""
    k = 2 * np.pi * frequency / AIR.speed
    for each, cut_on in doors:
        matrix = matrix + csc_matrix(each * np.sqrt(cut_on**2 - k**2 + 0j)) @ csc_matrix(each.T)
    field = splu(csc_matrix(matrix)).solve(2j * k * doors[0][0][:, 0] + 0j)
    return float(-20 * np.log10(abs(doors[1][0][:, 0] @ field)))
