"""Sound power of fans, from their duty or from the one number a maker gives."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import OCTAVES, Array, Bands, energy_sum, octave
from sordino.physics.sound.customary import CUBIC_FOOT_PER_MINUTE, INCH_OF_WATER
from sordino.physics.sound.weighting import a_level
from sordino.tables import table

UNKNOWN = "unknown"
"""The kind whose shape is the highest of all kinds in each band."""


def fan_kinds() -> tuple[str, ...]:
    """Names of the kinds on record."""
    return table("sound/fan_power").text("kind")


def fan_power(
    kind: str,
    flow: ArrayLike,
    pressure: ArrayLike,
    efficiency_percent: float = 100.0,
    blade_pass: float | None = None,
) -> Bands:
    """Sound power K + 10 lg Q + 20 lg P + C of a fan, dB re 1 pW; 31.5 Hz NaN (ASHRAE 1991).

    Flow in m3/s, total pressure in Pa, efficiency in per cent of the peak static efficiency (50 and less
    count alike). The increment falls in the octave that holds `blade_pass` (Hz), by default the kind's usual
    one.
    """
    row = table("sound/fan_power").row("kind", kind)
    usual = float(row["blade_pass"]) if blade_pass is None else blade_pass
    tone = np.abs(np.log2(OCTAVES[1:] / usual))
    specific = _specific(kind) + np.where(tone == tone.min(), float(row["increment"]), 0.0)
    duty = 10.0 * np.log10(np.asarray(flow, float) / CUBIC_FOOT_PER_MINUTE)
    duty = duty + 20.0 * np.log10(np.asarray(pressure, float) / INCH_OF_WATER)
    return octave(specific + duty[..., None] + off_peak_increase(efficiency_percent))


def off_peak_increase(efficiency_percent: float) -> float:
    """What a fan gains away from its best point, dB; below 50 % of peak efficiency 15 dB holds (ASHRAE)."""
    classes = table("sound/fan_off_peak")
    place = np.searchsorted(classes.numbers("from"), efficiency_percent, side="right") - 1
    return float(classes.numbers("increase")[max(int(place), 0)])


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
    return listed.numbers(*listed.columns[1:9])[listed.text("kind").index(kind)]


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
