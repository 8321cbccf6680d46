"""Field types of the project file: a text with its unit goes in, an SI number or a small record comes out.

A bare number where a quantity is wanted is refused with the units that would do. Defaults in code are SI.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel, BeforeValidator, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue, WithJsonSchema
from pydantic_core import CoreSchema, core_schema

from sordino import bands
from sordino.kinds import KINDS
from sordino.units import System, UnitError, parse, quoted, show, unit_text


class Statement(BaseModel):
    """Base of everything a project file states: frozen, and closed against keys it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


def shown(value: object) -> str:
    """A value as messages show what was read: texts in quotes, tables and lists by what they are."""
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}" if value else "an empty list"
    try:
        return f"{value!s:.40}"
    except ValueError:  # an integer with more digits than Python prints
        return "a huge number"


def quantity(kind: str) -> Callable[[object], float]:
    """The reader of one kind of quantity, for use as a validator."""
    wanted = KINDS[kind]

    def read(value: object) -> float:
        if isinstance(value, str):
            return parse(value, kind)
        if isinstance(value, bool) or not isinstance(value, int | float) or value != value:
            raise UnitError(f"{shown(value)} is not a quantity", wanted.wanted)
        if kind == "fraction" and 0 <= value <= 1:
            return float(value)
        if kind == "fraction":
            raise UnitError(f"{shown(value)} is neither a percentage nor between 0 and 1", wanted.wanted)
        raise UnitError(f"{shown(value)} has no unit", f"{wanted.wanted} (units: {wanted.unit_names})")

    _KIND_READ[read] = kind
    return read


_KIND_READ: dict[Callable[..., Any], str] = {}


def kind_of(annotation: Any) -> str:
    """The kind of quantity that a field type reads; empty if it reads none."""
    marks = get_args(annotation)[1:] if get_origin(annotation) is Annotated else ()
    return next((_KIND_READ[each.func] for each in marks if getattr(each, "func", None) in _KIND_READ), "")


def _schema(kind: str) -> WithJsonSchema:
    wanted = KINDS[kind]
    text = f"{wanted.article[0].upper()}{wanted.article[1:]} with its unit: {wanted.unit_names}."
    plain: dict[str, Any] = {"type": "string", "description": text, "examples": list(wanted.examples)}
    if kind != "fraction":
        return WithJsonSchema(plain)
    number = {"type": "number", "minimum": 0, "maximum": 1}
    return WithJsonSchema({"anyOf": [plain, number], "description": "A share, as 40 % or 0.4."})


Length = Annotated[float, BeforeValidator(quantity("length")), _schema("length")]
"""More than nothing, under a kilometre, m."""
NotNegative = Annotated[float, BeforeValidator(quantity("length from zero")), _schema("length from zero")]
"""A length that may be zero, as a coordinate, m."""
Point = tuple[NotNegative, NotNegative, NotNegative]
"""A place in a room: along its length, across, and up from the floor, m."""
AnyLength = Annotated[float, BeforeValidator(quantity("any length")), _schema("any length")]
"""A height or an offset, which may be zero or negative, m."""
Area = Annotated[float, BeforeValidator(quantity("area")), _schema("area")]
Volume = Annotated[float, BeforeValidator(quantity("volume")), _schema("volume")]
Flow = Annotated[float, BeforeValidator(quantity("flow")), _schema("flow")]
Pressure = Annotated[float, BeforeValidator(quantity("pressure")), _schema("pressure")]
Power = Annotated[float, BeforeValidator(quantity("power")), _schema("power")]
Temperature = Annotated[float, BeforeValidator(quantity("temperature")), _schema("temperature")]
"""Degrees Celsius."""
Velocity = Annotated[float, BeforeValidator(quantity("velocity")), _schema("velocity")]
Mass = Annotated[float, BeforeValidator(quantity("mass")), _schema("mass")]
SurfaceMass = Annotated[float, BeforeValidator(quantity("surface mass")), _schema("surface mass")]
Density = Annotated[float, BeforeValidator(quantity("density")), _schema("density")]
FlowResistivity = Annotated[float, BeforeValidator(quantity("flow resistivity")), _schema("flow resistivity")]
Fraction = Annotated[float, BeforeValidator(quantity("fraction")), _schema("fraction")]
"""0 to 1, from `40 %` or 0.4."""
Concentration = Annotated[float, BeforeValidator(quantity("concentration")), _schema("concentration")]
Angle = Annotated[float, BeforeValidator(quantity("angle")), _schema("angle")]
"""Radians, from degrees."""
Duration = Annotated[float, BeforeValidator(quantity("time")), _schema("time")]
Frequency = Annotated[float, BeforeValidator(quantity("frequency")), _schema("frequency")]
Level = Annotated[float, BeforeValidator(quantity("level")), _schema("level")]
SoundLevel = Annotated[float, BeforeValidator(quantity("weighted level")), _schema("weighted level")]
"""A-weighted, dBA."""
Resistance = Annotated[float, BeforeValidator(quantity("resistance")), _schema("resistance")]
"""Thermal, m2K/W, also from `R-8`."""


_SIZE_CURE = "a duct size is wanted, as 250 mm, 10 in, 300 x 150 mm or 12 x 6 in"
_TIMES = re.compile(r"[x×✕*]| by ", re.IGNORECASE)
_SMALLEST, _LARGEST = 0.01, 3.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Size:
    """The inside of a duct or opening: round (width and height are its diameter) or rectangular, m."""

    round: bool
    width: float
    height: float

    @classmethod
    def circle(cls, diameter: float) -> Size:
        """A round size by its diameter, m."""
        return cls(round=True, width=diameter, height=diameter)

    @classmethod
    def rectangle(cls, width: float, height: float) -> Size:
        """A rectangular size by its width and height, m."""
        return cls(round=False, width=width, height=height)

    @property
    def area(self) -> float:
        """Cross-section, m2."""
        return self.width * self.height * (math.pi / 4.0 if self.round else 1.0)

    @property
    def perimeter(self) -> float:
        """Length of the wall around the cross-section, m."""
        return math.pi * self.width if self.round else 2.0 * (self.width + self.height)

    @property
    def diameter(self) -> float:
        """Diameter of the circle with the same area, m."""
        return math.sqrt(4.0 * self.area / math.pi)

    @property
    def hydraulic_diameter(self) -> float:
        """Four times the area over the perimeter, m."""
        return 4.0 * self.area / self.perimeter

    @property
    def longest(self) -> float:
        """The larger inside dimension, which sets cut-on and aspect, m."""
        return max(self.width, self.height)

    def shown(self, system: System) -> str:
        """The size as people read it in their system."""
        width = show(self.width, "length", system)
        return width if self.round else f"{width} x {show(self.height, 'length', system)}"

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(size)

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        text = "A duct size: one diameter, or width x height, with its unit."
        return {"type": "string", "description": text, "examples": ["250 mm", "10 in", "300 x 150 mm"]}


def size(value: object) -> Size:
    """A duct size from a text: one dimension is a diameter, two are width and height."""
    if isinstance(value, Size):
        return value
    if not isinstance(value, str):
        bare = isinstance(value, int | float) and not isinstance(value, bool)
        raise UnitError(f"{shown(value)} {'has no unit' if bare else 'is not a duct size'}", _SIZE_CURE)
    texts = [text.strip() for text in _TIMES.split(value.strip().removeprefix("ø").removeprefix("Ø"))]
    if len(texts) > 2:
        raise UnitError(f"{quoted(value)} has more than two dimensions", _SIZE_CURE)
    first, last = texts[0], texts[-1]
    if len(texts) == 2 and not unit_text(first):
        first = f"{first} {unit_text(last)}".strip()
    if last[:1].isdigit() and not unit_text(last):
        raise UnitError(f"{quoted(value)} has no unit", f"write it at the end, as {' x '.join(texts)} mm")
    width, height = _side(first, value), _side(last, value)
    return Size(round=len(texts) == 1, width=width, height=height)


def _side(text: str, whole: str) -> float:
    try:
        side = parse(text, "length")
    except UnitError as error:
        raise UnitError(_in_whole(error.problem, text, whole), _SIZE_CURE) from None
    if not _SMALLEST <= side <= _LARGEST:
        raise UnitError(f"{quoted(whole)} is no size for a duct (10 mm to 3 m)", _SIZE_CURE)
    return side


def _in_whole(problem: str, text: str, whole: str) -> str:
    return problem if text == whole.strip() else f"{quoted(whole)}: {problem}"


def _band_values(low: float, high: float, noun: str) -> Callable[[object], tuple[float, ...]]:
    cure = f"8 numbers are wanted, for 63 Hz to 8 kHz, or 9, from 31.5 Hz, each {noun} in dB"

    def read(value: object) -> tuple[float, ...]:
        if not isinstance(value, list | tuple):
            raise UnitError(f"{shown(value)} is not a list of octave-band values", cure)
        if len(value) not in (bands.COUNT - 1, bands.COUNT):
            raise UnitError(f"the list has {len(value)} value{'s' * (len(value) != 1)}", cure)
        for band, number in enumerate(value, start=bands.COUNT - len(value)):
            _check_band(number, bands.name(band), low, high, cure)
        numbers = tuple(float(number) for number in value)
        return numbers if len(value) == bands.COUNT else (math.nan, *numbers)

    return read


def _check_band(number: object, band: str, low: float, high: float, cure: str) -> None:
    if isinstance(number, bool) or not isinstance(number, int | float):
        raise UnitError(f"the value at {band} is {shown(number)}, not a plain number", cure)
    if not low <= number <= high:
        raise UnitError(f"the value at {band} is {shown(number)}, outside {low:g} to {high:g} dB", cure)


def _band_schema(low: float, high: float, text: str) -> WithJsonSchema:
    items = {"type": "number", "minimum": low, "maximum": high}
    return WithJsonSchema({"type": "array", "items": items, "minItems": 8, "maxItems": 9, "description": text})


_BANDS = "in octave bands, dB: 8 values from 63 Hz to 8 kHz, or 9 from 31.5 Hz"
spectrum = _band_values(-50.0, 180.0, "a level")
Spectrum = Annotated[
    tuple[float, ...],
    BeforeValidator(spectrum),
    _band_schema(-50.0, 180.0, f"Levels {_BANDS}."),
]
"""Nine octave-band levels, dB; 31.5 Hz is NaN if not given."""
LossSpectrum = Annotated[
    tuple[float, ...],
    BeforeValidator(_band_values(0.0, 120.0, "a loss")),
    _band_schema(0.0, 120.0, f"Losses {_BANDS}."),
]
"""Nine octave-band losses, dB; 31.5 Hz is NaN if not given."""

_TARGET = re.compile(r"(NC|NR)[ -]?([0-9]{1,3})", re.IGNORECASE)
LOWEST_NC = 15.0
"""The lowest curve that is published."""
_TARGET_CURE = "a target is wanted, as NC-20, NR-20 or 25 dBA"


@dataclass(frozen=True, kw_only=True, slots=True)
class Target:
    """The noise a room may have: a curve of NC or NR by its number, or a level in dBA."""

    scale: Literal["NC", "NR", "dBA"]
    value: float

    def __str__(self) -> str:
        return f"{self.value:g} dBA" if self.scale == "dBA" else f"{self.scale} {self.value:g}"

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(target)

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        text = "The noise the room may have, as NC-20, NR-20 or 25 dBA."
        return {"type": "string", "description": text, "examples": ["NC-20", "NR-20", "25 dBA"]}


def target(value: object) -> Target:
    """A noise target from a text."""
    if isinstance(value, Target):
        return value
    if not isinstance(value, str):
        raise UnitError(f"{shown(value)} is not a target", _TARGET_CURE)
    match = _TARGET.fullmatch(value.strip().replace("–", "-"))
    if match is None and not value.strip()[:1].isdigit():
        raise UnitError(f"{shown(value)} is not a target", _TARGET_CURE)
    try:
        found = float(match[2]) if match else parse(value, "weighted level")
    except UnitError as error:
        raise UnitError(error.problem, _TARGET_CURE) from None
    if not 0.0 <= found <= 100.0:
        raise UnitError(f"{quoted(value)} is no target for a room", _TARGET_CURE)
    scale: Literal["NC", "NR", "dBA"] = "dBA" if not match else "NC" if match[1].upper() == "NC" else "NR"
    if scale == "NC" and found < LOWEST_NC:
        raise UnitError(f"{quoted(value)} is below where the NC curves begin", "write NC-15, or a level as 18 dBA")
    return Target(scale=scale, value=found)
