"""One reading of a test: a recording, or levels typed from a meter; and a microphone's own noise."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator
from pydantic.json_schema import WithJsonSchema

from sordino.errors import Refusal
from sordino.physics.signal.thirds import NOMINAL, THIRDS
from sordino.quantities import (
    Duration,
    Level,
    Spectrum,
    Statement,
    quantity,
    shown,
    spectrum,
)
from sordino.units import UnitError

LOWEST, HIGHEST = -50.0, 180.0
QUIETEST, LOUDEST = -10.0, 60.0
"""Own noise that is believed of a microphone, dBA."""
_THIRDS_CURE = f"write {THIRDS} numbers, for 25 Hz to 10 kHz, or bands by name, as {{ 63 = 41, 80 = 39 }}"


def thirds(value: object) -> tuple[float, ...]:
    """Levels of the 27 one-third octaves, NaN where none is given: from a list, or from a table by midband."""
    if isinstance(value, list | tuple) and len(value) == THIRDS:
        return tuple(_plain_level(each) for each in value)
    if not isinstance(value, dict) or not value:
        raise UnitError(f"{shown(value)} is not a set of one-third octave levels", _THIRDS_CURE)
    found = [math.nan] * THIRDS
    for key, level in value.items():
        found[third_named(str(key))] = _plain_level(level)
    return tuple(found)


def third_named(text: str) -> int:
    """The index of a one-third octave by its nominal midband, as `63`, `1k` or `1.25 kHz`."""
    plain = text.lower().replace("hz", "").replace(" ", "")
    try:
        hertz = 1000.0 * float(plain[:-1]) if plain.endswith("k") else float(plain)
    except ValueError:
        raise UnitError(f"{shown(text)} is no one-third octave", _THIRDS_CURE) from None
    near = [index for index, nominal in enumerate(NOMINAL) if abs(nominal - hertz) < 1e-6 * nominal]
    if not near:
        raise UnitError(f"{shown(text)} is no one-third octave from 25 Hz to 10 kHz", _THIRDS_CURE)
    return near[0]


def _plain_level(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not LOWEST <= value <= HIGHEST:
        raise UnitError(f"{shown(value)} is no level in dB", _THIRDS_CURE)
    return float(value)


def _noise(value: object) -> object:
    """A microphone's own noise: one figure in dBA, or octave bands."""
    if not isinstance(value, str | int | float):
        return spectrum(value)
    found = float(quantity("weighted level")(value))
    if not QUIETEST <= found <= LOUDEST:
        cure = "give the equivalent noise level of its data sheet, as 18 dBA"
        raise UnitError(f"no microphone makes {found:g} dBA by itself", cure)
    return found


_NUMBERS = {"type": "number", "minimum": LOWEST, "maximum": HIGHEST}
Thirds = Annotated[
    tuple[float, ...],
    BeforeValidator(thirds),
    WithJsonSchema(
        {
            "description": "One-third octave levels, dB: 27 from 25 Hz to 10 kHz, or by midband as { 63 = 41 }.",
            "anyOf": [{"type": "array", "items": _NUMBERS}, {"type": "object", "additionalProperties": _NUMBERS}],
        }
    ),
]
OwnNoise = Annotated[
    float | tuple[float, ...],
    BeforeValidator(_noise),
    WithJsonSchema(
        {
            "description": "A level as 18 dBA, or octave levels in dB, 8 from 63 Hz or 9 from 31.5 Hz.",
            "anyOf": [{"type": "string", "examples": ["18 dBA"]}, {"type": "array", "items": _NUMBERS}],
        }
    ),
]


class Take(Statement):
    """One reading: a recording, or levels typed from a meter."""

    file: str | None = Field(default=None, description="a WAV, FLAC or other recording, beside the project file")
    channel: Literal["left", "right"] | None = Field(default=None, description="which one of a stereo recording")
    start: Duration | None = Field(default=None, alias="from", description="where the part to be read begins")
    end: Duration | None = Field(default=None, alias="to", description="where it ends")
    gain: Level = Field(default=0.0, description="how much the preamp was turned up over the calibrator's recording")
    octaves: Spectrum | None = Field(default=None, description="levels typed from a meter, in octaves")
    thirds: Thirds | None = Field(default=None, description="levels typed from a meter, in one-third octaves")

    @model_validator(mode="after")
    def _is_one(self) -> Take:
        given = [name for name in ("file", "octaves", "thirds") if getattr(self, name) is not None]
        if len(given) != 1:
            read = "nothing" if not given else " and ".join(given)
            raise Refusal(f"a reading is one thing, and this gives {read}", 'write a file, as "open.wav", or octaves')
        if self.start is not None and self.end is not None and self.end <= self.start:
            raise Refusal("the part to be read ends before it begins", "swap from and to")
        if self.file is not None and not self.file.strip():
            raise Refusal("a recording without a name", 'write its file, as "open.wav"')
        return self

    @property
    def part(self) -> tuple[object, ...]:
        """What of which recording it is."""
        return self.file, self.channel, self.start, self.end

    @property
    def typed(self) -> bool:
        """Whether its levels are typed, not recorded."""
        return self.file is None


def _takes(value: object) -> object:
    """One reading or several, a file by its bare name."""
    listed = list(value) if isinstance(value, list | tuple) else [value]
    if not listed:
        raise UnitError("the list is empty", 'write a file, as "open.wav", or several')
    return [{"file": each} if isinstance(each, str) else each for each in listed]


_TAKE = {"anyOf": [{"type": "string"}, {"type": "object"}]}
Takes = Annotated[
    tuple[Take, ...],
    BeforeValidator(_takes),
    WithJsonSchema(
        {
            "description": "A recording by its name, a reading as { file = … } or { octaves = [ … ] }, or several "
            "positions of the microphone.",
            "anyOf": [_TAKE, {"type": "array", "items": _TAKE}],
        }
    ),
]
