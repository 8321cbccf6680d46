"""Fan sound power against a worked example and makers' single numbers."""

from __future__ import annotations

import pytest

from evidence import Check
from sordino.physics.sound.customary import CUBIC_FOOT_PER_MINUTE, INCH_OF_WATER
from sordino.physics.sound.fans import (
    fan_power,
    off_peak_increase,
    power_from_pressure,
    spectrum_from_a_level,
)

GUIDE = "application guide 125-1929 rev 4 (2009)"
FLOW, PRESSURE = 15_000 * CUBIC_FOOT_PER_MINUTE, 4.0 * INCH_OF_WATER


def test_what_the_duty_adds(check: Check) -> None:
    """15,000 cfm at 4 in of water: 10 lg Q + 20 lg P = 54 dB over the propeller's printed specific power."""
    printed = [48, 51, 58, 56, 55, 52, 46, 42]
    ours = fan_power("propeller", FLOW, PRESSURE)[1:]
    wanted = [k + 54.0 + (5.0 if band == 0 else 0.0) for band, k in enumerate(printed)]
    check("propeller fan Lw, dB", wanted, ours, source=f"{GUIDE} Table 5", mark="read", within=0.25)


def test_a_backward_curved_fan(check: Check) -> None:
    """The 30 in example before the blade-pass increment, which is moved to 8 kHz and left out."""
    printed = [99, 99, 97, 93, 88, 82, 78]
    ours = fan_power("backward-curved", FLOW, PRESSURE, blade_pass=8000.0)[1:8]
    check("backward-curved fan Lw, dB", printed, ours, source="ASHRAE 1991", mark="memory", within=0.5)


@pytest.mark.parametrize(("percent", "increase"), [(95, 0), (87, 3), (80, 6), (70, 9), (60, 12), (52, 15)])
def test_off_peak(check: Check, percent: float, increase: float) -> None:
    """The classes of efficiency, and the whole spectrum rising by them."""
    check(f"fan at {percent} % of peak, dB", increase, off_peak_increase(percent), source=GUIDE, mark="read", within=0)
    rise = fan_power("propeller", 0.2, 90.0, percent) - fan_power("propeller", 0.2, 90.0)
    assert rise[1:] == pytest.approx(increase)


@pytest.mark.parametrize(
    ("kind", "shape"),
    [
        ("forward-curved", [10.9, 10.9, 0.9, -6.1, -6.1, -11.1, -16.1, -21.1]),
        ("backward-curved", [4.5, 4.5, 2.5, -1.5, -6.5, -12.5, -16.5, -21.5]),
        ("propeller", [-11.4, -8.4, -1.4, -3.4, -4.4, -7.4, -13.4, -17.4]),
    ],
)
def test_shape_from_an_a_level(check: Check, kind: str, shape: list[float]) -> None:
    """41 dB(A) spread over the bands of a kind."""
    ours = spectrum_from_a_level(41.0, kind)[1:] - 41.0
    mark = "derived" if kind == "propeller" else "memory"
    check(f"{kind} shape, dB", shape, ours, source="ASHRAE 1991 specific powers", mark=mark, within=0.1)


def test_power_behind_a_catalogue_pressure(check: Check) -> None:
    """Free field at 1.5 m, and over a floor."""
    source = "spherical spreading"
    check("Lw - Lp at 1.5 m, Q 1, dB", 14.5, power_from_pressure(0.0, 1.5), source=source, mark="derived", within=0.05)
    check("and Q 2, dB", 11.5, power_from_pressure(0.0, 1.5, 2.0), source=source, mark="derived", within=0.05)
