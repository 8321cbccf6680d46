"""The sweep and its deconvolution: printed lead times of harmonics, and known impulse responses recovered."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy.signal import butter, sosfilt, sosfreqz

from evidence import Check
from sordino.bands import Array
from sordino.physics.signal.sweep import exponential_sweep, impulse_response, third_gains, window
from sordino.physics.signal.thirds import CENTRES, EDGES

FARINA = "A. Farina, 108th AES Convention (2000)"
RATE, SECONDS = 48000.0, 4.0
SWEEP = exponential_sweep(SECONDS, RATE)


def test_lead_of_the_harmonics(check: Check) -> None:
    """T ln n / ln(w2/w1) for 10 s from 20 Hz to 20 kHz: where a path that distorts puts its harmonics."""
    sweep = exponential_sweep(10.0, RATE)
    bent = sweep + 0.3 * sweep**2 + 0.3 * sweep**3
    before = np.abs(impulse_response(np.append(bent, np.zeros(sweep.size)), sweep, RATE).samples)[::-1]
    found = [_strongest(before, lead) for lead in (1.0, 1.6)]
    check("lead of harmonics 2 and 3, s", [1.0034, 1.5904], found, source=FARINA, mark="derived", within=1e-4)


def _strongest(before: Array, lead: float) -> float:
    """When, near `lead` seconds before the linear response, the response is strongest, s."""
    first = round((lead - 0.1) * RATE)
    return (first + 1 + int(np.argmax(before[first : first + round(0.2 * RATE)]))) / RATE


def test_a_known_filter_is_recovered(check: Check) -> None:
    """Gain of a band-pass in every third from 31.5 Hz to 10 kHz, against its closed-form response."""
    sections = butter(2, [150.0, 2500.0], "bandpass", fs=RATE, output="sos")
    recorded = np.concatenate([np.zeros(9000), 0.2 * sosfilt(sections, np.append(SWEEP, np.zeros(96000)))])
    found = third_gains(window(impulse_response(recorded, SWEEP, RATE)), RATE)
    wanted = []
    for low, high in pairwise(EDGES):
        _, response = sosfreqz(sections, np.geomspace(low, high, 400), fs=RATE)
        wanted.append(10.0 * np.log10(np.mean(np.abs(0.2 * response) ** 2)))
    source = "closed form of a Butterworth band-pass"
    check("gain in thirds from a sweep, dB", wanted[1:], found[1:], source=source, mark="derived", within=0.1)


def test_a_known_impulse_response_is_recovered(check: Check) -> None:
    """Three echoes of known size and time, within the sweep's band: error under 1 % of the largest."""
    echoes = {0.010: 1.0, 0.013: -0.5, 0.080: 0.25}
    recorded = np.zeros(SWEEP.size + 24000)
    for time, size in echoes.items():
        at = round(time * RATE)
        recorded[at : at + SWEEP.size] += size * SWEEP
    found = impulse_response(recorded, SWEEP, RATE)
    alone = impulse_response(np.append(SWEEP, np.zeros(24000)), SWEEP, RATE)
    peak = alone.samples[0]
    sizes = [found.samples[round(time * RATE)] / peak for time in echoes]
    check("sizes of three echoes", list(echoes.values()), sizes, source="superposition", mark="derived", within=0.01)
    assert found.peak == round(0.010 * RATE)


def test_noise_is_kept_out(check: Check) -> None:
    """White noise 10 dB under the sweep leaves the level in each third from 100 Hz to 2.5 kHz within 0.25 dB."""
    noise = np.random.default_rng(7).standard_normal(SWEEP.size + 96000) * SWEEP.std() * 10.0**-0.5
    found = third_gains(window(impulse_response(np.append(SWEEP, np.zeros(96000)) + noise, SWEEP, RATE)), RATE)
    band = slice(int(np.searchsorted(CENTRES, 99.0)), 21)
    source = "gain 1 under noise 10 dB below"
    check("gain 0 dB in thirds under noise, dB", np.zeros(15), found[band], source=source, mark="derived", within=0.25)


def test_a_sweep_that_is_not_there_is_not_found() -> None:
    """Noise alone gives no sharp response."""
    noise = np.random.default_rng(3).standard_normal(SWEEP.size)
    assert impulse_response(noise, SWEEP, RATE).sharpness < 100.0
    assert impulse_response(SWEEP, SWEEP, RATE).sharpness > 1e4


@pytest.mark.parametrize("rate", [44100.0, 96000.0])
def test_the_sweep_covers_all_thirds(rate: float) -> None:
    """At each usual rate, with a gain of 0 dB."""
    sweep = exponential_sweep(3.0, rate)
    found = third_gains(window(impulse_response(np.append(sweep, np.zeros(96000)), sweep, rate)), rate)
    assert np.abs(found[1:]).max() < 0.1
