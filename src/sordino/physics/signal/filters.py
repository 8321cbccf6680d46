"""Fractional-octave filters to IEC 61260-1:2014 as second-order sections, each at the lowest rate that carries it.

A band-pass of Butterworth type by the bilinear transform with both edges held. Before it the signal is halved in rate,
again and again, as far as the band allows. `tests/published/measure` holds the whole chain
against the limits of class 1 at 44.1, 48 and 96 kHz.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from sordino.bands import Array
from sordino.physics.signal.thirds import EDGES, THIRDS

ORDER = 6
"""Order of the low-pass that the band-pass is made of. Order 3 would do for class 1, but where a spectrum falls by
30 dB from one octave to the next, as behind a lined box, its skirts would read 1 dB too much."""
ROOM = 0.35
"""Most that a band's upper edge may be of the rate at which the band is filtered."""
RIPPLE, STOP = 0.01, 90.0
"""Ripple and rejection of the filter before each halving, dB."""
HALVING_ORDER = 8


@dataclass(frozen=True, kw_only=True, slots=True)
class Band:
    """One filter: its sections and how often the rate is halved before it."""

    sections: Array
    halvings: int


def reached(rate: float) -> int:
    """How many of the 27 thirds, from the lowest, a sampling rate in Hz can carry."""
    return int(np.searchsorted(EDGES[1:], ROOM * rate, side="right"))


def halvings(edge: float, rate: float) -> int:
    """How often a rate may be halved so that a band with that upper edge (Hz) still has room."""
    return max(int(np.floor(np.log2(ROOM * rate / edge))), 0)


@cache
def thirds_bank(rate: float) -> tuple[Band, ...]:
    """The filters of all thirds that a rate carries, the lowest first; the thirds of one octave share a rate."""
    return tuple(_third(band, rate) for band in range(reached(rate)))


def _third(band: int, rate: float) -> Band:
    top = EDGES[min(3 * (band // 3) + 3, THIRDS)]
    times = halvings(top, rate)
    return Band(sections=band_pass(EDGES[band], EDGES[band + 1], rate / 2**times), halvings=times)


def band_pass(low: float, high: float, rate: float, order: int = ORDER) -> Array:
    """Second-order sections of a band-pass with its edges at -3 dB, Hz; shape (order, 6)."""
    from scipy.signal import butter

    return np.asarray(butter(order, [low, high], "bandpass", fs=rate, output="sos"))


@cache
def halving_filter() -> Array:
    """Second-order sections of the low-pass before a rate is halved: flat to ROOM of the new rate."""
    from scipy.signal import ellip

    return np.asarray(ellip(HALVING_ORDER, RIPPLE, STOP, 2.0 * ROOM / 2.0, "lowpass", output="sos"))
