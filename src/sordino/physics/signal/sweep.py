"""The exponential sweep, and what a path did to it (A. Farina, 108th AES Convention, 2000; ISO 18233:2006 Annex B)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.physics.signal.filters import reached
from sordino.physics.signal.thirds import EDGES, THIRDS

LOW, HIGH = 20.0, 20000.0
"""Ends of the sweep, Hz."""
NYQUIST = 0.48
"""Most that a sweep may reach of its sampling rate."""
RISE = 0.85
"""Where the answer begins, over the sweep's lower end."""
FADE = 0.01
"""Fade at the end, s."""
BEFORE, AFTER = 0.15, 1.5
"""What is kept of an impulse response before and after its peak, s."""
WEAK = 1e-6
"""Part of the sweep's strongest power under which a frequency is not answered for."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Impulse:
    """The impulse response of a path and where its peak lies."""

    samples: Array
    peak: int
    rate: float

    @property
    def sharpness(self) -> float:
        """Power of the peak over the mean power: high if the sweep was found."""
        power = self.samples**2
        return float(power[self.peak] / power.mean()) if power.any() else 0.0


def top(rate: float) -> float:
    """Where a sweep ends at a sampling rate, Hz."""
    return min(HIGH, NYQUIST * rate)


def exponential_sweep(seconds: float, rate: float) -> Array:
    """x(t) = sin{w1 T / ln(w2/w1) [e^(t ln(w2/w1)/T) - 1]} (Farina 2000, equation 5), amplitude 1, faded at its end."""
    rise = np.log(HIGH / LOW)
    t = np.arange(round(seconds * rate)) / rate
    t = t[t <= seconds * np.log(top(rate) / LOW) / rise]
    wave = np.sin(2.0 * np.pi * LOW * seconds / rise * np.expm1(t * rise / seconds))
    fade = min(round(FADE * rate), wave.size)
    wave[wave.size - fade :] *= np.cos(np.linspace(0.0, np.pi / 2.0, fade)) ** 2
    return wave


def impulse_response(recorded: Array, sweep: Array, rate: float) -> Impulse:
    """What a path made of a sweep: spectral division, without the frequencies that the sweep lacks."""
    from scipy.fft import irfft, next_fast_len, rfft

    count = next_fast_len(recorded.size + sweep.size, real=True)
    sent = rfft(sweep, count)
    power = np.abs(sent) ** 2
    frequency = np.arange(sent.size) * rate / count
    ratio = rfft(recorded, count) * sent.conj() / (power + WEAK * power.max()) * _inside(frequency, rate)
    samples = irfft(ratio, count)
    return Impulse(samples=samples, peak=int(np.argmax(np.abs(samples[: recorded.size]))), rate=rate)


def _inside(frequency: Array, rate: float) -> Array:
    """1 within the bands, 0 outside the sweep, with soft ends, which ring less than sharp ones."""
    low, high = (RISE * LOW, EDGES[0]), (0.92 * top(rate), 0.99 * top(rate))
    rise = np.clip((frequency - low[0]) / (low[1] - low[0]), 0.0, 1.0)
    fall = np.clip((high[1] - frequency) / (high[1] - high[0]), 0.0, 1.0)
    return np.asarray(np.sin(np.pi / 2.0 * rise) ** 2 * np.sin(np.pi / 2.0 * fall) ** 2)


def window(found: Impulse) -> Array:
    """The response about its peak, with soft ends."""
    before, after = round(BEFORE * found.rate), round(AFTER * found.rate)
    piece = np.take(found.samples, np.arange(found.peak - before, found.peak + after), mode="wrap").copy()
    fade = before // 2
    ramp = np.sin(np.linspace(0.0, np.pi / 2.0, fade)) ** 2
    piece[:fade] *= ramp
    piece[-fade:] *= ramp[::-1]
    return piece


def third_gains(samples: Array, rate: float) -> Array:
    """Gain of an impulse response for pink noise in each of the 27 thirds, dB; NaN where the rate does not reach."""
    from scipy.fft import next_fast_len, rfft

    count = next_fast_len(max(samples.size, round(2.0 * rate)), real=True)
    frequency = np.arange(count // 2 + 1) * rate / count
    with np.errstate(divide="ignore"):
        share = np.where(frequency > 0.0, 1.0 / frequency, 0.0)
    power = np.abs(rfft(samples, count)) ** 2 * share
    band = np.searchsorted(EDGES, frequency, side="right") - 1
    inside = (band >= 0) & (band < THIRDS)
    sums = [np.bincount(band[inside], each[inside], THIRDS) for each in (power, share)]
    gains = 10.0 * np.log10(np.maximum(sums[0] / sums[1], 1e-30))
    return np.where(np.arange(THIRDS) < reached(rate), gains, np.nan)
