"""Carbon dioxide and heat of closed and aired booths against time, by hand and against a report of use."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.physics.climate import co2, moist, people
from sordino.physics.climate.mixing import Carried, course, mixed

SINGER, SINGER_AT_WORK = 0.0053e-3, 0.0076e-3
BALANCE = "dC/dt = G/V - (C - Cout) Q/V, in closed form"


@pytest.mark.parametrize(("minutes", "ppm"), [(5, 751), (10, 979), (15, 1136), (20, 1243), (30, 1368), (60, 1468)])
def test_a_booth_aired_with_five_litres(check: Check, minutes: float, ppm: float) -> None:
    """4 m3, 5 L/s, 0.0053 L/s of carbon dioxide: the network's exponential, second by second, and its time."""
    flows = (Carried(source="out", target="booth", flow=0.005), Carried(source="booth", target="out", flow=0.005))
    network = mixed(("booth",), {"out": 420.0}, flows)
    rates = (network.carried - np.diag(network.inflow)) / 4.0
    along = course(rates, (network.fixed + 1e6 * SINGER) / 4.0, np.array([420.0]), 1.0, 3600)
    got = float(along[60 * int(minutes), 0])
    check(f"booth of 4 m3 after {minutes} min, ppm", ppm, got, source=BALANCE, mark="derived", within=1.0)
    assert co2.time_to(got, SINGER, 0.005, 4.0) == pytest.approx(60.0 * minutes, rel=1e-6)


def test_a_sealed_booth(check: Check) -> None:
    """4 m3 shut: minutes to 1000 and 5000 ppm, seated and at work."""
    got = [co2.time_to(limit, rate, 0.0, 4.0) / 60.0 for rate in (SINGER, SINGER_AT_WORK) for limit in (1000.0, 5000.0)]
    want = [7.3, 57.6, 5.1, 40.2]
    check("sealed booth of 4 m3, minutes to 1000 and 5000 ppm", want, got, source=BALANCE, mark="derived", within=0.05)
    rise = 60.0 * (1000.0 - 420.0) / co2.time_to(1000.0, SINGER, 0.0, 4.0)
    check("sealed booth, ppm a minute", 79.5, rise, source=BALANCE, mark="derived", within=0.05)


def test_a_phone_booth_that_somebody_measured(check: Check) -> None:
    """An unventilated phone room: 1653 ppm at 22 min, 1964 at 30, 2433 at 45; shut."""
    rise = 1e6 * people.co2_rate(1.2) / _fitted_volume()
    got = course(np.zeros((1, 1)), np.array([rise]), np.array([1964.0]), 60.0, 15)[-1, 0]
    source = "a user's meter, published on a blog; volume taken from its first two readings"
    check("phone room after 45 min, ppm", 2433.0, got, source=source, mark="second-hand", relative=0.10)


def _fitted_volume() -> float:
    """From 1653 ppm at 22 min to 1964 at 30 min without a leak, one adult seated."""
    return 1e6 * people.co2_rate(1.2) * 8 * 60.0 / (1964.0 - 1653.0)


@pytest.mark.parametrize(("activity", "ppm"), [("seated", 1100.0), ("drumming", 2400.0)])
def test_fifteen_cfm_does_not_do_for_a_drummer(check: Check, activity: str, ppm: float) -> None:
    """15 cfm for one person."""
    flow = 15 * 0.3048**3 / 60.0
    got = co2.settled(people.co2_rate(people.person(activity).met), flow)
    check(
        f"15 cfm for one, {activity}, ppm", ppm, got, source="worked by others from met", mark="derived", relative=0.05
    )


def test_air_alone_warms(check: Check) -> None:
    """75 W into the air of 4 m3 alone: 0.93 K a minute at first."""
    per_volume = moist.heat_per_flow(22.0, 0.0074, 101_325.0)
    got = 75.0 * 60.0 / (per_volume * 4.0)
    check("75 W into 4 m3 of air, K a minute", 0.93, got, source="heat balance", mark="derived", within=0.015)


def test_a_shut_booth_grows_damp(check: Check) -> None:
    """55 W latent into 4 m3 from 22 C and 45 %: about 55, 69, 83 % at 24 C after 10, 20, 30 min."""
    dry = moist.dry_mass_per_volume(23.0, 0.0074, 101_325.0)
    first = moist.humidity_ratio(22.0, 0.45, 101_325.0)
    ratios = [first + people.person("standing").water * 60.0 * minutes / (dry * 4.0) for minutes in (10, 20, 30)]
    got = [100 * moist.relative_humidity(24.0, ratio, 101_325.0) for ratio in ratios]
    check("shut booth, humidity in %", [55, 69, 83], got, source="water balance", mark="derived", within=2.5)
