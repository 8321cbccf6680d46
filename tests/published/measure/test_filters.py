"""Third-octave filters, halvings and all, against the class 1 limits of the filter standard; octaves made of them."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import CENTRES as OCTAVE_CENTRES
from sordino.bands import Array
from sordino.physics.signal.filters import Band, band_pass, halving_filter, halvings, thirds_bank
from sordino.physics.signal.thirds import CENTRES, EDGES, THIRDS, octave_energy

TABLE = "IEC 61260-1:2014 Table 1, class 1"
G = 10.0**0.3
PASS = {0.0: (-0.4, 0.4), 1 / 8: (-0.4, 0.5), 1 / 4: (-0.4, 0.7), 3 / 8: (-0.4, 1.4), 0.499: (-0.4, 5.3)}
"""Least and most attenuation at G^x, dB; 0.499 stands for just inside the edge."""
STOP = {0.501: 1.2, 1.0: 16.6, 2.0: 40.5, 3.0: 60.0, 4.0: 70.0}
"""Least attenuation."""
RATES = (44100.0, 48000.0, 96000.0)


def attenuation(band: Band, frequency: Array, rate: float) -> Array:
    """Attenuation of the whole chain at frequencies in Hz under half the rate, dB: halvings, then the band-pass.

    A frequency over half the last rate is met where it folds down to, after what the halvings took off it.
    """
    passed = np.ones(frequency.shape)
    for step in range(band.halvings):
        passed = passed * _power(halving_filter(), frequency, rate / 2**step)
    folded = _folded(frequency, rate / 2**band.halvings)
    return -10.0 * np.log10(np.maximum(passed * _power(band.sections, folded, rate / 2**band.halvings), 1e-30))


def _folded(frequency: Array, rate: float) -> Array:
    return np.abs(frequency - rate * np.round(frequency / rate))


def _power(sections: Array, frequency: Array, rate: float) -> Array:
    """|H|^2 of sections at frequencies in Hz."""
    z = np.exp(-2j * np.pi * frequency / rate)[:, None]
    above = sections[:, 0] + sections[:, 1] * z + sections[:, 2] * z**2
    below = sections[:, 3] + sections[:, 4] * z + sections[:, 5] * z**2
    return np.abs(np.prod(above / below, axis=1)) ** 2


def breakpoint_ratio(x: float, fraction: int) -> float:
    """Omega_h of a 1/b octave: 1 + (G^(1/2b) - 1) / (G^(1/2) - 1) (G^x - 1), IEC 61260-1 equation 9 (memory)."""
    return 1.0 + (G ** (0.5 / fraction) - 1.0) / (G**0.5 - 1.0) * (G**x - 1.0)


def chains(rate: float, x: float, side: int) -> Array:
    """Attenuation of every band at one breakpoint, those beyond half the rate left out."""
    found = []
    for centre, band in zip(CENTRES, thirds_bank(rate), strict=False):
        frequency = centre * breakpoint_ratio(x, 3) ** side
        if frequency < rate / 2.0:
            found.append(attenuation(band, np.array([frequency]), rate)[0])
    return np.array(found)


@pytest.mark.parametrize("rate", RATES)
def test_every_third_is_there(rate: float) -> None:
    """25 Hz to 10 kHz at each usual rate."""
    assert len(thirds_bank(rate)) == THIRDS


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("x", PASS)
def test_the_pass_band_of_every_third(check: Check, rate: float, x: float) -> None:
    """Attenuation between the limits at each breakpoint, both sides of all 27 midbands."""
    low, high = PASS[x]
    found = np.concatenate([chains(rate, x, side) for side in (1, -1)])
    middle, within = (low + high) / 2.0, (high - low) / 2.0
    what = f"27 thirds at {rate:g} Hz, G^±{x:g}: {low:g} to {high:g} dB"
    check(what, np.full(found.shape, middle), found, source=TABLE, mark="second-hand", within=within)


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("x", STOP)
def test_the_stop_band_of_every_third(check: Check, rate: float, x: float) -> None:
    """At least so much at each breakpoint: what is short of it is held to nothing."""
    found = np.concatenate([chains(rate, x, side) for side in (1, -1)])
    short = np.maximum(STOP[x] - found, 0.0)
    what = f"27 thirds at {rate:g} Hz, G^±{x:g}: short of {STOP[x]:g} dB"
    check(what, np.zeros(found.shape), short, source=TABLE, mark="second-hand", within=0.0)


@pytest.mark.parametrize("rate", RATES)
def test_octaves_as_sums_of_thirds(check: Check, rate: float) -> None:
    """The energy of three thirds passes as one octave filter of class 1 would."""
    bank, short, over = thirds_bank(rate), [], []
    for index, centre in enumerate(OCTAVE_CENTRES):
        for side in (1, -1):
            for x, (low, high) in PASS.items():
                found = octave_attenuation(bank[3 * index : 3 * index + 3], centre * G ** (side * x), rate)
                over.append(max(found - high, low - found, 0.0))
            for x, least in STOP.items():
                if centre * G ** (side * x) < rate / 2.0:
                    found = octave_attenuation(bank[3 * index : 3 * index + 3], centre * G ** (side * x), rate)
                    short.append(max(least - found, 0.0))
    for what, gaps in (("outside the pass limits", over), ("short of the stop limits", short)):
        check(f"9 octaves at {rate:g} Hz, {what}", 0.0, max(gaps), source=TABLE, mark="second-hand", within=0.0)


def octave_attenuation(bands: tuple[Band, ...], frequency: float, rate: float) -> float:
    """Attenuation of the sum of three thirds."""
    each = [attenuation(band, np.array([frequency]), rate)[0] for band in bands]
    return float(-10.0 * np.log10((10.0 ** (-np.array(each) / 10.0)).sum()))


def test_the_edges(check: Check) -> None:
    """Edges lie at -3.01 dB, and the midbands are those of the base-ten series."""
    printed = [50.12, 63.10, 79.43, 100, 125.89, 158.49, 199.53, 251.19, 316.23, 398.11, 501.19, 630.96, 794.33]
    source = "IEC 61260-1:2014 clause 5.2"
    check("exact midbands 50 to 800 Hz, Hz", printed, CENTRES[3:16], source=source, mark="derived", within=0.006)
    band = Band(sections=band_pass(EDGES[16], EDGES[17], 48000.0), halvings=0)
    found = attenuation(band, EDGES[16:18], 48000.0)
    check(
        "at both edges of the 1 kHz third, dB", [3.01, 3.01], found, source="Butterworth", mark="derived", within=0.01
    )


def test_a_filter_at_too_high_a_rate_would_fail() -> None:
    """The limits can be missed: a band half a third off is outside them."""
    wrong = Band(sections=band_pass(EDGES[16] * 1.12, EDGES[17] * 1.12, 48000.0), halvings=0)
    assert attenuation(wrong, CENTRES[16:17], 48000.0)[0] > 0.4
    assert halvings(EDGES[1], 48000.0) > 8
    assert octave_energy(np.full(THIRDS, 2.0))[0] == pytest.approx(6.0)
