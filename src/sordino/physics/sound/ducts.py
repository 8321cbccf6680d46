"""Attenuation of straight metal duct per metre of length, bare and lined."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import OCTAVES, Array, Bands, octave
from sordino.kinds import FOOT, INCH
from sordino.tables import table

LINED_CAP = 40.0
"""Most that a run of lined duct can show as a whole, dB (ASHRAE; flanking along the metal)."""

EIGHT = OCTAVES[1:]
THICKEST_RECTANGULAR = 2.0 * INCH
THICKEST_ROUND = 3.0 * INCH
NARROWEST_ROUND, WIDEST_ROUND = 6.0 * INCH, 60.0 * INCH


def rectangular_unlined(width: ArrayLike, height: ArrayLike, insulated: bool = False) -> Bands:
    """Attenuation of bare rectangular metal duct, dB/m; 31.5 Hz NaN.

    17 p^-0.25 f^-0.85 for p >= 3 and 1.64 p^0.73 f^-0.58 below, to 250 Hz; 0.02 p^0.8 above; dB/ft with p =
    P/A in 1/ft (Reynolds & Bledsoe 1991). Sides in m. External insulation doubles the bands to 250 Hz.
    """
    p = _perimeter_per_area(width, height) * FOOT
    low = np.where(p >= 3.0, 17.0 * p**-0.25 * EIGHT**-0.85, 1.64 * p**0.73 * EIGHT**-0.58)
    wrap = 2.0 if insulated else 1.0
    return octave(np.where(EIGHT <= 250.0, wrap * low, 0.02 * p**0.8) / FOOT)


def rectangular_lining(width: ArrayLike, height: ArrayLike, thickness: ArrayLike) -> Bands:
    """Attenuation that a lining adds to rectangular metal duct, dB/m; 31.5 Hz NaN.

    B p^C t^D in dB/ft, p = P/A in 1/ft, t in inches (Reynolds & Bledsoe 1991), free sides inside the lining
    in m. Thicker than 51 mm holds the 51 mm value; thinner than 25 mm shrinks in proportion also from 1 kHz
    up, where the fit knows no thickness. Add the bare duct; cap a run at LINED_CAP.
    """
    b, c, d = _columns("sound/rectangular_lining", "bcd")
    t = np.minimum(np.asarray(thickness, float), THICKEST_RECTANGULAR)[..., None] / INCH
    p = _perimeter_per_area(width, height) * FOOT
    thin = np.where(d == 0.0, np.minimum(t, 1.0), t**d)
    return octave(b * p**c * thin / FOOT)


def round_unlined(diameter: ArrayLike) -> Bands:
    """Attenuation of bare round metal duct, dB/m, by the handbook's four size classes; 31.5 Hz NaN.

    Diameter in m; above 1.52 m the last class holds.
    """
    up_to, *eight = _columns("sound/round_unlined", table("sound/round_unlined").columns)
    limits = up_to * INCH * 1.02  # nominal metric sizes stay in their inch class
    values = np.stack(eight, axis=-1) / FOOT
    place = np.minimum(np.searchsorted(limits, np.asarray(diameter, float)), limits.size - 1)
    return octave(values[place])


def round_lined(diameter: ArrayLike, thickness: ArrayLike) -> Bands:
    """Attenuation of lined round metal duct as a whole, dB/m, never negative; 31.5 Hz NaN.

    A + B t + C t^2 + D d + E d^2 + F d^3 in dB/ft with t and d in inches (Reynolds & Bledsoe 1991). Free
    diameter 0.15 to 1.52 m and thickness to 76 mm in m, held at those limits; thinner than 25 mm fades to the
    bare duct.
    """
    a, b, c, d, e, f = _columns("sound/round_lining", "abcdef")
    bore = np.clip(np.asarray(diameter, float), NARROWEST_ROUND, WIDEST_ROUND)[..., None] / INCH
    t = np.minimum(np.asarray(thickness, float), THICKEST_ROUND)[..., None] / INCH
    full = np.maximum(t, 1.0)
    whole = np.maximum(a + b * full + c * full**2 + d * bore + e * bore**2 + f * bore**3, 0.0) / FOOT
    bare = round_unlined(diameter)[..., 1:]
    return octave(np.minimum(t, 1.0) * whole + (1.0 - np.minimum(t, 1.0)) * bare)


@cache
def _columns(name: str, columns: Iterable[str]) -> tuple[Array, ...]:
    """Columns of a table as numbers, in the order asked for."""
    return tuple(table(name).numbers(column) for column in columns)


def _perimeter_per_area(width: ArrayLike, height: ArrayLike) -> Array:
    """P/A in 1/m with an axis for the bands."""
    return (2.0 / np.asarray(width, float) + 2.0 / np.asarray(height, float))[..., None]
