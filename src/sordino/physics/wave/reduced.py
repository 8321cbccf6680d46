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
NOTHING = 1e-7
"""What is left of a vector of length 1 beside the basis, and counts as nothing."""
SAFETY = 10.0
"""The ratio measured at a few frequencies is taken this much larger for all the others: at 5 a borrowed basis could be
0.2 dB off."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Projection:
    """A basis (unknowns, r), and what each term and each port mode makes of it.

    Residuals are scaled by one over the diagonal of the stiffness, which makes all unknowns comparable: `images`
    (t, r, unknowns) are terms times basis so scaled, `gram` (t, r, t, r) and `doors` (t, r, modes) their products
    among themselves and with the port modes, `within` those of the port modes.
    """

    basis: Array
    scale: Array
    images: Array
    terms: Array
    gram: Array
    doors: Array
    within: Array


@dataclass(frozen=True, kw_only=True, slots=True)
class Spectrum:
    """A two-port over many frequencies, the estimated error of its transmission loss (dB), and what was
    solved in full."""

    two_port: TwoPort
    error: Array
    solved: Array
    projection: Projection
    coefficients: Array
    tolerance: float

    @property
    def basis(self) -> Array:
        """Fields that all the fields are made of, (unknowns, r)."""
        return self.projection.basis

    @property
    def converged(self) -> Array:
        """Frequencies at which the estimate is within the tolerance; elsewhere the ceiling has to speak."""
        return self.error <= self.tolerance


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
    start: Projection | None = None,
) -> Spectrum:
    """The two-port at all `frequency`, Hz, sorted: exact within `tolerance` dB wherever TL is below `floor` dB.

    Starts from a few log-Chebyshev frequencies, or from the basis `start` of another filling of the same operator.
    Then solves in full wherever the estimate is worst, which also measures how good the estimate is, until the goal is
    met or MOST frequencies are solved; `converged` says where it is.
    """
    solved: list[float] = [] if start else list(_chebyshev(frequency[0], frequency[-1], START))
    model = start or _empty(of)
    for f in solved:
        model = _extended(of, model, _moments(of, filling, f, medium))
    guess, ratio = _guess(of, model, filling, frequency, medium), 0.0
    while len(solved) < MOST:
        loud = guess.through > 10 ** (-floor / 20)
        if ratio > 0 and (guess.error(ratio)[loud] <= tolerance).all():
            break
        worst = int(np.argmax(np.where(loud, guess.product / guess.through, 0.0)))
        vectors = _moments(of, filling, float(frequency[worst]), medium)
        ratio = max(ratio / 2, _true_ratio(of, vectors, guess, worst, medium))
        solved.append(float(frequency[worst]))
        model = _extended(of, model, vectors)
        guess = _guess(of, model, filling, frequency, medium)
    return Spectrum(
        two_port=guess.two_port,
        error=guess.error(ratio) if ratio > 0 else np.full(len(frequency), np.inf),
        solved=np.sort(solved),
        projection=model,
        coefficients=guess.coefficients,
        tolerance=tolerance,
    )


def _guess(of: Operator, model: Projection, filling: Filling, frequency: Array, medium: Medium) -> Guess:
    coefficients = _coefficients(of, model, filling, frequency, medium)
    seen = np.einsum("ri,frj->fij", model.basis.T @ loads(of), coefficients)
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


def _empty(of: Operator) -> Projection:
    """The basis of nothing."""
    count, modes = len(of.terms), _doors(of)
    diagonal = of.sparse(of.terms[: of.prism.fibres + 1].sum(axis=0)).diagonal()
    scale = np.sqrt(np.maximum(diagonal, 1e-12 * diagonal.max()))
    return Projection(
        basis=np.zeros((of.size, 0)),
        scale=scale,
        images=np.zeros((count, 0, of.size)),
        terms=np.zeros((count, 0, 0)),
        gram=np.zeros((count, 0, count, 0)),
        doors=np.zeros((count, 0, modes.shape[1])),
        within=(modes / scale[:, None] ** 2).T @ modes,
    )


def _doors(of: Operator) -> Array:
    """Integrals of all port modes, (unknowns, modes), the first port's first."""
    doors = [np.zeros((of.size, gate.modes.shape[1])) for gate in of.gates]
    for door, gate in zip(doors, of.gates, strict=True):
        door[gate.dofs] = gate.modes
    return np.concatenate(doors, axis=1)


def _extended(of: Operator, model: Projection, vectors: Array) -> Projection:
    """The basis with more vectors; products that are known are kept."""
    new = _news(model.basis, vectors)
    old, count = model.basis.shape[1], model.basis.shape[1] + new.shape[1]
    fresh = np.stack([(of.sparse(term) @ new / model.scale[:, None]).T for term in of.terms])
    images, basis = np.concatenate([model.images, fresh], axis=1), np.concatenate([model.basis, new], axis=1)
    terms = np.empty((len(images), count, count))
    terms[:, :old, :old] = model.terms
    terms[:, old:, :] = fresh @ (basis * model.scale[:, None])
    terms[:, :old, old:] = terms[:, old:, :old].transpose(0, 2, 1)
    gram = np.empty((len(images), count, len(images), count))
    gram[:, :old, :, :old] = model.gram
    gram[:, :, :, old:] = np.tensordot(images, fresh, axes=(2, 2))
    gram[:, old:, :, :old] = gram[:, :old, :, old:].transpose(2, 3, 0, 1)
    doors = fresh @ (_doors(of) / model.scale[:, None])
    return Projection(
        basis=basis,
        scale=model.scale,
        images=images,
        terms=terms,
        gram=gram,
        doors=np.concatenate([model.doors, doors], axis=1),
        within=model.within,
    )


def _news(basis: Array, vectors: Array) -> Array:
    """Orthonormal vectors that the real and imaginary parts of some add to a basis; what adds nothing is left out."""
    from scipy.linalg import qr

    new = np.concatenate([vectors.real, vectors.imag], axis=1)
    new = new / np.maximum(np.linalg.norm(new, axis=0), 1e-300)
    for _ in range(2):
        new = new - basis @ (basis.T @ new)
    q, r, _ = qr(new, mode="economic", pivoting=True)
    kept = q[:, np.abs(np.diag(r)) > NOTHING]
    kept = kept - basis @ (basis.T @ kept)
    return kept / np.linalg.norm(kept, axis=0)


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
    door = np.concatenate(doors, axis=1)
    count = body.shape[1]
    squared = _quadratic(model.gram.reshape(count, count), body) + _quadratic(model.within, door)
    crossed = model.doors.reshape(count, -1).T @ body
    squared += 2 * (door.conj() * crossed).real.sum(axis=1)
    return np.sqrt(np.maximum(squared, 0.0))


def _quadratic(matrix: Array, vectors: Array) -> Array:
    """v^H M v of vectors (f, n, j) by a real symmetric M, (f, j)."""
    flat = np.moveaxis(vectors, 1, 0).reshape(len(matrix), -1)
    parts = (part * (matrix @ part) for part in (flat.real, flat.imag))
    return sum(part.sum(axis=0) for part in parts).reshape(len(vectors), -1)
