"""Reverberation time of synthetic decays."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.bands import CENTRES, COUNT
from sordino.physics.signal.decay import band_decay, decay, decays

RATE = 48000.0
SOURCE = "exponential decay of 60 dB in T"


def decaying(time: float, tone: float, floor: float = 0.0, seconds: float = 3.0) -> np.ndarray:
    """A tone that falls by 60 dB in `time` s, over steady noise."""
    t = np.arange(round(seconds * RATE)) / RATE
    noise = floor * np.random.default_rng(2).standard_normal(t.size)
    return np.asarray(np.sin(2.0 * np.pi * tone * t) * 10.0 ** (-3.0 * t / time) + noise)


@pytest.mark.parametrize("time", [0.15, 0.4, 1.1])
def test_every_octave_of_a_synthetic_decay(check: Check, time: float) -> None:
    """A tone at each midband from 125 Hz."""
    found = [band_decay(decaying(time, CENTRES[band]), RATE, band).time for band in range(2, COUNT)]
    what = f"T = {time:g} s in octaves 125 Hz to 8 kHz, s"
    check(what, np.full(7, time), found, source=SOURCE, mark="derived", relative=0.01)


@pytest.mark.parametrize(("floor", "span"), [(1e-3, 30.0), (1e-2, 20.0)])
def test_under_noise(check: Check, floor: float, span: float) -> None:
    """Noise 57 and 37 dB under the start: T30, then T20, both within 1 %."""
    power = decaying(0.8, 1000.0, floor) ** 2
    found = decay(power, RATE)
    assert found.span == span
    what = f"T = 0.8 s by T{span:g}, noise {20 * np.log10(floor) + 3:.0f} dB under its start"
    check(what, 0.8, found.time, source=SOURCE, mark="derived", relative=0.01)


def test_noise_alone_has_no_time() -> None:
    """Nor has a decay that noise hides after 20 dB."""
    assert np.isnan(decay(np.random.default_rng(1).standard_normal(48000) ** 2, RATE).time)
    assert np.isnan(decay(decaying(0.8, 1000.0, 0.1) ** 2, RATE).time)


def test_filters_do_not_ring_into_a_short_decay(check: Check) -> None:
    """Broadband noise that decays in 0.3 s: mean over 500 Hz to 4 kHz."""
    t = np.arange(72000) / RATE
    noise = np.random.default_rng(5).standard_normal(t.size) * 10.0 ** (-3.0 * t / 0.3)
    found = np.mean([one.time for one in decays(noise, RATE)[4:8]])
    check("mean T of decaying noise, s", 0.3, found, source=SOURCE, mark="derived", relative=0.05)
