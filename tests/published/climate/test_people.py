"""What people give off, and outdoor air, against the tables of handbook and standards."""

from __future__ import annotations

import pytest

from evidence import Check
from sordino.physics.climate import people
from sordino.physics.climate.co2 import flow_for

FUNDAMENTALS = "ASHRAE Fundamentals 2013 ch. 18 table 1"
PERSILY = "Persily and de Jonge 2017"
FOOT, CFM = 0.3048, 0.3048**3 / 60.0


@pytest.mark.parametrize(
    ("activity", "sensible", "latent"),
    [("seated", 70, 45), ("desk work", 75, 55), ("standing", 75, 55), ("light work", 80, 140), ("drumming", 90, 160)],
)
def test_heat_of_people(check: Check, activity: str, sensible: float, latent: float) -> None:
    """Sensible and latent watts, adjusted for a mix of adults."""
    one = people.person(activity)
    got = [one.sensible, one.latent]
    check(f"heat of a person, {activity}, W", [sensible, latent], got, source=FUNDAMENTALS, mark="read", relative=1e-6)


def test_water_of_people(check: Check) -> None:
    """55 W of latent heat evaporate 79 g an hour, 45 W 65 g (2.5 MJ/kg with sweat at skin temperature)."""
    got = [3.6e6 * people.person(name).water for name in ("standing", "seated")]
    source = "latent heat over the heat of evaporation, rounded handbook form"
    check("water of a person, g/h", [79.0, 65.0], got, source=source, mark="derived", relative=0.03)


@pytest.mark.parametrize(
    ("kind", "days", "met"), [("man 30-40", 7.67, 1.4), ("woman 30-40", 6.09, 1.6), ("man 16-21", 7.77, 2.0)]
)
def test_carbon_dioxide_by_the_equation(check: Check, kind: str, days: float, met: float) -> None:
    """V = RQ BMR M T/P 0.000211 L/s with RQ 0.85 and BMR in MJ a day, at 0 C and 101 kPa."""
    by_equation = 0.85 * days * met * 273.15 / 101.0 * 0.000211
    got = 1e3 * people.co2_rate(met, 0.0, 101_325.0, kind)
    name = f"carbon dioxide, {kind} at {met:g} met, L/s"
    check(
        name, by_equation, got, source=f"{PERSILY} equation 10, metabolic rate recalled", mark="memory", relative=0.04
    )


def test_carbon_dioxide_warm_and_high(check: Check) -> None:
    """Warmed from 0 to 25 C a gas grows by 1.09; at 1600 m by the pressure too."""
    got = people.co2_rate(1.2, 25.0) / people.co2_rate(1.2, 0.0)
    check("growth from 0 to 25 C", 1.09, got, source="ideal gas, as the paper's note", mark="second-hand", within=0.005)
    thin = people.co2_rate(3.5, 20.0, 83_524.0) / people.co2_rate(3.5, 20.0)
    check("growth at 1600 m", 101_325.0 / 83_524.0, thin, source="ideal gas", mark="derived", relative=1e-6)


def test_outdoor_air_of_studios(check: Check) -> None:
    """10 cfm a person and 0.06 cfm per ft2 on 1000 ft2; the SI rates are rounded up by 6 %."""
    got = people.outdoor_air(70, 1000 * FOOT**2) / CFM
    check("70 people on 1000 ft2 of stage, cfm", 760.0, got, source="IMC 403.3.1.1", mark="second-hand", relative=0.06)
    source = "ASHRAE 62.1-2016 table 6.2.2.1, combined rate"
    choir = 1e3 * people.outdoor_air(35, 100.0, "music, theatre, dance") / 35
    check("choir room, combined, L/s a person", 5.9, choir, source=source, mark="read", relative=0.01)
    media = 1e3 * people.outdoor_air(25, 100.0, "media centre") / 25
    check("media centre, combined, L/s a person", 7.4, media, source=source, mark="read", relative=0.01)


def test_warm_air_from_above_counts_less(check: Check) -> None:
    """Ez 0.8: three people on 14 m2."""
    got = 1e3 * people.outdoor_air(3, 14.0, effectiveness=0.8)
    source = "ASHRAE 62.1 table 6.2.2.2"
    check("three on 14 m2, warm air from above, L/s", 24.0, got, source=source, mark="memory", within=1e-6)


@pytest.mark.parametrize(("rate", "need"), [(0.0039e-3, 6.7), (0.0053e-3, 9.1), (0.0076e-3, 13.1)])
def test_air_for_a_thousand(check: Check, rate: float, need: float) -> None:
    """Steady 1000 ppm over 420 ppm."""
    got = 1e3 * flow_for(1000.0, rate)
    check(f"air for 1000 ppm at {1e3 * rate:g} L/s, L/s", need, got, source="mass balance", mark="derived", within=0.05)
