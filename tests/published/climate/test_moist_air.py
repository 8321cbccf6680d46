"""Moist air against the printed tables and worked examples of the handbook."""

from __future__ import annotations

import pytest

from evidence import Check
from sordino.physics.climate import moist

HANDBOOK = "ASHRAE Fundamentals 2017 ch. 1"
QUOTED = f"{HANDBOOK}, as quoted in the PsychroLib tests"
SEA = 101_325.0
VAPOUR_AT_ZERO = 2.501e6
"""Enthalpy of water vapour at 0 degrees C, J/kg (equation 30)."""


@pytest.mark.parametrize(
    ("temperature", "pressure"),
    [(-20.0, 103.24), (-5.0, 401.74), (5.0, 872.6), (25.0, 3169.7), (50.0, 12351.3), (100.0, 101_418.0)],
)
def test_saturation_pressure(check: Check, temperature: float, pressure: float) -> None:
    """Table 3, over ice and over water."""
    got = moist.saturation_pressure(temperature)
    name = f"saturation pressure at {temperature:g} C, Pa"
    check(name, pressure, got, source=f"{QUOTED}, table 3", mark="second-hand", relative=3e-4)


@pytest.mark.parametrize(
    ("temperature", "ratio"), [(-20.0, 0.0006373), (5.0, 0.005425), (25.0, 0.020173), (50.0, 0.086863)]
)
def test_saturation_ratio(check: Check, temperature: float, ratio: float) -> None:
    """Table 2; the ideal-gas formula is low by up to 1 %."""
    got = moist.saturation_ratio(temperature, SEA)
    name = f"humidity ratio of saturated air at {temperature:g} C"
    check(name, ratio, got, source=f"{QUOTED}, table 2", mark="second-hand", relative=0.01)


def enthalpy(temperature: float, ratio: float, pressure: float) -> float:
    """J/kg dry air over 0 degrees C: the heat of the flow that carries a kilogram, and the vapour's own."""
    warmth = moist.heat_per_flow(temperature, ratio, pressure) * moist.volume(temperature, ratio, pressure)
    return temperature * warmth + ratio * VAPOUR_AT_ZERO


@pytest.mark.parametrize(("temperature", "printed"), [(5.0, 18_639.0), (25.0, 76_504.0), (50.0, 275_353.0)])
def test_saturated_enthalpy(check: Check, temperature: float, printed: float) -> None:
    """Table 2, through the heat that a flow carries."""
    got = enthalpy(temperature, moist.saturation_ratio(temperature, SEA), SEA)
    name = f"enthalpy of saturated air at {temperature:g} C, J/kg"
    check(name, printed, got, source=f"{QUOTED}, table 2", mark="second-hand", relative=0.01)


def test_moist_air_at_thirty_degrees(check: Check) -> None:
    """30 C and a humidity ratio of 0.02, at sea level and at 95 461 Pa."""
    got = enthalpy(30.0, 0.02, 95_461.0)
    check("enthalpy at 30 C, W 0.02, J/kg", 81_316.0, got, source=QUOTED, mark="second-hand", relative=3e-4)
    volume = moist.volume(30.0, 0.02, 95_461.0)
    check("volume at 30 C, W 0.02, 95 461 Pa", 0.94086, volume, source=QUOTED, mark="second-hand", relative=1e-3)
    weight = 1.02 * moist.dry_mass_per_volume(30.0, 0.02, 95_461.0)
    check("density of the same, kg/m3", 1.08412, weight, source=QUOTED, mark="second-hand", relative=1e-3)


def test_example_one(check: Check) -> None:
    """40 C dry bulb, 20 C wet bulb: the printed answers are rounded to what a chart shows."""
    ratio = 0.0065
    source = f"{QUOTED}, example 1"
    humidity = moist.relative_humidity(40.0, ratio, SEA)
    check("relative humidity, 40 C with 20 C wet bulb", 0.14, humidity, source=source, mark="second-hand", within=0.005)
    dew = moist.dew_point(moist.vapour_pressure(ratio, SEA))
    check("dew point of the same, C", 7.0, dew, source=source, mark="second-hand", within=0.7)
    volume = moist.volume(40.0, ratio, SEA)
    check("volume of the same, m3/kg", 0.896, volume, source=source, mark="second-hand", within=0.001)


@pytest.mark.parametrize(
    ("altitude", "factor"),
    [(0.0, 1.211), (500.0, 1.141), (1000.0, 1.075), (1500.0, 1.011), (2000.0, 0.950), (2500.0, 0.893)],
)
def test_heat_that_a_flow_carries(check: Check, altitude: float, factor: float) -> None:
    """W per L/s and K of dry air near 20 C, from the standard atmosphere."""
    got = 1e-3 * moist.heat_per_flow(20.0, 0.0, moist.standard_pressure(altitude))
    name = f"heat of a flow at {altitude:g} m, W per L/s and K"
    check(name, factor, got, source="rho cp of the standard atmosphere", mark="derived", relative=0.005)


@pytest.mark.parametrize(
    ("temperature", "humidity", "dew"),
    [(24.0, 0.5, 12.95), (30.0, 0.8, 26.17), (35.0, 0.5, 23.02), (21.0, 0.4, 6.9), (26.7, 0.6, 18.3)],
)
def test_dew_points(check: Check, temperature: float, humidity: float, dew: float) -> None:
    """Of common rooms and summer nights; by an independent form (Magnus) within a tenth of a kelvin."""
    got = moist.dew_point(humidity * moist.saturation_pressure(temperature))
    name = f"dew point of {temperature:g} C and {100 * humidity:.0f} %, C"
    check(name, dew, got, source=f"worked from {HANDBOOK}", mark="derived", within=0.05)
