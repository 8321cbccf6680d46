"""Signals to play: an exponential sweep, pink noise, and a tone of known level, with a sheet that says how."""

from __future__ import annotations

import numpy as np

from sordino.bands import Array
from sordino.physics.signal.sweep import HIGH, LOW, exponential_sweep, top

AMPLITUDE = 10.0 ** (-12.0 / 20.0)
"""Peak of the sweep, of full scale."""
PINK_RMS = 10.0 ** (-20.0 / 20.0)
TONE_RMS = 10.0 ** (-20.0 / 20.0)
TONE = 1000.0
LEAD, TAIL = 2.0, 4.0
"""Silence before and after the sweep, s."""
PINK_SECONDS, TONE_SECONDS = 90.0, 20.0
SEED = 1
"""Pink noise is the same in every kit."""


def sweep_signal(seconds: float, rate: float) -> Array:
    """The sweep between silences."""
    silence = [np.zeros(round(each * rate)) for each in (LEAD, TAIL)]
    return np.concatenate([silence[0], AMPLITUDE * exponential_sweep(seconds, rate), silence[1]])


def pink_noise(seconds: float, rate: float, seed: int = SEED) -> Array:
    """Noise alike in every third from 20 Hz to 20 kHz, -20 dB re full scale, peaks held under full scale."""
    count = round(seconds * rate)
    frequency = np.fft.rfftfreq(count, 1.0 / rate)
    inside = (frequency >= LOW) & (frequency <= min(HIGH, top(rate)))
    phase = np.exp(2j * np.pi * np.random.default_rng(seed).random(frequency.size))
    with np.errstate(divide="ignore", invalid="ignore"):
        wave = np.fft.irfft(np.where(inside, phase / np.sqrt(frequency), 0.0), count)
    return np.asarray(np.clip(wave * PINK_RMS / np.sqrt(np.mean(wave**2)), -0.99, 0.99))


def tone(seconds: float, rate: float) -> Array:
    """A sine of 1 kHz at -20 dB re full scale (its mean square over that of a signal of 1)."""
    return np.asarray(TONE_RMS * np.sqrt(2.0) * np.sin(2.0 * np.pi * TONE / rate * np.arange(round(seconds * rate))))
