"""Fans, filters, grilles, dampers and doors."""

from __future__ import annotations

import numpy as np
import pytest

from evidence import Check
from sordino.errors import OutOfRange
from sordino.physics.air.crossings import crossings_on
from sordino.physics.air.dampers import balancing_coefficient, blade_angle, blade_damper
from sordino.physics.air.door import force_limit, opening_force
from sordino.physics.air.fan import FanCurve
from sordino.physics.air.filters import filter_drop, pleated_filter
from sordino.physics.air.grilles import bar_grille, egg_crate, perforated_face
from sordino.physics.air.leakage import coefficient_at, leakage_drop
from sordino.physics.air.network import Drive, Link, solve

INCH_WATER, FOOT, INCH, POUND = 249.0889, 0.3048, 0.0254, 4.44822


def parabola() -> FanCurve:
    """dp = 1214.286 Q - 7142.86 Q^2 with Q in m3/s, sampled from 100 to 170 L/s."""
    flows = np.linspace(0.100, 0.170, 141)
    return FanCurve(tuple(flows.tolist()), tuple((1214.286 * flows - 7142.86 * flows**2).tolist()))


def test_fan_on_a_system(check: Check) -> None:
    """The parabola through (170, 0), (140, 30), (100, 50) meets 30 Pa at 120 L/s."""
    grid = np.linspace(0.0, 0.3, 31).tolist()
    (point,) = crossings_on(grid, parabola().pressure, lambda flow: 30.0 * (flow / 0.120) ** 2)
    source = "two parabolas solved by hand"
    check("flow where fan meets system, L/s", 131.61, 1000 * point.flow, source=source, mark="derived", within=0.02)
    check("pressure where fan meets system, Pa", 36.09, point.pressure, source=source, mark="derived", within=0.02)
    assert point.stable


def test_the_same_fan_in_a_network(check: Check) -> None:
    """The network finds the same point with the fan between two rooms and the system split over two ducts."""
    links = [
        Link(name="out", start="b", end="outside", loss=lambda q: 20.0 * q * abs(q) / 0.120**2),
        Link(name="in", start="outside", end="a", loss=lambda q: 10.0 * q * abs(q) / 0.120**2),
    ]
    drives = [Drive(name="fan", start="a", end="b", rise=parabola().pressure)]
    found = solve({"outside": 5.0}, links, drives)
    flow = 1000 * found.flows["fan"]
    check(
        "flow of a solved network, L/s",
        131.61,
        flow,
        source="two parabolas solved by hand",
        mark="derived",
        within=0.02,
    )


def test_fan_laws(check: Check) -> None:
    """Half speed: half the flow, a quarter of the pressure; thinner air in proportion."""
    slow = parabola().at_speed(0.5, 0.9)
    source = "fan laws, AMCA/ASHRAE"
    got = slow.pressure(0.070) / parabola().pressure(0.140)
    check("pressure at half speed and 0.9 density", 0.225, got, source=source, mark="memory", relative=1e-6)


def test_filters(check: Check) -> None:
    """Filter area for 800 cfm at 0.10 in.wg, and a dirty filter beyond its rated speed."""
    rating = pleated_filter(0.050, 13)
    area = 800 * 0.47194745e-3 / rating.velocity / FOOT**2
    check("filter face for 800 cfm, ft2", 4.10, area, source="filter bulletin 2018", mark="read", relative=0.01)
    drop = filter_drop(1.5 * rating.velocity, rating.velocity, rating.drop, 1.5, 2.0) / INCH_WATER
    check(
        "filter drop at 1.5 times the flow, in w.g.",
        0.20 * 1.5**1.5,
        drop,
        source="power law",
        mark="derived",
        relative=0.001,
    )
    with pytest.raises(OutOfRange, match="MERV 8 has no rated point"):
        pleated_filter(0.025, 8)


def test_grille_faces(check: Check) -> None:
    """Thin and thick plates and bars by free area."""
    got = perforated_face(np.array([0.3, 0.5, 0.7]))
    recalled = [18.6, 4.0, 0.97]
    source = "Idelchik diagram 8-1, tabulated, recalled"
    check("perforated plate", recalled, got, source=source, mark="memory", relative=0.10)
    thin = egg_crate(0.4, 0.015)
    source = "Idelchik diagram 8-1 against 4-15, one plate by two formulas"
    check("thin egg crate as a plate", perforated_face(0.4), thin, source=source, mark="second-hand", relative=0.05)
    deep, solid = np.array([0.2, 0.6, 1.0]), 0.5
    walls = egg_crate(0.5, deep) * 0.25 - 0.5 * solid**0.75 - solid**2 - 0.02 * deep
    source = "Idelchik diagram 4-12, table of tau, recalled"
    got = walls / solid**1.375
    check("depth factor of a deep grid", [1.22, 0.84, 0.24], got, source=source, mark="memory", relative=0.12)
    got = bar_grille(0.5, "round nose")
    check("grille of bars as wide as its gaps", 1.83, got, source="Kirschmer 1926", mark="memory", within=0.001)
    assert bar_grille(0.5, "round") < bar_grille(0.5, "round nose") < bar_grille(0.5)


def test_dampers(check: Check) -> None:
    """Blade angles against another handbook's recalled row, and the way back."""
    got = blade_damper(np.array([10.0, 20.0, 30.0, 40.0, 50.0, 60.0]))
    source = "SMACNA round butterfly damper, recalled"
    check("damper blade by its angle", [0.52, 1.5, 4.5, 11, 29, 108], got, source=source, mark="memory", relative=0.15)
    needed = balancing_coefficient(12.0, 3.0)
    assert blade_damper(blade_angle(needed, "rectangular"), "rectangular") == pytest.approx(4.0)


def test_door_force(check: Check) -> None:
    """3 x 7 ft door, knob 3 in from the edge, 9 lbf closer, 0.35 in.wg: 30 lbf; and a row of greatest
    pressures."""
    pull = opening_force(0.35 * INCH_WATER, 3 * FOOT, 7 * FOOT, 3 * INCH) / POUND + 9.0
    check(
        "door pull at a handle, lbf", 30.0, pull, source="SFPE Handbook ch. 50 example", mark="second-hand", within=0.3
    )
    widths = np.array([32, 36, 40, 44, 48]) * INCH
    greatest = np.array([0.45, 0.40, 0.37, 0.34, 0.31]) * INCH_WATER
    force = opening_force(greatest, widths, 7 * FOOT, 3 * INCH) / POUND + 6.0
    source = "door table of the NFPA smoke control guides (7 ft door, 6 lbf closer)"
    check("door pull in lbf at the printed pressure", np.full(5, 30.0), force, source=source, mark="read", within=0.4)
    assert force_limit() == 133.0
    assert force_limit("accessible interior") == 22.0


def test_leakage(check: Check) -> None:
    """A room measured at 50 Pa leaks 50^-0.65 of that at 1 Pa, a twentieth of it at 0.5 Pa with the usual
    exponent."""
    coefficient = coefficient_at(0.020, 50.0)
    drop = leakage_drop(0.0501 * 0.020, coefficient)
    check("drop at 0.0501 of the flow at 50 Pa, Pa", 0.5, drop, source="power law", mark="derived", relative=0.01)
