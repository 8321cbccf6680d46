"""Density, viscosity and sound speed of the air in a duct."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from sordino.errors import OutOfRange
from sordino.tables import table


@dataclass(frozen=True, kw_only=True, slots=True)
class Air:
    """Air: density kg/m3, dynamic viscosity Pa.s, sound speed m/s, pressure Pa, temperature degrees C."""

    density: float = 1.204
    viscosity: float = 1.825e-5
    sound_speed: float = 343.2
    pressure: float = 101_325.0
    temperature: float = 20.0


STANDARD = Air()
"""Air at 20 degrees C and 101 325 Pa, the air of duct tables."""


@lru_cache(maxsize=256)
def air_at(temperature_c: float = 20.0, humidity: float = 0.5, altitude: float = 0.0) -> Air:
    """Air at a temperature (-40 to 60 degrees C), relative humidity (0 to 1) and altitude (-500 to 5000 m).

    Pressure from the standard atmosphere and moist density by ASHRAE Fundamentals 2017 ch. 1; viscosity by
    Sutherland's law; sound speed of a dry ideal gas. Outside the ranges: OutOfRange.
    """
    _within("temperature in degrees C", temperature_c, -40.0, 60.0)
    _within("relative humidity", humidity, 0.0, 1.0)
    _within("altitude in m", altitude, -500.0, 5000.0)
    pressure, density = _moist(temperature_c, humidity, altitude)
    return Air(
        density=density,
        viscosity=viscosity_sutherland(temperature_c),
        sound_speed=sound_speed(temperature_c),
        pressure=pressure,
        temperature=temperature_c,
    )


def viscosity_sutherland(temperature_c: float) -> float:
    """Dynamic viscosity in Pa.s, mu = b T^1.5 / (T + S), with T in kelvin (U.S. Standard Atmosphere 1976)."""
    kelvin = temperature_c + 273.15
    return _constant("sutherland factor") * kelvin**1.5 / (kelvin + _constant("sutherland temperature"))


def sound_speed(temperature_c: float) -> float:
    """Sound speed in m/s, c = sqrt(gamma R T), dry air as an ideal gas."""
    gas = _constant("ratio of specific heats") * _constant("dry gas constant")
    return math.sqrt(gas * (temperature_c + 273.15))


def _constant(quantity: str) -> float:
    return float(table("air/air").row("quantity", quantity)["value"])


def _moist(temperature: float, humidity: float, altitude: float) -> tuple[float, float]:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    pressure = psychrolib.GetStandardAtmPressure(altitude)
    ratio = psychrolib.GetHumRatioFromRelHum(temperature, humidity, pressure)
    return pressure, psychrolib.GetMoistAirDensity(temperature, ratio, pressure)


def _within(name: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:
        raise OutOfRange(f"{name} is {value:g}; the formulas hold from {low:g} to {high:g}.")
