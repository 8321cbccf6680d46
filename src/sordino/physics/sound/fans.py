"""Sound power of fans from the one number a maker gives."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array, Bands, energy_sum, octave
from sordino.physics.sound.weighting import a_level
from sordino.tables import table

UNKNOWN = "unknown"
"""The kind whose shape is the mean energy of all kinds in each band."""


def fan_kinds() -> tuple[str, ...]:
    """Names of the kinds on record."""
    return table("sound/fan_power").text("kind")


def spectrum_from_a_level(a_weighted: ArrayLike, kind: str = UNKNOWN) -> Bands:
    """Octave levels of a fan of which only the A-weighted level is known, dB; 31.5 Hz NaN.

    The kind's specific spectrum moved to the A-weighted level; "unknown" takes the mean energy of all kinds in each
    band, moved likewise. Good to about 5 dB a band.
    """
    return octave(np.asarray(a_weighted, float)[..., None] + _mean_shape(kind))


def power_from_pressure(level: ArrayLike, distance: ArrayLike, directivity: ArrayLike = 1.0) -> Array:
    """Sound power level behind a pressure level measured free of reflections, Lp + 10 lg(4 pi r^2 / Q), dB.

    Q = 1 in free space, 2 over a hard floor. A catalogue level with test ducts fitted gives the casing and
    duct ends of that test, not what the fan sends into a duct.
    """
    sphere = 4.0 * np.pi * np.asarray(distance, float) ** 2 / np.asarray(directivity, float)
    return np.asarray(level, float) + 10.0 * np.log10(sphere)


@cache
def _specific(kind: str) -> Array:
    listed = table("sound/fan_power")
    return listed.numbers(*listed.columns[1:])[listed.text("kind").index(kind)]


@cache
def _shape(kind: str) -> Array:
    """Specific spectrum less its own A-weighted level, 63 Hz to 8 kHz."""
    return _specific(kind) - a_level(octave(_specific(kind)))


@cache
def _mean_shape(kind: str) -> Array:
    """Spectrum of a kind, or the mean energy of all kinds, less its own A-weighted level, 63 Hz to 8 kHz."""
    shapes = np.array([_shape(each) for each in (fan_kinds() if kind == UNKNOWN else (kind,))])
    mean = energy_sum(shapes) - 10.0 * np.log10(len(shapes))
    return mean - a_level(octave(mean))
