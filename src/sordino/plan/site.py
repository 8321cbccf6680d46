"""Where the project stands: altitude, design weather, outdoor noise."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from sordino.errors import Refusal
from sordino.plan.climate import Weather
from sordino.plan.limits import within
from sordino.quantities import AnyLength, Spectrum, Statement


def _weather(temperature: str, humidity: str) -> Weather:
    return Weather.model_validate({"temperature": temperature, "humidity": humidity})


Altitude = Annotated[
    AnyLength,
    within(-430.0, 5000.0, "nobody builds at {read} above the sea", "an altitude from -430 m to 5000 m is wanted"),
]
"""From the lowest dry land to where the formulas for air end."""

HOTTEST = 60.0
"""Warmest outdoor air that is believed, C; on record stand 57 (memory)."""


class Site(Statement):
    """The place."""

    altitude: Altitude = Field(default=0.0, description="height above sea level")
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

    @model_validator(mode="after")
    def _has_seasons(self) -> Site:
        stated = {name: getattr(self, name) for name in type(self).model_fields if name != "altitude"}
        for name, weather in stated.items():
            if isinstance(weather, Weather) and weather.temperature > HOTTEST:
                raise Refusal(
                    f"outdoor air of {weather.temperature:g} °C ({name}) is nowhere on earth",
                    f"at most {HOTTEST:.0f} °C is believed; what a loft reaches goes to the space, under air",
                )
        if self.winter.temperature > self.summer_day.temperature:
            raise Refusal(
                f"winter, at {self.winter.temperature:g} °C, is warmer than the summer day, at "
                f"{self.summer_day.temperature:g} °C",
                "state both, the coldest day as winter and the hottest as summer_day",
            )
        return self
