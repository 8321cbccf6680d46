"""What is asked of the air inside, how long people stay, and what stands around where it is known."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, field_validator, model_validator

from sordino.errors import Refusal
from sordino.quantities import Concentration, Duration, Fraction, Statement, Temperature

Condition = Literal["summer_day", "humid_night", "winter"]
CONDITIONS: tuple[str, ...] = ("summer_day", "humid_night", "winter")
"""Hours that everything has to stand."""
MONTHS: tuple[str, ...] = ("summer_month", "winter_month")
"""Thirty days on end, which mould takes."""
SHORTEST, LONGEST = 60.0, 12 * 3600.0
"""Sessions that are followed, s."""


class Weather(Statement):
    """Air by temperature and humidity."""

    temperature: Temperature
    humidity: Fraction = Field(description="relative humidity")


class Comfort(Statement):
    """What is held inside where the machines can, and what is put up with."""

    temperature: Temperature = Field(default=23.0, description="what is held where something cools or heats")
    warmest: Temperature | None = Field(default=None, description="the most it may become; 27 °C is only told of")
    co2: Concentration | None = Field(default=None, description="most carbon dioxide; 1000 ppm is only told of")
    humidity: Fraction | None = Field(default=None, description="most relative humidity; 60 % is only told of")

    @field_validator("temperature", "warmest")
    @classmethod
    def _is_a_rooms(cls, value: float | None) -> float | None:
        if value is not None and not 5.0 <= value <= 45.0:
            raise Refusal("nobody works at {read}", "5 °C to 45 °C is believed")
        return value

    @field_validator("co2")
    @classmethod
    def _is_above_outdoors(cls, value: float | None) -> float | None:
        if value is not None and not 500.0 <= value <= 30_000.0:
            raise Refusal("no room is held to {read}", "500 ppm to 30000 ppm is believed; outdoors has 420 ppm")
        return value


class Stretch(Statement):
    """A part of a session in one mode."""

    mode: str
    lasts: Duration

    @field_validator("lasts")
    @classmethod
    def _is_followed(cls, value: float) -> float:
        return _followed(value)


class Session(Statement):
    """How long people stay at a time, on what kind of day, and which modes follow one another."""

    length: Duration = Field(default=7200.0, description="how long people stay at a time")
    condition: Condition = Field(default="summer_day", alias="on", description="the weather meanwhile")
    schedule: tuple[Stretch, ...] = Field(default=(), description="modes in turn, over again until the session ends")
    hours: Fraction = Field(default=0.2, description="share of all days and nights in which people are in and air runs")

    @field_validator("length")
    @classmethod
    def _is_followed(cls, value: float) -> float:
        return _followed(value)

    @model_validator(mode="after")
    def _is_some_time(self) -> Session:
        if self.hours <= 0.0:
            raise Refusal("nobody is ever in", "give the share of time, as 20 %")
        return self


def _followed(value: float) -> float:
    if not SHORTEST <= value <= LONGEST:
        raise Refusal("{read} is no session", "1 min to 12 h can be followed")
    return value
