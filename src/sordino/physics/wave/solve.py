"""The field at one frequency after another: factor, solve for sound from each port, read the two-port."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.operator import Filling, Operator, factors, mode_wavenumbers
from sordino.physics.wave.porous import AIR, Medium
from sordino.physics.wave.port import cut_on
from sordino.physics.wave.twoport import TRUSTED, TwoPort


@dataclass(frozen=True, kw_only=True, slots=True)
class Factored:
    """A factorised A(omega): `solve` turns right-hand sides (unknowns, n) into solutions."""

    lu: Any

    def solve(self, load: Array) -> Array:
        return self.lu.solve(load)


def matrix_data(of: Operator, filling: Filling, frequency: float, medium: Medium = AIR) -> Array:
    """Entries of A at one frequency, Hz, over the operator's pattern."""
    at = np.array([frequency])
    data = factors(of, filling, at, medium)[0] @ of.terms
    for gate in of.gates:
        data[gate.positions] += (gate.modes * mode_wavenumbers(gate, at, medium)[0]) @ gate.modes.T
    return data


def factored(of: Operator, data: Array) -> Factored:
    """The sparse factors of A, in the order of its unknowns: the pattern is symmetric and no pivoting is
    needed."""
    from scipy.sparse.linalg import splu

    matrix = of.sparse(data)
    return Factored(lu=splu(matrix, "NATURAL", diag_pivot_thresh=0.0, options={"SymmetricMode": True}))


def loads(of: Operator) -> Array:
    """The plane mode's integrals at both ports, (unknowns, 2); a unit wave arriving loads A with 2 j k times
    these."""
    out = np.zeros((of.size, 2))
    for column, gate in enumerate(of.gates):
        out[gate.dofs, column] = gate.modes[:, 0]
    return out


def fields(of: Operator, filling: Filling, frequency: float, medium: Medium = AIR) -> Array:
    """Pressure at the unknowns for a unit power wave arriving at each port, (unknowns, 2)."""
    k = 2 * np.pi * frequency / medium.speed
    return factored(of, matrix_data(of, filling, frequency, medium)).solve(2j * k * loads(of) + 0j)


def scattering(of: Operator, seen: Array, frequency: Array, medium: Medium = AIR) -> Array:
    """S from the plane mode seen at port i for sound from port j, (frequencies, 2, 2): less the arriving
    wave, moved out."""
    k = 2 * np.pi * np.asarray(frequency)[:, None] / medium.speed
    phase = np.exp(-1j * k * np.array([gate.stub for gate in of.gates]))
    return phase[:, :, None] * (seen - np.eye(2)) * phase[:, None, :]


def two_port(of: Operator, seen: Array, frequency: Array, medium: Medium = AIR) -> TwoPort:
    """The two-port record of an operator."""
    return TwoPort(
        frequency=np.asarray(frequency, float),
        scattering=scattering(of, seen, frequency, medium),
        areas=(of.gates[0].area, of.gates[1].area),
        limit=TRUSTED * min(cut_on(port, medium.speed, of.prism.turned) for port in of.prism.ports),
    )


def sweep(of: Operator, filling: Filling, frequency: Array, medium: Medium = AIR) -> TwoPort:
    """The two-port, solved in full at every frequency."""
    load = loads(of)
    seen = np.stack([load.T @ fields(of, filling, float(f), medium) for f in np.atleast_1d(frequency)])
    return two_port(of, seen, np.atleast_1d(frequency), medium)
