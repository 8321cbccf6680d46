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
from sordino.physics.wave.twoport import TwoPort

START = 3
"""Frequencies solved in full before the first estimate."""
MOST = 16
"""Frequencies solved in full at the most."""
STEP = 1e-3
"""Relative frequency step of the numerical derivatives of A."""
SAFETY = 5.0
"""The ratio measured at a few frequencies is taken this much larger for all the others."""


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
    """A basis (unknowns, r), the terms projected on it (t, r, r), and the Gram matrix of all residuals are made of."""

    basis: Array
    terms: Array
    gram: Array


@dataclass(frozen=True, kw_only=True, slots=True)
class Guess:
    """What one basis says: the two-port, the fields' coefficients, and the product of both ports' residual norms."""

    two_port: TwoPort
    coefficients: Array
    product: Array

    @property
    def through(self) -> Array:
        """|S21|."""
        return np.maximum(np.abs(self.two_port.scattering[:, 1, 0]), 1e-15)

    def error(self, ratio: float) -> Array:
        """The transmission loss's error if S21 is off by `ratio` times the product of residuals, dB."""
        return 20 * np.log10(1 + SAFETY * ratio * self.product / self.through)


def spectrum(
    of: Operator,
    filling: Filling,
    frequency: Array,
    medium: Medium = AIR,
    tolerance: float = 0.05,
    floor: float = 60.0,
) -> Spectrum:
    """The two-port at all `frequency`, Hz, sorted: exact within `tolerance` dB wherever TL is below `floor` dB.

    Starts from a few log-Chebyshev frequencies, then solves in full wherever the estimate is worst, which also measures
    how good the estimate is, until the goal is met or MOST frequencies are solved; `converged` says where it is.
    """
    solved = list(_chebyshev(frequency[0], frequency[-1], START))
    basis = np.zeros((of.size, 0))
    for f in solved:
        basis = _enriched(basis, _moments(of, filling, f, medium))
    guess, ratio = _guess(of, basis, filling, frequency, medium), 0.0
    while len(solved) < MOST:
        loud = guess.through > 10 ** (-floor / 20)
        if ratio > 0 and (guess.error(ratio)[loud] <= tolerance).all():
            break
        worst = int(np.argmax(np.where(loud, guess.product / guess.through, 0.0)))
        vectors = _moments(of, filling, float(frequency[worst]), medium)
        ratio = max(ratio / 4, _true_ratio(of, vectors, guess, worst, medium))
        solved.append(float(frequency[worst]))
        basis = _enriched(basis, vectors)
        guess = _guess(of, basis, filling, frequency, medium)
    return Spectrum(
        two_port=guess.two_port,
        error=guess.error(ratio) if ratio > 0 else np.full(len(frequency), np.inf),
        solved=np.sort(solved),
        basis=basis,
        coefficients=guess.coefficients,
        tolerance=tolerance,
    )


def _guess(of: Operator, basis: Array, filling: Filling, frequency: Array, medium: Medium) -> Guess:
    model = _projected(of, basis)
    coefficients = _coefficients(of, model, filling, frequency, medium)
    seen = np.einsum("ri,frj->fij", basis.T @ loads(of), coefficients)
    norms = _residual_norms(of, model, coefficients, filling, frequency, medium)
    return Guess(two_port=two_port(of, seen, frequency, medium), coefficients=coefficients, product=norms.prod(axis=1))


def _true_ratio(of: Operator, vectors: Array, guess: Guess, row: int, medium: Medium) -> float:
    """The true error of S21 over the product of residuals, where a frequency has just been solved in full."""
    seen = (loads(of).T @ vectors[:, :2])[None]
    true = two_port(of, seen, guess.two_port.frequency[row : row + 1], medium).scattering[0, 1, 0]
    return float(abs(true - guess.two_port.scattering[row, 1, 0]) / max(guess.product[row], 1e-300))


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


def _projected(of: Operator, basis: Array) -> Projection:
    """The terms on the basis, and the Gram matrix of the vectors that a residual is a combination of.

    Residuals are scaled by one over the diagonal of the stiffness, which makes all unknowns comparable.
    """
    images = np.stack([of.sparse(term) @ basis for term in of.terms])
    doors = [np.zeros((of.size, gate.modes.shape[1])) for gate in of.gates]
    for door, gate in zip(doors, of.gates, strict=True):
        door[gate.dofs] = gate.modes
    diagonal = of.sparse(of.terms[: of.prism.fibres + 1].sum(axis=0)).diagonal()
    scale = np.sqrt(np.maximum(diagonal, 1e-12 * diagonal.max()))
    pieces = np.concatenate([*images, *doors], axis=1) / scale[:, None]
    return Projection(basis=basis, terms=basis.T @ images, gram=pieces.T @ pieces)


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
