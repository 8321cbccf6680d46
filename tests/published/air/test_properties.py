"""Air by temperature, moisture and altitude, against printed tables."""

from __future__ import annotations

import pytest

from evidence import Check
from sordino.errors import OutOfRange
from sordino.physics.air.properties import STANDARD, air_at


def test_standard_atmosphere(check: Check) -> None:
    """Pressure by altitude."""
    got = [air_at(10.0, 0.2, altitude).pressure for altitude in (-500.0, 500.0, 1000.0, 4000.0)]
    source = "ASHRAE Fundamentals 2017 ch. 1 table 1, as quoted in the PsychroLib tests"
    check(
        "pressure of the standard atmosphere, Pa",
        [107_478, 95_461, 89_875, 61_640],
        got,
        source=source,
        mark="second-hand",
        relative=2e-5,
    )


def test_moist_density(check: Check) -> None:
    """30 degrees C at a humidity ratio of 0.02 (74.0 % at 95 461 Pa) weighs 1.08412 kg/m3 at 500 m."""
    humidity = 0.02 / (0.621945 + 0.02) * 95_461 / 4246.0
    got = air_at(30.0, humidity, 500.0).density
    source = "ASHRAE Fundamentals 2017 ch. 1, as quoted in the PsychroLib tests"
    check("moist air at 30 C and 500 m, kg/m3", 1.08412, got, source=source, mark="second-hand", relative=0.001)
    dry = air_at(25.0, 0.0).density
    check("dry air at 25 C, kg/m3", 1 / 0.8443, dry, source=source, mark="second-hand", relative=0.001)


def test_viscosity_and_sound_speed(check: Check) -> None:
    """Dry air at 20 and 0 degrees C."""
    air = air_at(20.0, 0.0)
    check("viscosity of air at 20 C", 1.825e-5, air.viscosity, source="duct handbooks", mark="memory", relative=0.01)
    check("sound speed at 20 C, m/s", 343.2, air.sound_speed, source="handbooks", mark="memory", within=0.1)
    cold = air_at(0.0, 0.5).sound_speed
    check("sound speed at 0 C, m/s", 331.3, cold, source="handbooks", mark="memory", within=0.1)
    check("dry air at 20 C, kg/m3", STANDARD.density, air.density, source="1.204", mark="memory", within=0.001)


def test_air_beyond_the_formulas_is_refused() -> None:
    """A temperature, humidity or altitude the formulas do not cover."""
    with pytest.raises(OutOfRange, match="temperature in degrees C is 80; the formulas hold from -40 to 60"):
        air_at(80.0)
    with pytest.raises(OutOfRange, match="relative humidity is 50"):
        air_at(20.0, 50.0)
    with pytest.raises(OutOfRange, match="altitude in m is 9000"):
        air_at(20.0, 0.5, 9000.0)
