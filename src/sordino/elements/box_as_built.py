"""What was measured of a box once it stood: its dimensions, and what it takes band by band."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import BeforeValidator, Field
from pydantic.json_schema import WithJsonSchema

from sordino.bands import COUNT, OCTAVES, Bands, name
from sordino.quantities import Length, Statement, shown
from sordino.units import UnitError

MOST = 120.0
SURE = 2.0
"""Half-width of a loss that was measured in place, dB (judgement: positions, repeated set-up, other drive)."""
OPEN = 150.0
"""Stands for no ceiling at all, where what goes round is in the measured loss already, dB."""
_CURE = "write octave bands by name with their losses in dB, as { 63 = 12, 125 = 23, 1k = 45 }"


def measured_loss(value: object) -> tuple[float, ...]:
    """Losses of nine octaves, dB, NaN where none was measured, from a table by band."""
    if isinstance(value, tuple) and len(value) == COUNT:
        return value
    if not isinstance(value, dict) or not value:
        raise UnitError(f"{shown(value)} is not a set of measured losses", _CURE)
    found = [math.nan] * COUNT
    for key, loss in value.items():
        if isinstance(loss, bool) or not isinstance(loss, int | float) or not 0.0 <= loss <= MOST:
            raise UnitError(f"the loss at {key} is {shown(loss)}, not a number from 0 to {MOST:g} dB", _CURE)
        found[_octave_named(str(key))] = float(loss)
    return tuple(found)


def _octave_named(text: str) -> int:
    plain = text.lower().replace("hz", "").replace(" ", "")
    try:
        hertz = 1000.0 * float(plain[:-1]) if plain.endswith("k") else float(plain)
    except ValueError:
        raise UnitError(f"{shown(text)} is no octave band", _CURE) from None
    near = [band for band in range(COUNT) if abs(OCTAVES[band] - hertz) < 1e-6 * hertz]
    if not near:
        raise UnitError(f"{shown(text)} is no octave band from 31.5 Hz to 8 kHz", _CURE)
    return near[0]


MeasuredLoss = Annotated[
    tuple[float, ...],
    BeforeValidator(measured_loss),
    WithJsonSchema(
        {
            "type": "object",
            "additionalProperties": {"type": "number", "minimum": 0, "maximum": MOST},
            "description": "Measured losses in dB by octave band, as { 63 = 12, 125 = 23, 1k = 45 }.",
        }
    ),
]


class AsBuilt(Statement):
    """Dimensions as measured on the box that was built."""

    length: Length | None = Field(default=None, description="inside length as measured")
    width: Length | None = Field(default=None, description="inside width as measured")
    height: Length | None = Field(default=None, description="inside height as measured")
    lining: Length | None = Field(default=None, description="fibre thickness as measured")
    divider: Length | None = Field(default=None, description="thickness of the dividers as measured")

    @property
    def given(self) -> dict[str, float]:
        """Those that were measured, m."""
        return {key: value for key in type(self).model_fields if (value := getattr(self, key)) is not None}


def bands_told(measured: Bands) -> str:
    """The bands that were measured, as `63 Hz, 125 Hz and 1 kHz`."""
    names = [name(band) for band in range(COUNT) if math.isfinite(measured[band])]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
