"""Fan spectra against printed specific powers, and makers' single numbers."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.physics.sound.fans import power_from_pressure, spectrum_from_a_level

GUIDE = "application guide 125-1929 rev 4 (2009)"


def test_the_printed_specific_powers(check: Check) -> None:
    """The propeller's, 63 Hz to 8 kHz, over their mean."""
    printed = np.array([48, 51, 58, 56, 55, 52, 46, 42])
    ours = spectrum_from_a_level(60.0, "propeller")[1:]
    wanted = printed - printed.mean()
    check("propeller fan Lw, dB", wanted, ours - ours.mean(), source=f"{GUIDE} Table 5", mark="read", within=0.05)


def test_a_backward_curved_fan(check: Check) -> None:
    """The 30 in example before the blade-pass increment, 63 Hz to 4 kHz, over its mean."""
    printed = np.array([99, 99, 97, 93, 88, 82, 78])
    ours = spectrum_from_a_level(60.0, "backward-curved")[1:8]
    wanted = printed - printed.mean()
    check("backward-curved fan Lw, dB", wanted, ours - ours.mean(), source="ASHRAE 1991", mark="memory", within=0.5)


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
