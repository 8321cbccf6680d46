"""All frequencies at once: the equation on a small basis of its own solutions (Galerkin reduced basis).

A(omega) is a short sum of factors times constant matrices, so those are projected once. With both ports'
solutions in a real basis the error of S_ij is exactly r_i . A^-1 r_j, the product of two residuals: small,
and estimated from their norms, with the ratio of true error to that product measured wherever a frequency is
solved in full (Hetmaniuk, Tezaur & Farhat, Int. J. Numer. Meth. Engng 93 (2013), from memory, for the
adaptive choice of frequencies).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.operator import Filling, Operator, factors, mode_wavenumbers
from sordino.physics.wave.porous import AIR, Medium
from sordino.physics.wave.solve import factored, loads, matrix_data, two_port
from sordino.physics.wave.twoport import TwoPort, transmission_loss

START = 3
"""Frequencies solved in full before the first estimate."""
MOST = 16
"""Frequencies solved in full at the most."""
STEP = 1e-3
"""Relative frequency step of the numerical derivatives of A."""
SAFETY = 2.0
"""The estimate errs on the safe side by this factor."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Spectrum:
    """A two-port over many frequencies, the estimated error of its transmission loss (dB), and what was
    solved in full."""

    two_port: TwoPort
    error: Array
    solved: Array
    basis: Array
    coefficients: Array
    tolerance: float

    @property
    def converged(self) -> Array:
        """Frequencies at which the estimate is within the tolerance; elsewhere the ceiling has to speak."""
        return self.error <= self.tolerance


@dataclass(frozen=True, kw_only=True, slots=True)
class Projection:
    """A basis (unknowns, r), the terms times it, all terms projected on it (t, r, r), and the Gram matrix of
    residuals."""

    basis: Array
    images: Array
    terms: Array
    gram: Array


def spectrum(
    of: Operator,
    filling: Filling,
    frequency: Array,
    medium: Medium = AIR,
    tolerance: float = 0.05,
    floor: float = 60.0,
) -> Spectrum:
    """The two-port at all `frequency` (Hz, sorted), enriched until the error of every TL below `floor` dB is
    within `tolerance` dB."""
    scale = _scale(of)
    solved = list(_chebyshev(frequency[0], frequency[-1], START))
    basis = np.zeros((of.size, 0))
    for f in solved:
        basis = _enriched(basis, _moments(of, filling, f, medium))
    ratio = 0.0
    while True:
        model = _projected(of, basis, scale)
        coefficients = _coefficients(of, model, filling, frequency, medium)
        seen = np.einsum("ni,fnj->fij", basis.T @ loads(of), coefficients)
        guess = two_port(of, seen, frequency, medium)
        norms = _residual_norms(of, model, coefficients, filling, frequency, medium)
        product = norms[:, 0] * norms[:, 1]
        error = _in_decibels(SAFETY * ratio * product, guess)
        loud = transmission_loss(guess) < floor
        worst = int(np.argmax(np.where(loud, product / np.abs(guess.scattering[:, 1, 0]), 0.0)))
        if len(solved) >= MOST or (ratio > 0 and (error[loud] <= tolerance).all()):
            break
        vectors = _moments(of, filling, float(frequency[worst]), medium)
        true = loads(of)[:, 1] @ vectors[:, 0]
        ratio = max(0.25 * ratio, abs(true - seen[worst, 1, 0]) / max(product[worst], 1e-300))
        solved.append(float(frequency[worst]))
        basis = _enriched(basis, vectors)
    return Spectrum(
        two_port=guess,
        error=error,
        solved=np.sort(solved),
        basis=basis,
        coefficients=coefficients,
        tolerance=tolerance,
    )


def _chebyshev(low: float, high: float, count: int) -> Array:
    """Chebyshev points over log frequency."""
    nodes = np.cos(np.pi * (np.arange(count) + 0.5) / count)
    return np.sqrt(low * high) * (high / low) ** (nodes / 2)


def _moments(of: Operator, filling: Filling, frequency: float, medium: Medium) -> Array:
    """Both ports' solutions at one frequency and their first derivatives over ln f, from one
    factorisation."""
    low, here, high = (matrix_data(of, filling, frequency * (1 + step), medium) for step in (-STEP, 0.0, STEP))
    solver = factored(of, here)
    load = 2j * (2 * np.pi * frequency / medium.speed) * loads(of)
    first = solver.solve(load)
    second = solver.solve(load - of.sparse((high - low) / (2 * STEP)) @ first)
    return np.concatenate([first, second], axis=1)


def _enriched(basis: Array, vectors: Array) -> Array:
    """The basis with the real and imaginary parts of more vectors, orthonormal; what adds nothing is left
    out."""
    from scipy.linalg import qr

    new = np.concatenate([vectors.real, vectors.imag], axis=1)
    new = new / np.maximum(np.linalg.norm(new, axis=0), 1e-300)
    for _ in range(2):
        new = new - basis @ (basis.T @ new)
    q, r, _ = qr(new, mode="economic", pivoting=True)
    kept = q[:, np.abs(np.diag(r)) > 1e-9]
    kept = kept - basis @ (basis.T @ kept)
    return np.concatenate([basis, kept / np.linalg.norm(kept, axis=0)], axis=1)


def _scale(of: Operator) -> Array:
    """One over the diagonal of the stiffnesses, which makes residuals of all unknowns comparable."""
    diagonal = of.sparse(of.terms[: of.prism.fibres + 1].sum(axis=0)).diagonal()
    return 1 / np.maximum(diagonal, 1e-12 * diagonal.max())


def _projected(of: Operator, basis: Array, scale: Array) -> Projection:
    """The terms on the basis, and the Gram matrix of every vector a residual can be made of."""
    images = np.stack([of.sparse(term) @ basis for term in of.terms])
    gates = np.zeros((of.size, sum(gate.modes.shape[1] for gate in of.gates)))
    column = 0
    for gate in of.gates:
        gates[gate.dofs, column : column + gate.modes.shape[1]] = gate.modes
        column += gate.modes.shape[1]
    pieces = np.concatenate([*images, gates], axis=1) * np.sqrt(scale)[:, None]
    return Projection(basis=basis, images=images, terms=basis.T @ images, gram=pieces.T @ pieces)


def _coefficients(of: Operator, model: Projection, filling: Filling, frequency: Array, medium: Medium) -> Array:
    """Coefficients of both ports' fields on the basis, (frequencies, r, 2)."""
    matrix = np.tensordot(factors(of, filling, frequency, medium), model.terms, axes=1)
    for gate in of.gates:
        modes = model.basis[gate.dofs].T @ gate.modes
        jk = mode_wavenumbers(gate, frequency, medium)
        matrix += np.einsum("fm,rm,sm->frs", jk, modes, modes, optimize=True)
    k = 2 * np.pi * frequency / medium.speed
    return np.linalg.solve(matrix, 2j * k[:, None, None] * (model.basis.T @ loads(of)))


def _residual_norms(
    of: Operator, model: Projection, coefficients: Array, filling: Filling, frequency: Array, medium: Medium
) -> Array:
    """Scaled norms of load minus A times the reduced field, (frequencies, 2)."""
    theta = factors(of, filling, frequency, medium)
    body = -np.einsum("ft,frj->ftrj", theta, coefficients).reshape(len(frequency), -1, 2)
    doors = []
    for port, gate in enumerate(of.gates):
        seen = np.einsum("mr,frj->fmj", gate.modes.T @ model.basis[gate.dofs], coefficients)
        jk = mode_wavenumbers(gate, frequency, medium)
        door = -jk[:, :, None] * seen
        door[:, 0, port] += 2 * jk[:, 0]
        doors.append(door)
    weights = np.concatenate([body, *doors], axis=1)
    squared = np.einsum("faj,fab,fbj->fj", weights.conj(), model.gram[None], weights, optimize=True).real
    return np.sqrt(np.maximum(squared, 0.0))


def _in_decibels(error: Array, guess: TwoPort) -> Array:
    """An error of S21 as one of the transmission loss, dB."""
    return 20 * np.log10(1 + error / np.maximum(np.abs(guess.scattering[:, 1, 0]), 1e-15))
