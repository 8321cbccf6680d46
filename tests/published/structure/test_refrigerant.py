"""Refrigerant in a closed room against makers' tables made from the appliance standard."""

from __future__ import annotations

from math import isnan

from evidence import Check
from sordino.kinds import FOOT, POUND
from sordino.physics.structure.refrigerant import (
    RELEASE,
    charge_by_floor,
    charge_by_volume,
    charge_without_limit,
    refrigerant,
)

MAKER = "two makers' installation manuals, R-32 at 0.6 m, IEC 60335-2-40:2018"


def test_floor_area_for_a_charge(check: Check) -> None:
    """The least floor area of each charge carries that charge."""
    charges = (1.84, 1.90, 2.00, 2.10, 2.30, 2.50, 3.00, 3.50)
    floors = (28.81, 30.72, 34.04, 37.53, 45.02, 53.19, 76.6, 104.26)
    lower = refrigerant("R-32").lower_flammability
    ours = [charge_by_floor(lower, floor, RELEASE["floor"]) for floor in floors]
    check("R-32 that a floor area may take, kg", charges, ours, source=MAKER, mark="read", relative=1e-3)
    assert charge_by_floor(lower, 12.0, 1.8) / charge_by_floor(lower, 12.0, 0.6) > 2.99


def test_charge_that_asks_for_no_floor(check: Check) -> None:
    ours = charge_without_limit(refrigerant("R-32").lower_flammability)
    check("R-32 without a limit on the floor, kg", 1.842, ours, source="a maker's installation manual", mark="read",
          within=0.001)  # fmt: skip
    calculator = "table of a calculator that cites ASHRAE 34 and UL 60335-2-40"
    blend = charge_without_limit(refrigerant("R-454B").lower_flammability) / POUND
    check("R-454B without a limit, lb", 3.91, blend, source=calculator, mark="second-hand", within=0.01)


def test_concentration_limits(check: Check) -> None:
    """Pounds in a thousand cubic feet, as the standard's other column has them."""
    per_thousand = POUND / (1000.0 * FOOT**3)
    for name, published in (("R-410A", 26.0), ("R-32", 4.8), ("R-134a", 13.0), ("R-454B", 3.1)):
        ours = charge_by_volume(refrigerant(name).limit, 1.0) / per_thousand
        check(
            f"{name} in a room, lb/1000 ft3", published, ours, source="ASHRAE 34, limit", mark="memory", relative=0.02
        )


def test_what_does_not_burn() -> None:
    assert isnan(refrigerant("R-410A").lower_flammability)
    assert not refrigerant("R-410A").burns
    assert refrigerant("R-290").burns
