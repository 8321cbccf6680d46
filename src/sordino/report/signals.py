"""Test signals to play, and the sheet that says how to use them, as files."""

from __future__ import annotations

import io
from collections.abc import Iterator

from sordino.bands import Array
from sordino.report.measured_sheet import instructions

NAMES = ("sweep.wav", "pink.wav", "tone.wav", "measuring.txt")


def signals(seconds: float, rate: int) -> Iterator[tuple[str, bytes]]:
    """Name and content of each file; `seconds` is the length of the sweep, `rate` samples a second."""
    from sordino.measure import kit

    yield NAMES[0], _wav(kit.sweep_signal(seconds, float(rate)), rate)
    yield NAMES[1], _wav(kit.pink_noise(kit.PINK_SECONDS, float(rate)), rate)
    yield NAMES[2], _wav(kit.tone(kit.TONE_SECONDS, float(rate)), rate)
    yield NAMES[3], instructions(seconds, rate).encode()


def _wav(wave: Array, rate: int) -> bytes:
    """A mono WAV file of 24 bits."""
    import soundfile

    stream = io.BytesIO()
    soundfile.write(stream, wave, rate, format="WAV", subtype="PCM_24")
    return stream.getvalue()
