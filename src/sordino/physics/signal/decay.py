"""Reverberation time from an impulse response: Schroeder's backward integral and its slope (ISO 3382-2:2008)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import CENTRES, COUNT, Array
from sordino.physics.signal.filters import ROOM, band_pass

SHORTEST = 4.0
"""Least product of bandwidth and reverberation time with the filter run backwards (F. Jacobsen, JSV 115, 1987)."""
SPANS = ((5.0, 35.0), (5.0, 25.0))
"""Parts of the decay that are fitted, dB under its start: T30 if it is clear, else T20."""
HEADROOM = 10.0
"""How far the noise must lie under the lower end of the fit, dB (ISO 3382-2:2008 clause 5.3.3)."""
FRAME = 0.005
"""Length of the frames in which the decay is compared with the noise, s."""
PASSES, SAMPLES = 4, 8
"""Rounds in which the hidden tail is found, and the fewest samples of a decay."""
LOG_SIXTY = 6.0 * np.log(10.0)
"""Time constants of energy in 60 dB."""
ORDER = 3
"""Order of the filters: gentle ones ring less."""
TAIL = 0.1
"""Last part of a response that is taken as noise."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Decay:
    """Reverberation time of one band, s, and the span it was fitted over, dB; NaN and 0 where it is not clear."""

    time: float
    span: float
    straightness: float
    """Correlation coefficient of the fit, squared."""


UNCLEAR = Decay(time=float("nan"), span=0.0, straightness=0.0)


def decays(response: Array, rate: float) -> tuple[Decay, ...]:
    """The decay in each of the nine octaves, of a response that begins with its direct sound."""
    return tuple(band_decay(response, rate, band) for band in range(COUNT))


def band_decay(response: Array, rate: float, band: int) -> Decay:
    """The decay of one octave; the filter runs backwards, so that its own decay does not lengthen the room's."""
    from scipy.signal import sosfilt

    low, high = CENTRES[band] * 10.0**-0.15, CENTRES[band] * 10.0**0.15
    if high > ROOM * rate:
        return UNCLEAR
    filtered = sosfilt(band_pass(low, high, rate, ORDER), response[::-1])[::-1]
    found = decay(filtered**2, rate)
    return found if found.time * (high - low) >= SHORTEST else UNCLEAR


def decay(power: Array, rate: float) -> Decay:
    """The decay of a squared response: E(t) = integral from t to where noise begins, less the noise; then a line.

    What the noise hides is put back as the tail of the decay found before (ISO 3382-1:2009 clause 5.3.3).
    """
    noise = float(power[-max(int(TAIL * power.size), 1) :].mean())
    end = _meeting(power, noise, rate)
    kept = np.cumsum((power[:end] - noise)[::-1])[::-1]
    clear = 10.0 * np.log10(power[: max(int(FRAME * rate), 1)].mean() / noise) if noise > 0.0 else np.inf
    spans = [(start, stop) for start, stop in SPANS if clear >= stop + HEADROOM]
    if kept.size < SAMPLES or kept[0] <= 0.0 or not spans:
        return UNCLEAR
    found = UNCLEAR
    for _ in range(PASSES):
        tail = 0.0 if np.isnan(found.time) else noise * rate * found.time / LOG_SIXTY
        whole = kept + tail
        found = _fitted(10.0 * np.log10(np.maximum(whole / whole[0], 1e-20)), rate, *spans[0])
    return found


def _meeting(power: Array, noise: float, rate: float) -> int:
    """Where the decay sinks into the noise: the first frame that stands less than 3 dB over it."""
    frame = max(int(FRAME * rate), 1)
    means = power[: power.size // frame * frame].reshape(-1, frame).mean(axis=1)
    sunk = np.flatnonzero(means < 2.0 * noise)
    return int(sunk[0] * frame) if sunk.size else power.size


def _fitted(level: Array, rate: float, start: float, stop: float) -> Decay:
    inside = np.flatnonzero((level <= -start) & (level >= -stop))
    if inside.size < 4:
        return UNCLEAR
    time = inside / rate
    slope, _ = np.polyfit(time, level[inside], 1)
    straight = float(np.corrcoef(time, level[inside])[0, 1] ** 2)
    return Decay(time=float(-60.0 / slope), span=stop - start, straightness=straight)
