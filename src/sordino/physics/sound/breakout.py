"""Sound through duct walls: out of the duct (breakout) and into it (break-in)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import CENTRES, OCTAVES, Array, Bands, octave
from sordino.kinds import FOOT, INCH, POUND
from sordino.physics.sound.customary import DENSITY, SPEED_OF_SOUND
from sordino.physics.sound.panels import normal_mass_law
from sordino.tables import table

STIFFEST = 45.0
"""Most that a single sheet-metal duct wall is credited with, dB."""


def rectangular_breakout_loss(width: ArrayLike, height: ArrayLike, surface_mass: ArrayLike, length: ArrayLike) -> Bands:
    """TL_out of a rectangular metal duct, dB, nine bands (Vér 1983; SMACNA 11.24; ASHRAE).

    10 lg[f q^2/(a + b)] + 17 below f_L = 24120/sqrt(a b), 20 lg(q f) - 31 above; at most 45 and at least 10
    lg[24 L (1/a + 1/b)]; a, b in inches, q in lb/ft2, L in ft. Arguments in m and kg/m2. The handbook starts
    at 63 Hz; 31.5 Hz follows the same line.
    """
    a, b = (np.asarray(side, float)[..., None] / INCH for side in (width, height))
    q = np.asarray(surface_mass, float)[..., None] * FOOT**2 / POUND
    low = 10.0 * np.log10(OCTAVES * q**2 / (a + b)) + 17.0
    high = 20.0 * np.log10(q * OCTAVES) - 31.0
    loss = np.minimum(np.where(OCTAVES < 24120.0 / np.sqrt(a * b), low, high), STIFFEST)
    return np.maximum(loss, _least(24.0, a, b, length))


def rectangular_breakin_loss(width: ArrayLike, height: ArrayLike, surface_mass: ArrayLike, length: ArrayLike) -> Bands:
    """TL_in of a rectangular metal duct, dB, nine bands (Vér 1983; Long eq 14.59; SMACNA 11.24).

    Below f1 = 6764/a (a the longer side, inches) the larger of TL_out - 4 - 10 lg(a/b) + 20 lg(f/f1) and
    10 lg[12 L (1/a + 1/b)]; above, TL_out - 3.
    """
    out = rectangular_breakout_loss(width, height, surface_mass, length)
    sides = [np.asarray(side, float)[..., None] / INCH for side in (width, height)]
    a, b = np.maximum(*sides), np.minimum(*sides)
    first = 6764.0 / a
    low = out - 4.0 - 10.0 * np.log10(a / b) + 20.0 * np.log10(OCTAVES / first)
    return np.where(OCTAVES < first, np.maximum(low, _least(12.0, a, b, length)), out - 3.0)


def round_breakout_loss(diameter: float) -> Bands:
    """TL_out of spiral-wound round metal duct, dB; 31.5 Hz NaN (ASHRAE).

    Interpolated over the logarithm of the diameter (m), held outside 0.2 to 0.81 m: smaller ducts are stiffer
    yet.
    """
    rows = table("sound/round_breakout")
    values = rows.numbers(*rows.columns[1:])
    sizes = np.log(rows.numbers("diameter") * INCH)
    return octave(np.array([np.interp(np.log(diameter), sizes, column) for column in values.T]))


def flexible_wall_loss(surface_mass: ArrayLike, density: float = DENSITY, c: float = SPEED_OF_SOUND) -> Bands:
    """TL_out of the wall of a flexible duct taken as a limp film, dB, nine bands.

    Mass law at normal incidence less 5 dB for oblique waves, never negative; surface mass (film, fibre and
    jacket) in kg/m2. Our judgement: wires and seams are left out.
    """
    mass = np.asarray(surface_mass, float)[..., None]
    return np.maximum(normal_mass_law(CENTRES, mass, density, c) - 5.0, 0.0)


def effective_length(length: ArrayLike, attenuation_per_metre: ArrayLike) -> Array:
    """Length over which a wall radiates as if nothing were lost along it, (1 - 10^(-a L/10)) / (a ln 10 /
    10), m.

    Length in m, attenuation a along the duct in dB/m, shapes broadcast (give the length an axis for the
    bands).
    """
    decay = np.asarray(attenuation_per_metre, float) * np.log(10.0) / 10.0
    run = np.asarray(length, float)
    safe = np.where(decay > 1e-9, decay, 1.0)
    return np.where(decay > 1e-9, -np.expm1(-safe * run) / safe, run)


def _least(factor: float, a: Array, b: Array, length: ArrayLike) -> Array:
    """Lower bound of a transmission loss by the areas alone, dB."""
    feet = np.asarray(length, float)[..., None] / FOOT
    return 10.0 * np.log10(factor * feet * (1.0 / a + 1.0 / b))
