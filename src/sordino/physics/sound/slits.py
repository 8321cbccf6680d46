"""Sound through a long straight slit in a wall: the gap under a skirting, round a sleeve, beside a frame."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from sordino.bands import CENTRES, Array, Bands
from sordino.physics.sound.customary import SPEED_OF_SOUND

NARROW = 1.0
"""Wavenumber times width up to which the slit's air moves as one; above, it passes what falls on it."""
EULER = 0.5772156649
_FINE = 2.0 ** ((np.arange(96) + 0.5) / 96 - 0.5)


def slit_transmission(f: Array, width: float, depth: float, c: float = SPEED_OF_SOUND) -> Array:
    """Share of the diffuse sound falling on a slit that it passes, above 1 at its resonances, like `f`.

    A duct of length `depth` between two mouths of impedance rho c (K/2 + j K e), K = 2 pi f width / c and
    e = (ln(8/K) - 0.577)/pi, driven by twice the pressure of the incident wave; diffuse sound gives twice what
    normal incidence gives (after Gomperts 1964, worked out anew). Width and depth in m; friction neglected, so
    slits under 1 mm pass less than stated; so do slits shorter than the wave, since the slit is taken as endless.
    """
    small = np.minimum(2.0 * np.pi * f * width / c, NARROW)
    mouth = small / 2.0 + 1j * small * (np.log(8.0 / small) - EULER) / np.pi
    phase = 2.0 * np.pi * f * depth / c
    out = 2.0 / (2.0 * mouth * np.cos(phase) + 1j * (1.0 + mouth**2) * np.sin(phase))
    passed = 2.0 * mouth.real * np.abs(out) ** 2
    return np.where(small < NARROW, passed, 1.0)


@lru_cache(maxsize=256)
def _band_loss(width: float, depth: float, c: float) -> tuple[float, ...]:
    passed = slit_transmission(CENTRES[:, np.newaxis] * _FINE, width, depth, c).mean(axis=-1)
    return tuple((-10.0 * np.log10(passed)).tolist())


def slit_loss(width: float, depth: float, c: float = SPEED_OF_SOUND) -> Bands:
    """Loss of a slit against its own open area per octave, dB, shape (9,), negative where it resonates."""
    return np.array(_band_loss(width, depth, c))
