"""What is asked of the air inside, how long people stay, and what stands around where it is known."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sordino.errors import Refusal
from sordino.plan.limits import within
from sordino.quantities import Concentration, Duration, Fraction, Statement, Temperature

Condition = Literal["summer_day", "humid_night", "winter"]
CONDITIONS: tuple[str, ...] = ("summer_day", "humid_night", "winter")
"""Hours that everything has to stand."""
MONTHS: tuple[str, ...] = ("summer_month", "winter_month")
"""Thirty days on end, which mould takes."""

Stay = Annotated[Duration, within(60.0, 12 * 3600.0, "{read} is no session", "1 min to 12 h can be followed")]
Bearable = Annotated[Temperature, within(5.0, 45.0, "nobody works at {read}", "5 °C to 45 °C is believed")]
Stale = Annotated[
    Concentration,
    within(500.0, 3e4, "no room is held to {read}", "500 ppm to 30000 ppm is believed; outdoors has 420 ppm"),
]
Around = Annotated[Temperature, within(-70.0, 90.0, "no air is at {read} there", "-70 °C to 90 °C is believed")]
"""Of any place around a room: from the coldest town to a loft under a dark roof."""


class Weather(Statement):
    """Air by temperature and humidity."""

    temperature: Around
    humidity: Fraction = Field(description="relative humidity")


class Comfort(Statement):
    """What is held inside where the machines can, and what is put up with."""

    temperature: Bearable = Field(default=23.0, description="what is held where something cools or heats")
    warmest: Bearable | None = Field(default=None, description="the most it may become; 27 °C is only told of")
    co2: Stale | None = Field(default=None, description="most carbon dioxide; 1000 ppm is only told of")
    humidity: Fraction | None = Field(default=None, description="most relative humidity; 60 % is only told of")


class Stretch(Statement):
    """A part of a session in one mode."""

    mode: str
    lasts: Stay


class Session(Statement):
    """How long people stay at a time, on what kind of day, and which modes follow one another."""

    length: Stay = Field(default=7200.0, description="how long people stay at a time")
    condition: Condition = Field(default="summer_day", alias="on", description="the weather meanwhile")
    schedule: tuple[Stretch, ...] = Field(default=(), description="modes in turn, over again until the session ends")
    hours: Fraction = Field(default=0.2, description="share of all days and nights in which people are in and air runs")

    @model_validator(mode="after")
    def _is_some_time(self) -> Session:
        if self.hours <= 0.0:
            raise Refusal("nobody is ever in", "give the share of time, as 20 %")
        return self
