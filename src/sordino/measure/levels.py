"""Readings in thirds and in octaves at once, and what is done to both alike."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.bands import Array
from sordino.physics.signal.background import Reading, reading
from sordino.physics.signal.thirds import THIRDS, octave_energy
from sordino.tables import table


@dataclass(frozen=True, kw_only=True, eq=False)
class Levels:
    """The same sound in 27 thirds and in nine octaves; NaN where a band is not known."""

    thirds: Reading
    octaves: Reading


def of_thirds(levels: Array, half: Array) -> Levels:
    """From levels of thirds, which add up to octaves; chance in one third does not repeat in the next."""
    power = 10.0 ** (levels / 10.0)
    whole = octave_energy(power)
    with np.errstate(divide="ignore"):
        octaves = 10.0 * np.log10(whole)
    width = np.sqrt(octave_energy((power * np.broadcast_to(half, (THIRDS,))) ** 2)) / whole
    return Levels(thirds=reading(levels, half), octaves=reading(octaves, width))


def of_octaves(levels: Array, half: float) -> Levels:
    """From levels of octaves alone."""
    nothing = np.full(THIRDS, np.nan)
    return Levels(thirds=reading(nothing), octaves=reading(np.asarray(levels, float), half))


def each(change: Callable[..., Reading], *levels: Any) -> Levels:
    """The same done to thirds and to octaves; None stays None."""
    thirds, octaves = (
        change(*(None if one is None else getattr(one, name) for one in levels)) for name in ("thirds", "octaves")
    )
    return Levels(thirds=thirds, octaves=octaves)


def widened(levels: Levels, half: float) -> Levels:
    """The same, less sure by an independent half-width in dB."""
    return each(lambda one: one.raised(0.0, half), levels)


def half_width(key: str) -> float:
    """A row of the scatter table of measuring."""
    return float(table("measure/scatter").row("key", key)["half_width"])
