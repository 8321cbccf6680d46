"""Moist air through PsychroLib: humidity ratio, dew point, saturation, volume (ASHRAE Fundamentals 2017 ch. 1).

Temperatures in degrees C (-100 to 200), pressures in Pa, relative humidity 0 to 1, humidity ratio in kg/kg dry air.
"""

from __future__ import annotations

from functools import lru_cache
from types import ModuleType

DRY_HEAT, VAPOUR_HEAT = 1006.0, 1860.0
"""Specific heats of dry air and of water vapour, J/kgK (ASHRAE Fundamentals 2017 ch. 1, equations 28 and 30)."""
EVAPORATION = 2.45e6
"""Heat that a kilogram of water takes to evaporate near 22 degrees C, J/kg (handbooks)."""
HOTTEST = 90.0
"""Dry bulb given where none is asked for, C: the library gives no dew point above it."""
DRIEST = 1e-7
"""Least humidity ratio the formulas take, kg/kg."""


@lru_cache(maxsize=1)
def _library() -> ModuleType:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    library: ModuleType = psychrolib
    return library


@lru_cache(maxsize=64)
def standard_pressure(altitude: float) -> float:
    """Pressure of the standard atmosphere at an altitude in m, Pa (ASHRAE Fundamentals 2017 ch. 1 equation 3)."""
    return float(_library().GetStandardAtmPressure(altitude))


@lru_cache(maxsize=16384)
def saturation_pressure(temperature: float) -> float:
    """Vapour pressure of saturated air over water or ice, Pa (equations 5 and 6)."""
    return float(_library().GetSatVapPres(temperature))


@lru_cache(maxsize=4096)
def humidity_ratio(temperature: float, humidity: float, pressure: float) -> float:
    """Water in air of a temperature and relative humidity, kg/kg dry air (equation 20)."""
    return float(_library().GetHumRatioFromRelHum(temperature, humidity, pressure))


def relative_humidity(temperature: float, ratio: float, pressure: float) -> float:
    """Relative humidity of air of a temperature and humidity ratio; above 1 where it would be fog."""
    return vapour_pressure(ratio, pressure) / saturation_pressure(temperature)


@lru_cache(maxsize=4096)
def vapour_pressure(ratio: float, pressure: float) -> float:
    """Partial pressure of the water vapour, Pa (equation 20 solved for it)."""
    return float(_library().GetVapPresFromHumRatio(max(ratio, DRIEST), pressure))


@lru_cache(maxsize=4096)
def dew_point(vapour: float) -> float:
    """Temperature at which a vapour pressure in Pa saturates, degrees C, by inversion of equations 5 and 6."""
    return float(_library().GetTDewPointFromVapPres(HOTTEST, vapour))


def saturation_ratio(temperature: float, pressure: float) -> float:
    """Water in saturated air, kg/kg dry air."""
    return float(_library().GetSatHumRatio(temperature, pressure))


def volume(temperature: float, ratio: float, pressure: float) -> float:
    """Volume of moist air, m3/kg dry air (equation 26)."""
    return float(_library().GetMoistAirVolume(temperature, ratio, pressure))


def heat_per_flow(temperature: float, ratio: float, pressure: float) -> float:
    """Heat that a flow carries for each kelvin, J/m3K: (1006 + 1860 W) / v with v by equation 26."""
    return (DRY_HEAT + VAPOUR_HEAT * ratio) / volume(temperature, ratio, pressure)


def dry_mass_per_volume(temperature: float, ratio: float, pressure: float) -> float:
    """Dry air in a cubic metre of moist air, kg/m3."""
    return 1.0 / volume(temperature, ratio, pressure)
