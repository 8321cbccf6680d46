"""Where the project stands: altitude, design weather, outdoor noise."""

from __future__ import annotations

from pydantic import Field, field_validator

from sordino.errors import Refusal
from sordino.plan.climate import Weather
from sordino.quantities import AnyLength, Spectrum, Statement


def _weather(temperature: str, humidity: str) -> Weather:
    return Weather.model_validate({"temperature": temperature, "humidity": humidity})


LOWEST, HIGHEST = -430.0, 5000.0
"""Altitudes from the lowest dry land to where the formulas for air end, m."""


class Site(Statement):
    """The place."""

    altitude: AnyLength = Field(default=0.0, description="height above sea level")
    summer_day: Weather = _weather("32 °C", "45 %")
    humid_night: Weather = _weather("24 °C", "90 %")
    winter: Weather = _weather("-5 °C", "80 %")
    summer_month: Weather | None = Field(
        default=None, description="mean of the most humid month; between summer day and humid night if not given"
    )
    winter_month: Weather | None = Field(
        default=None, description="mean of the coldest month; 5 K milder than the winter day if not given"
    )
    outdoor_noise: Spectrum | None = Field(default=None, description="sound pressure level outdoors, dB per octave")

    @field_validator("altitude")
    @classmethod
    def _is_on_land(cls, altitude: float) -> float:
        if not LOWEST <= altitude <= HIGHEST:
            raise Refusal("nobody builds at {read} above the sea", "an altitude from -430 m to 5000 m is wanted")
        return altitude
