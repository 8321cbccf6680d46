"""The level of one reading of a test, over all its positions: typed, recorded as steady noise, or as sweeps."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from sordino.bands import Array
from sordino.measure.chain import Scale, scale
from sordino.measure.crossed import APART, positions_apart
from sordino.measure.levels import Levels, each, half_width, of_octaves, of_thirds, widened
from sordino.measure.listening import NINE_IN_TEN, heard, usable
from sordino.measure.recording import Recording, beside, recording, refused, whole
from sordino.names import listed
from sordino.physics.signal.background import cleared, mean_level
from sordino.physics.signal.bank import GRAIN
from sordino.physics.signal.sweep import (
    AFTER,
    BEFORE,
    Impulse,
    exponential_sweep,
    impulse_response,
    third_gains,
    window,
)
from sordino.physics.signal.thirds import THIRDS, WIDTHS
from sordino.plan.take import Take
from sordino.plan.test import Chain

LONGEST_SWEEP = 90.0
"""Longest recording that a sweep is looked for in, s."""
RATES = (44100.0, 48000.0, 88200.0, 96000.0, 192000.0)
CLEARER = 3.0
"""How much sharper a sweep must be at another rate than at that of the header, to be read at that."""
FOUND = 300.0
"""Peak over mean power of an impulse response from which a sweep counts as found."""
SURE = 1e4
"""Peak over mean power from which no other rate is tried."""
NEAR_RATES = 0.2
"""How far another rate may lie off the header's for a recording to be mislabelled, as a share."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Reader:
    """Reads the takes of one test: its scale is known, what went wrong is gathered."""

    chain: Chain
    folder: Path
    scale: Scale
    flags: dict[str, None]
    rates: set[float]

    def level(self, takes: tuple[Take, ...], excited: bool = True) -> Levels:
        """Energy mean over the positions; `excited` tells that the loudspeaker played."""
        found = [self._one(take, excited) for take in takes]
        apart = positions_apart([one.octaves.level for one in found])
        if apart > APART:
            self.flags[
                f"{_named(takes)} differ by {apart:.0f} dB: is one of them another thing, or at another gain?"
            ] = None
        return each(lambda *readings: mean_level(list(readings)), *found)

    def _one(self, take: Take, excited: bool) -> Levels:
        if take.thirds is not None:
            return of_thirds(np.array(take.thirds) - take.gain, np.full(THIRDS, half_width("typed from a meter")))
        if take.octaves is not None:
            return of_octaves(np.array(take.octaves) - take.gain, half_width("typed from a meter"))
        levels, half, known = self._swept(take, excited) if self.chain.signal == "sweep" else self._steady(take)
        found = of_thirds(levels + self.scale.gain - take.gain, half)
        return found if known else each(lambda one: cleared(one, None), found)

    def _steady(self, take: Take) -> tuple[Array, Array, bool]:
        found = heard(self._opened(take), take.start or 0.0, take.end)
        self.flags.update(dict.fromkeys(found.flags))
        return found.levels, found.half, True

    def _swept(self, take: Take, excited: bool) -> tuple[Array, Array, bool]:
        """Levels of pink noise re the sweep, and whether they are known: where no sweep stands out, all that was
        recorded is the most it can have been. Of a background, what its noise would add.
        """
        samples, source = self.samples(take)
        seconds = self.chain.sweep_time
        if excited:
            found, rate = self.impulse(samples, source)
            seen = found.sharpness >= FOUND
            return third_gains(window(found) if seen else found.samples, rate), np.full(THIRDS, SWEPT), seen
        found = impulse_response(samples, exponential_sweep(seconds, source.rate), source.rate)
        share = (BEFORE + AFTER) * source.rate / samples.size
        chance = NINE_IN_TEN * 4.34 / np.sqrt(WIDTHS * samples.size / source.rate)
        return third_gains(found.samples, source.rate) + 10.0 * np.log10(share), chance, True

    def samples(self, take: Take) -> tuple[Array, Recording]:
        """A recording at once, which must not be long."""
        source = self._opened(take)
        if source.seconds > LONGEST_SWEEP and take.end is None:
            cure = f"cut it, or give from and to: a sweep is looked for in {LONGEST_SWEEP:g} s at the most"
            raise refused(source.path, f"the recording lasts {source.seconds:.0f} s", cure)
        found = whole(source, take.start or 0.0, take.end)
        self.flags.update(dict.fromkeys(usable(source, found, SHORTEST_NOISE)))
        if take.end is None and found.size < source.frames - (take.start or 0.0) * source.rate - GRAIN:
            self.flags[f"{Path(source.path).name} breaks off before the {source.seconds:.1f} s it should last"] = None
        return found, source

    def impulse(self, samples: Array, source: Recording) -> tuple[Impulse, float]:
        """The impulse response, and the rate at which the sweep in it is a sweep."""
        if samples.size < self.chain.sweep_time * source.rate * 0.9:
            least = f"the whole sweep lasts {self.chain.sweep_time:g} s, and its end must ring out"
            raise refused(source.path, f"the recording is too short: {samples.size / source.rate:.1f} s", least)
        name = Path(source.path).name
        found, rate = self._at(samples, source.rate), source.rate
        if found.sharpness < SURE:
            other, at = self._elsewhere(samples, source.rate)
            if other is not None and other.sharpness > max(CLEARER * found.sharpness, FOUND):
                told = f"{name} says {rate:g} Hz, but the sweep in it was recorded at {at:g} Hz: it is read at that"
                self.flags[told] = None
                found, rate = other, at
        if found.sharpness < FOUND:
            told = f"the sweep hardly stands out in {name}: too quiet, or another sweep; bounds are all it gives"
            self.flags[told] = None
        return found, rate

    def clear_impulse(self, take: Take) -> tuple[Impulse, float]:
        """The impulse response of a take whose sweep must stand out, and its rate."""
        samples, source = self.samples(take)
        found, rate = self.impulse(samples, source)
        if found.sharpness < FOUND:
            cure = "play it louder, or state its length as sweep_time"
            raise refused(source.path, "no sweep of that length stands out in this recording", cure)
        return found, rate

    def _elsewhere(self, samples: Array, rate: float) -> tuple[Impulse | None, float]:
        """The sharpest response at another usual rate, near that of the header."""
        best, at = None, rate
        for other in RATES:
            if 0.0 < abs(other / rate - 1.0) < NEAR_RATES:
                found = self._at(samples, other)
                if best is None or found.sharpness > best.sharpness:
                    best, at = found, other
        return best, at

    def _at(self, samples: Array, rate: float) -> Impulse:
        return impulse_response(samples, exponential_sweep(self.chain.sweep_time, rate), rate)

    def _opened(self, take: Take) -> Recording:
        assert take.file is not None
        source = recording(beside(self.folder, take.file), take.channel)
        self.rates.add(source.rate)
        return source

    def told(self) -> tuple[str, ...]:
        """All that should be known of the recordings."""
        rates = sorted(self.rates)
        told = ", ".join(f"{rate:g}" for rate in rates)
        mixed = f"the recordings have different rates ({told} Hz): were they made with one device and its settings?"
        return (*self.flags, *((mixed,) if len(rates) > 1 else ()), *self.scale.flags)


def _named(takes: tuple[Take, ...]) -> str:
    names = [take.file for take in takes if take.file is not None]
    return listed(names) if len(names) > 1 else "the positions of one reading"


SWEPT = 0.3
"""Half-width of a level by sweep that stands clear of the noise, dB (judgement: the window, the clock's drift)."""
SHORTEST_NOISE = 2.0
"""Shortest recording that goes with sweeps, s."""


def reader(chain: Chain, folder: Path) -> Reader:
    """A reader for one test whose recordings lie in or under a folder."""
    made = Reader(chain=chain, folder=folder, scale=scale(chain, folder), flags={}, rates=set())
    takes = [take for value in vars(chain).values() if isinstance(value, tuple) for take in value]
    kinds = {take.typed for take in takes if isinstance(take, Take)}
    if len(kinds) > 1 and (chain.signal == "sweep" or not made.scale.known):
        name = next(take.file for take in takes if isinstance(take, Take) and take.file is not None)
        cure = "give calibrator or full_scale and record steady noise, or type all levels, or record all"
        raise refused(str(folder / name), "its level can't be held against levels typed from a meter", cure)
    return made


def absolute(levels: Levels, reader: Reader) -> Levels:
    """Levels with what the scale itself is worth."""
    return widened(levels, reader.scale.half) if reader.scale.half else levels


def needs_scale(takes: tuple[Take, ...]) -> bool:
    """Whether some take is a recording, whose level must be known from elsewhere."""
    return any(not take.typed for take in takes)
