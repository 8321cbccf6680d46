"""What a box does between its two ducts: scattering of plane waves, transmission loss, four-pole."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.porous import AIR, Medium

TRUSTED = 0.9
"""Share of the lower cut-on up to which a duct carries plane waves only."""


@dataclass(frozen=True, kw_only=True, slots=True)
class TwoPort:
    """Plane waves in and out of two ducts, in amplitudes whose square is power.

    `scattering` (frequencies, 2, 2): S[:, i, j] is the wave leaving port i for one arriving at port j, phases
    at the ports' outer ends. `areas` m2. `limit` Hz: above it the ducts carry more than plane waves and
    nothing is claimed.
    """

    frequency: Array
    scattering: Array
    areas: tuple[float, float]
    limit: float

    @property
    def valid(self) -> Array:
        """Frequencies at which plane waves tell all."""
        return self.frequency <= self.limit


def transmission_loss(of: TwoPort) -> Array:
    """Incident over transmitted power into an endless duct, dB; the same both ways by reciprocity."""
    return -20 * np.log10(np.maximum(np.abs(of.scattering[:, 1, 0]), 1e-15))


def absorbed(of: TwoPort) -> Array:
    """Share of the incident power lost inside, for sound from each port, (frequencies, 2)."""
    return 1 - (np.abs(of.scattering) ** 2).sum(axis=1)


def four_pole(of: TwoPort, medium: Medium = AIR) -> Array:
    """[p1, U1] = T [p2, U2] with volume velocity in at port 1 and out at port 2, SI, (frequencies, 2, 2).

    Conversion of a scattering matrix with port impedances rho c / S (any text on two-ports).
    """
    z1, z2 = (medium.density * medium.speed / area for area in of.areas)
    s11, s12, s21, s22 = (of.scattering[:, i, j] for i in (0, 1) for j in (0, 1))
    cross = s12 * s21
    a = ((1 + s11) * (1 - s22) + cross) * np.sqrt(z1 / z2)
    b = ((1 + s11) * (1 + s22) - cross) * np.sqrt(z1 * z2)
    c = ((1 - s11) * (1 - s22) - cross) / np.sqrt(z1 * z2)
    d = ((1 - s11) * (1 + s22) + cross) * np.sqrt(z2 / z1)
    matrix = np.stack([np.stack([a, b], axis=-1), np.stack([c, d], axis=-1)], axis=-2)
    return matrix / (2 * s21)[:, None, None]
