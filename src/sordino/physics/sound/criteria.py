"""Single numbers for the noise in a room: NC and NR by tangency."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import COUNT, Array, Bands, name
from sordino.errors import OutOfRange
from sordino.tables import table

FIRST = 1
"""Index of 63 Hz: 31.5 Hz is not part of the rating."""
LOWEST_NC, HIGHEST_NC = 15.0, 70.0
"""Between which there are NC curves."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Rating:
    """A criterion's number, the band that governs it, and whether the number is only a bound."""

    value: float
    band: int
    bound: Literal["", "below", "above"] = ""


def noise_criterion(levels: ArrayLike) -> Rating:
    """NC of nine band levels (dB): the highest curve touched from 63 Hz to 8 kHz (ANSI/ASA S12.2-2019).

    Interpolated between curves; below NC-15 and above NC-70 the value is a bound, never extrapolated.
    """
    listed = table("sound/noise_criterion")
    numbers, curves = listed.numbers("number"), listed.numbers(*listed.columns[1:])
    assessed = _assessed(levels)
    each = [np.interp(assessed[i], curves[:, i + FIRST], numbers) for i in range(assessed.size)]
    excess, shortfall = assessed - curves[-1, FIRST:], assessed - curves[0, FIRST:]
    if excess.max() > 0.0:
        return Rating(value=float(numbers[-1]), band=int(excess.argmax()) + FIRST, bound="above")
    if shortfall.max() < 0.0:
        return Rating(value=float(numbers[0]), band=int(shortfall.argmax()) + FIRST, bound="below")
    return Rating(value=float(max(each)), band=int(np.argmax(each)) + FIRST)


def noise_criterion_values(levels: ArrayLike) -> Array:
    """The values of `noise_criterion` alone for many spectra at once: (..., 9) -> (...)."""
    listed = table("sound/noise_criterion")
    numbers, curves = listed.numbers("number"), listed.numbers(*listed.columns[1:])
    spectra = np.asarray(levels, float)
    return np.max([np.interp(spectra[..., i], curves[:, i], numbers) for i in range(FIRST, COUNT)], axis=0)


def noise_rating_values(levels: ArrayLike) -> Array:
    """The values of `noise_rating` alone for many spectra at once: (..., 9) -> (...)."""
    listed = table("sound/noise_rating")
    spectra = np.asarray(levels, float)[..., FIRST:]
    return np.maximum(((spectra - listed.numbers("a")[FIRST:]) / listed.numbers("b")[FIRST:]).max(axis=-1), 0.0)


def noise_criterion_curve(number: float) -> Bands:
    """Levels of an NC curve in nine bands, dB, interpolated; number 15 to 70, else OutOfRange."""
    listed = table("sound/noise_criterion")
    numbers, curves = listed.numbers("number"), listed.numbers(*listed.columns[1:])
    if not numbers[0] <= number <= numbers[-1]:
        raise OutOfRange(f"there is no NC-{number:g} curve: the curves run from NC-15 to NC-70")
    return np.array([np.interp(number, numbers, column) for column in curves.T])


def noise_rating(levels: ArrayLike) -> Rating:
    """NR of nine band levels (dB): the highest (L - a)/b from 63 Hz to 8 kHz (ISO/R 1996:1971); 0 bounds it
    below."""
    listed = table("sound/noise_rating")
    each = (_assessed(levels) - listed.numbers("a")[FIRST:]) / listed.numbers("b")[FIRST:]
    band = int(each.argmax())
    bound: Literal["", "below"] = "below" if each[band] < 0.0 else ""
    return Rating(value=max(float(each[band]), 0.0), band=band + FIRST, bound=bound)


def noise_rating_curve(number: float) -> Bands:
    """Levels of an NR curve in nine bands, L = a + b N, dB."""
    listed = table("sound/noise_rating")
    return listed.numbers("a") + listed.numbers("b") * number


def criterion_curve(scale: str, number: float) -> Bands | None:
    """Levels of a curve by its scale, NC or NR; an NC curve that is not on record has none, nor has dBA."""
    if scale == "NR":
        return noise_rating_curve(number)
    return noise_criterion_curve(number) if scale == "NC" and LOWEST_NC <= number <= HIGHEST_NC else None


def _assessed(levels: ArrayLike) -> Array:
    """The bands from 63 Hz up, each of which must be known."""
    bands = np.asarray(levels, float)[FIRST:]
    missing = [name(int(i) + FIRST) for i in np.flatnonzero(np.isnan(bands))]
    if missing:
        raise OutOfRange(f"a rating needs every band from 63 Hz to 8 kHz; not assessed: {', '.join(missing)}")
    return bands
