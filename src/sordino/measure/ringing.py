"""How long a room rings, octave by octave, from recordings of the sweep."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.bands import CENTRES, COUNT, Bands, name
from sordino.measure.causes import bands_words
from sordino.measure.levels import Levels
from sordino.measure.listening import NINE_IN_TEN
from sordino.measure.result import Measurement, Predicted, Row
from sordino.measure.takes import Reader
from sordino.physics.signal.background import AT_MOST, Reading, reading
from sordino.physics.signal.decay import Decay, decays
from sordino.physics.signal.sweep import Impulse, exponential_sweep, impulse_response
from sordino.physics.signal.thirds import THIRDS
from sordino.physics.sound.rooms import sabine_time
from sordino.plan.test import Reverberation

LONGEST = 6.0
"""How much of a response is looked at, s."""
LONGEST_TIME = 10.0
"""Longest reverberation time that is believed of a room in a house, s."""
OWN = 2.0
"""How many times longer than the filters a room must ring, to be told from them (ISO 3382-2:2008, from memory)."""
BEFORE = 0.002
"""How long before the peak the direct sound may begin, s."""
GUESSED = 0.35
"""Half-width of a predicted time, as a share: absorption as guessed (judgement)."""
SCATTER = 0.88
"""Standard deviation of T20 in decays of filtered noise: SCATTER T / sqrt(N B T) (ISO 3382-2:2008, from memory)."""
WIDTH = 10.0**0.15 - 10.0**-0.15


def reverberation(found: Assessment, name_: str, test: Reverberation, reader: Reader) -> Measurement:
    """Reverberation time of a room, mean over the positions."""
    responses = [reader.clear_impulse(take) for take in test.sweep]
    each = [decays(_from_direct(response), rate) for response, rate in responses]
    times = _bounded(_mean(each), _own_times(reader.chain.sweep_time, responses[0][1]))
    nothing = reading(np.full(THIRDS, np.nan))
    room = found.plan.room[test.room]
    said = sabine_time(room.volume, found.acoustics.fields[test.room].absorption)
    row = Row(
        label="reverberation time",
        levels=Levels(thirds=nothing, octaves=times),
        sign="time",
        predicted=Predicted(level=said, low=said * (1.0 - GUESSED), high=said * (1.0 + GUESSED)),
    )
    field = found.acoustics.fields[test.room]
    return Measurement(
        name=name_,
        kind="reverberation",
        title=f"Reverberation of {found.plan.place_name(test.room)}",
        rows=(row,),
        singles=(),
        answer=(*_words(times, field.schroeder), *_beside(row)),
        causes=(),
        flags=(*reader.told(), *_endless(each), *_bent(each)),
    )


def _from_direct(found: Impulse) -> Bands:
    first = found.peak - round(BEFORE * found.rate)
    return np.take(found.samples, np.arange(first, first + round(LONGEST * found.rate)), mode="wrap")


def _mean(each: list[tuple[Decay, ...]]) -> Reading:
    times = np.array([[decay.time for decay in one] for one in each])
    known = np.isfinite(times) & (times <= LONGEST_TIME)
    count = known.sum(axis=0)
    mean = np.where(count > 0, np.where(known, times, 0.0).sum(axis=0) / np.maximum(count, 1), np.nan)
    half = NINE_IN_TEN * SCATTER * mean / np.sqrt(np.maximum(count, 1) * CENTRES * WIDTH * mean)
    return reading(mean, half)


def _own_times(seconds: float, rate: float) -> Bands:
    """How long what reads the sweep rings by itself, s; NaN where that is too short to be seen."""
    sweep = exponential_sweep(seconds, rate)
    played = np.concatenate([sweep, np.zeros(round(LONGEST * rate))])
    return np.array([decay.time for decay in decays(_from_direct(impulse_response(played, sweep, rate)), rate)])


def _bounded(times: Reading, own: Bands) -> Reading:
    """Times that are not clear of what the filters ring by themselves are the most that the room's can be."""
    hidden = times.level < OWN * np.nan_to_num(own)
    return replace(times, bound=np.where(hidden, AT_MOST, times.bound))


def _beside(row: Row) -> tuple[str, ...]:
    """Where the room rings longer or shorter than both ranges allow, and what to look at."""
    times, said = row.levels.octaves, row.predicted
    assert said is not None
    longer = tuple(int(band) for band in np.flatnonzero(np.nan_to_num(times.low - said.high, neginf=-1.0) > 0.0))
    shorter = tuple(int(band) for band in np.flatnonzero(np.nan_to_num(said.low - times.high) > 0.0))
    words = []
    if longer:
        words.append(
            f"It rings longer than predicted at {bands_words(longer)}, by more than both ranges allow: less absorbs "
            "than the file says. Look at the room's surfaces in it; levels in the room are higher for it."
        )
    if shorter:
        words.append(f"It rings shorter than predicted at {bands_words(shorter)}, by more than both ranges allow.")
    if not longer and not shorter and times.valued.any():
        words.append("It agrees with the prediction within both ranges wherever a time is known.")
    return tuple(words)


def _endless(each: list[tuple[Decay, ...]]) -> tuple[str, ...]:
    bands = {band for one in each for band, decay in enumerate(one) if decay.time > LONGEST_TIME}
    if not bands:
        return ()
    return (
        f"at {bands_words(tuple(sorted(bands)))} what is left after the sweep lasts over {LONGEST_TIME:g} s, which is "
        "no room: is sweep_time what was played?",
    )


def _words(times: Reading, schroeder: float) -> tuple[str, ...]:
    known = [band for band in range(COUNT) if np.isfinite(times.level[band])]
    if not known:
        return ("No decay is clear of the noise: play the sweep louder, or longer.",)
    told = ", ".join(f"{_most(times, band)}{times.level[band]:.2f} s at {name(band)}" for band in known)
    low = [band for band in known if CENTRES[band] < schroeder]
    note = (
        f"Below {schroeder:.0f} Hz the room has single modes: there a time says how one position rings, not the room."
    )
    return (f"It rings for {told}.", note) if low else (f"It rings for {told}.",)


def _most(times: Reading, band: int) -> str:
    return "at most " if times.bound[band] == AT_MOST else ""


def _bent(each: list[tuple[Decay, ...]]) -> tuple[str, ...]:
    bent = {band for one in each for band, decay in enumerate(one) if 0.0 < decay.straightness < STRAIGHT}
    return (f"the decay is not straight at {bands_words(tuple(sorted(bent)))}: two slopes, or noise",) if bent else ()


STRAIGHT = 0.98
"""Squared correlation under which a decay is called bent (judgement, near the 20 per mille of ISO 3382-2 Annex B)."""
