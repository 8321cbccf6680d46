"""Readings that contradict each other: swapped, made at another gain, or with another thing than is stated."""

from __future__ import annotations

import numpy as np

from sordino.bands import COUNT, Array
from sordino.measure.causes import bands_words
from sordino.measure.levels import Levels
from sordino.measure.result import Cause
from sordino.physics.signal.background import Reading

CROSSED = 3.0
"""How much louder what should be quieter must be, in the median of the octaves, to be told, dB (judgement)."""
APART = 6.0
"""Spread of positions in the median of the octaves that is told, dB (judgement: rooms differ so in single bands)."""
SWAPPED = Cause(
    key="swapped",
    words="two readings are swapped, or were made at different gains",
    test="listen to each recording, or read each again, and see that its name and its gain are right",
    fit=1.0,
)


def excess(loud: Levels, quiet: Levels | None) -> float:
    """How much the reading that should be quieter is louder, dB: the median over the octaves that both have."""
    if quiet is None:
        return -np.inf
    gap = quiet.octaves.level - loud.octaves.level
    known = gap[np.isfinite(gap)]
    return float(np.median(known)) if known.size else -np.inf


def crossed(loud: Levels, quiet: Levels | None, words: str) -> tuple[str, ...]:
    """A sentence where the reading that should be quieter is louder; `words` say what is louder than what."""
    over = excess(loud, quiet)
    if over <= CROSSED:
        return ()
    return (f"{words}, by {over:.0f} dB: were they swapped, or the gain turned? Nothing else here is to be trusted.",)


def positions_apart(levels: list[Array]) -> float:
    """Largest less least over the positions, in the median of the bands that all have, dB."""
    stacked = np.array(levels)
    known = stacked[:, np.isfinite(stacked).all(axis=0)]
    return float(np.median(np.ptp(known, axis=0))) if known.size and len(levels) > 1 else 0.0


def under_own(read: Reading, own: Reading, words: str) -> tuple[str, ...]:
    """A sentence where a microphone is said to be louder than what was read with it."""
    bands = tuple(band for band in range(COUNT) if own.low[band] > read.high[band])
    if not bands:
        return ()
    return (f"{words} is read as quieter than the microphone itself at {bands_words(bands)}: self_noise is wrong.",)
