"""What makes sound: the sound power of each port and casing of a mover, and the loudest thing in each room."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.assess.places import Field
from sordino.assess.spread import Spread, half_width
from sordino.bands import Bands, octave
from sordino.physics.sound.fans import power_from_pressure, spectrum_from_a_level
from sordino.physics.sound.sources import loudest
from sordino.plan.mover import Mover
from sordino.plan.room import Room
from sordino.tables import table

SPEED_EXPONENT = 50.0
"""Fan sound power goes by 50 lg of speed (fan laws, ASHRAE; recalled)."""
IN_DUCT_MARGIN = 5.0
"""In-duct power of a unit over the power behind its catalogue level with test ducts fitted, dB; recalled."""
CASING_INSERTION = 10.0
"""In-duct power of a unit over what its casing radiates, dB; judgement, half-width half of it."""
OFF = -200.0
RATED_ONLY = (
    "only a dBA figure is known, so a typical spectrum stands in and its range is wide. "
    "Ask the maker for sound power per octave at the duct connections"
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Strength:
    """A source's strength per octave with its half-width by cause."""

    levels: Bands
    spread: Spread
    note: str = ""


def port_power(key: str, mover: Mover, port: str, speed: float) -> Strength:
    """Sound power that a mover sends into the duct at a port at a speed, dB re 1 pW."""
    shift = SPEED_EXPONENT * np.log10(speed) if speed > 0 else OFF
    given, note = _given(mover, port)
    if given is not None:
        spread = half_width("fan spectrum given") + (3.0 if note else 0.0)
        return Strength(levels=octave(given) + shift, spread={f"sound power of {key}": spread}, note=note)
    if mover.sound.rated is None:
        return _unknown_power(key, mover, port, shift)
    margin = 0.0 if port == "casing" else IN_DUCT_MARGIN
    return Strength(
        levels=spectrum_from_a_level(_rated_power(mover) + margin, mover.fan) + shift,
        spread={f"sound power of {key}": half_width("fan level only") + margin / 2},
        note=RATED_ONLY + (f"; {margin:.0f} dB more is taken for them" if margin else ""),
    )


def _unknown_power(key: str, mover: Mover, port: str, shift: float) -> Strength:
    """A casing of which nothing is known is left out; a port is judged by the casing."""
    casing = mover.sound.given("casing")
    if port == "casing" or casing is None:
        return Strength(levels=np.full(9, OFF), spread={}, note=f"nothing is known of its {port}, so that is left out")
    return Strength(
        levels=octave(casing) + CASING_INSERTION + shift,
        spread={f"sound power of {key}": half_width("fan spectrum given") + CASING_INSERTION / 2},
        note=f"only its casing's spectrum is known; {CASING_INSERTION:.0f} dB more is taken for the duct connections",
    )


def _given(mover: Mover, port: str) -> tuple[tuple[float, ...] | None, str]:
    own = mover.sound.given(port)
    if own is not None or port == "casing":
        return own, ""
    for stream in mover.streams:
        if port in stream:
            other = next((mover.sound.given(end) for end in stream if mover.sound.given(end) is not None), None)
            if other is not None:
                return other, f"no spectrum given for {port}; that of the other end of the stream is used"
    known = [spectrum for end in mover.ports if (spectrum := mover.sound.given(end)) is not None]
    return (known[0], f"no spectrum given for {port}; that of another port is used") if known else (None, "")


def _rated_power(mover: Mover) -> float:
    """A-weighted sound power behind the one figure that is known, dB re 1 pW."""
    sound = mover.sound
    assert sound.rated is not None
    return float(sound.rated if sound.at is None else power_from_pressure(sound.rated, sound.at))


def through_mover(mover: Mover) -> Bands:
    """Loss of sound passing through a mover from one end of a stream to the other, dB (judgement)."""
    known = table("sound/through_mover")
    return octave([float(cell) for cell in known.rows[known.text("kind").index(mover.kind)][1:9]])


def room_level(room: Room, field: Field) -> Strength | None:
    """Level in a room, away from the source, of the loudest thing in it; None if nothing is stated."""
    if room.loudest is None:
        return None
    if isinstance(room.loudest, str):
        known = loudest(room.loudest)
        levels, near, scatter = known.levels, known.basis == "at 1 m", known.scatter
    else:
        levels, near, scatter = np.array(room.loudest), True, 3.0
    if near:
        levels = levels + 11.0 + 10.0 * np.log10(4.0 / field.absorption)
    return Strength(levels=levels, spread={"loudest source": np.full(9, scatter)})
