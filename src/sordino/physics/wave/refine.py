"""How far a grid is from the truth, told by a coarser one beside it."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.bands import Array
from sordino.physics.wave.operator import Filling, operator
from sordino.physics.wave.porous import AIR, Medium
from sordino.physics.wave.prism import Prism
from sordino.physics.wave.reduced import Spectrum, spectrum
from sordino.physics.wave.twoport import transmission_loss

COARSER = 1.5
"""Cell size of the companion grid over that of the answer."""
ORDER = 1.0
"""Assumed order of convergence: 2 when all interfaces follow the grid, at least 1 when round ones cross
it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Checked:
    """A spectrum and the numerical error of its transmission loss, dB: that of the grid and of the basis
    together."""

    spectrum: Spectrum
    error: Array


def checked_spectrum(prism: Prism, filling: Filling, frequency: Array, size: float, medium: Medium = AIR) -> Checked:
    """The spectrum on cells of `size` (m), with the error that a companion 1.5 times coarser suggests.

    |TL(h) - TL(1.5 h)| / (1.5^p - 1) with p = 1, so twice the difference; safe where the order is 2 (Roache,
    J. Fluids Eng. 116 (1994), grid convergence index, from memory).
    """
    answer = spectrum(operator(prism, size), filling, frequency, medium)
    companion = spectrum(operator(prism, COARSER * size), filling, frequency, medium)
    gap = grid_error(transmission_loss(answer.two_port), transmission_loss(companion.two_port))
    return Checked(spectrum=answer, error=gap + answer.error)


def grid_error(loss: Array, coarser: Array) -> Array:
    """Error of a loss by its grid, dB, from the same on a grid COARSER times as coarse."""
    return abs(loss - coarser) / (COARSER**ORDER - 1)
