"""Plane waves in chains of ducts: four-poles in sound pressure p and volume velocity U, time factor e^{+jwt}.

A four-pole T has shape (..., 2, 2) and links the plane nearer the source to the plane nearer the receiver,
[p1, U1] = T [p2, U2] (Munjal, Acoustics of Ducts and Mufflers, ch. 2). All are passive and reciprocal (det T = 1).
Valid below the first cut-on of the duct; above it the caller uses energies instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce

import numpy as np

from sordino.bands import Array

NEPER = 20.0 / np.log(10.0)
"""Decibels in one neper."""

MOST = 200.0
"""Loss of one line beyond which numbers, not sound, would run out, dB."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Transmission:
    """How power fares along a chain: fractions of the source's available power, and what each plane looks into."""

    power: Array
    """Net power at each of the n + 1 planes over available power, shape (n + 1, F)."""
    impedance: Array
    """Acoustic impedance looking towards the receiver at each plane, Pa s/m3, shape (n + 1, F)."""


def characteristic_impedance(area: float, density: float, c: float) -> float:
    """Acoustic impedance of a plane wave in a duct of `area` m2, rho c / S in Pa s/m3."""
    return density * c / area


def lossy_line(f: Array, length: float, area: float, attenuation: Array | float, density: float, c: float) -> Array:
    """A duct of constant section whose plane wave loses `attenuation` dB over its `length` (m).

    Handbook losses are insertion losses in matched ducts, so the loss is put into the propagation constant and the
    characteristic impedance is left real: a matched attenuator, which is passive and reciprocal.
    """
    gamma = 1j * 2.0 * np.pi * f / c * length + np.minimum(attenuation, MOST) / NEPER
    z = characteristic_impedance(area, density, c)
    cosh, sinh = np.cosh(gamma), np.sinh(gamma)
    return _matrix(cosh, z * sinh, sinh / z, cosh)


def shunt(admittance: Array) -> Array:
    """A side branch of the given acoustic admittance, m3/(Pa s)."""
    one = np.ones_like(admittance)
    return _matrix(one, 0.0 * one, admittance, one)


def cascade(parts: Sequence[Array]) -> Array:
    """Several four-poles in a row, source side first."""
    return reduce(np.matmul, parts)


def reversed_pole(pole: Array) -> Array:
    """The same reciprocal element met from its other end."""
    return _matrix(pole[..., 1, 1], pole[..., 0, 1], pole[..., 1, 0], pole[..., 0, 0])


def input_impedance(pole: Array, end: Array) -> Array:
    """Impedance looking into a four-pole that ends in the impedance `end`."""
    a, b, c, d = _terms(pole)
    return (a * end + b) / (c * end + d)


def matched_fraction(source: Array | float, load: Array) -> Array:
    """Share of a source's available power that enters `load`: 4 Re Zs Re Zl / |Zs + Zl|^2, from 0 to 1."""
    return 4.0 * np.real(np.asarray(source)) * load.real / np.abs(source + load) ** 2


def transmission(poles: Sequence[Array], end: Array, source: Array | float) -> Transmission:
    """Net power along a chain driven by a source of internal impedance `source` and ended by `end`.

    The power at each plane over the power at the plane before it is Re Z2 / (Re Z1 |C Z2 + D|^2); it never exceeds
    one for passive four-poles.
    """
    impedances: list[Array] = [end]
    drops: list[Array] = []
    for pole in reversed(poles):
        after = impedances[0]
        before = input_impedance(pole, after)
        drops.insert(0, np.real(after) / np.real(before) / np.abs(pole[..., 1, 0] * after + pole[..., 1, 1]) ** 2)
        impedances.insert(0, before)
    entering = matched_fraction(source, impedances[0])
    power = np.cumprod(np.stack([entering, *drops]), axis=0)
    return Transmission(power=power, impedance=np.stack(impedances))


def transmission_loss(pole: Array, z_in: float, z_out: float) -> Array:
    """Incident over transmitted power between matched ducts, dB (Munjal eq. 3.27)."""
    a, b, c, d = _terms(pole)
    sum_of_terms = np.abs(a + b / z_out + c * z_in + d * z_in / z_out)
    return 20.0 * np.log10(sum_of_terms / 2.0) + 10.0 * np.log10(z_out / z_in)


def _terms(pole: Array) -> tuple[Array, Array, Array, Array]:
    return pole[..., 0, 0], pole[..., 0, 1], pole[..., 1, 0], pole[..., 1, 1]


def _matrix(a: Array, b: Array, c: Array, d: Array) -> Array:
    pole = np.empty((*np.shape(a), 2, 2), dtype=np.result_type(a, b, c, d))
    pole[..., 0, 0], pole[..., 0, 1], pole[..., 1, 0], pole[..., 1, 1] = a, b, c, d
    return pole
