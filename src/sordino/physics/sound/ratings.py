"""One number for a wall's sound insulation: STC and weighted reduction."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.tables import table

THIRDS = 16
MOST_DEFICIENCY, MOST_SINGLE = 32.0, 8.0
RATINGS = np.arange(-20, 161)
"""Whole-number ratings that are tried, dB."""


@dataclass(frozen=True, kw_only=True, slots=True)
class WeightedReduction:
    """R_w with its adaptation terms for pink noise (C) and traffic (C_tr), dB (ISO 717-1)."""

    rw: int
    c: int
    ctr: int


def stc(thirds: ArrayLike) -> int:
    """STC of sixteen one-third octave losses, 125 Hz to 4 kHz, dB (ASTM E413).

    Losses are rounded to whole dB first; the deficiencies may sum to 32, and none may pass 8.
    """
    losses = np.floor(_sixteen(thirds) + 0.5)
    short = np.maximum(_contour("stc") + RATINGS[:, None] - losses, 0.0)
    fits = (short.sum(axis=1) <= MOST_DEFICIENCY) & (short.max(axis=1) <= MOST_SINGLE)
    return int(RATINGS[fits].max())


def weighted_reduction(thirds: ArrayLike) -> WeightedReduction:
    """R_w (C; C_tr) of sixteen one-third octave losses, 100 Hz to 3.15 kHz, dB (ISO 717-1).

    Losses are rounded to 0.1 dB; the reference, moved by whole dB, may stand above them by 32.0 dB in all.
    """
    losses = np.floor(_sixteen(thirds) * 10.0 + 0.5) / 10.0
    reference = _contour("reference")
    short = np.maximum(reference - reference[7] + RATINGS[:, None] - losses, 0.0)
    rw = int(RATINGS[short.sum(axis=1) <= MOST_DEFICIENCY + 1e-9].max())
    adapted = [-10.0 * np.log10((10.0 ** ((_contour(name) - losses) / 10.0)).sum()) for name in ("c", "ctr")]
    c, ctr = (int(np.floor(level + 0.5)) - rw for level in adapted)
    return WeightedReduction(rw=rw, c=c, ctr=ctr)


def _contour(name: str) -> Array:
    """Sixteen values of a contour, blank bands left out."""
    column = table("sound/rating_contour").numbers(name)
    return column[~np.isnan(column)]


def _sixteen(thirds: ArrayLike) -> Array:
    values = np.asarray(thirds, float)
    if values.shape != (THIRDS,) or not np.isfinite(values).all():
        raise OutOfRange(f"a rating needs {THIRDS} one-third octave losses, all known; got {values.tolist()}")
    return values
