"""Where the project stands: altitude, design weather, outdoor noise."""

from __future__ import annotations

from pydantic import Field

from sordino.quantities import AnyLength, Fraction, Spectrum, Statement, Temperature


class Weather(Statement):
    """One design condition of the outdoor air."""

    temperature: Temperature
    humidity: Fraction = Field(description="relative humidity")


class Site(Statement):
    """The place."""

    altitude: AnyLength = Field(default=0.0, description="height above sea level")
    summer_day: Weather = Weather(temperature=32.0, humidity=0.45)
    humid_night: Weather = Weather(temperature=24.0, humidity=0.9)
    winter: Weather = Weather(temperature=-5.0, humidity=0.8)
    outdoor_noise: Spectrum | None = Field(default=None, description="sound pressure level outdoors, dB per octave")
