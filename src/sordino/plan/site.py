"""Where the project stands: altitude, design weather, outdoor noise."""

from __future__ import annotations

from pydantic import Field, field_validator, model_validator

from sordino.errors import Refusal
from sordino.plan.climate import Weather
from sordino.quantities import AnyLength, Spectrum, Statement


def _weather(temperature: str, humidity: str) -> Weather:
    return Weather.model_validate({"temperature": temperature, "humidity": humidity})


LOWEST, HIGHEST = -430.0, 5000.0
"""Altitudes from the lowest dry land to where the formulas for air end, m."""


HOTTEST = 60.0
"""Warmest outdoor air that is believed, C; on record stand 57 (memory)."""


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
