"""One sound at one receiver: where it comes from, which way it takes, how loud it arrives, how sure that is."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from sordino.assess.spread import Spread
from sordino.bands import Bands

Cause = Literal["fan", "air", "casing", "breakout", "break-in", "outdoors", "background", "source", "through room"]

WORDS: dict[str, str] = {
    "fan": "fan noise",
    "air": "air noise",
    "casing": "casing noise",
    "breakout": "sound through the duct wall",
    "break-in": "sound breaking into the duct",
    "outdoors": "outdoor noise",
    "background": "background through the shell",
    "source": "sound from",
    "through room": "ventilation noise of",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One station of a schedule: what it takes, what it makes, what is left, dB; NaN is not assessed."""

    station: str
    attenuation: Bands | None
    own: Bands | None
    level: Bands
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Contribution:
    """One sound at a receiver."""

    cause: Cause
    origin: str
    """Mover, room or space the sound starts from, by key; for air noise the run."""
    via: str
    """Runs or shell it comes by."""
    station: str
    """Where it is made or enters, when that is not the origin."""
    levels: Bands
    """Sound pressure level at the receiver, dB per octave."""
    spread: Spread
    rows: tuple[Row, ...] = field(default=())
