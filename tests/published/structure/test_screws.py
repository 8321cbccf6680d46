"""Screws pulled out of wood against the tables of the National Design Specification."""

from __future__ import annotations

import pytest

from evidence import Check
from sordino.kinds import INCH, POUND
from sordino.physics.structure.screws import PER_INCH, held_by_rod, held_by_thread, lag_screw_withdrawal
from sordino.physics.structure.screws import wood_screw_withdrawal as wood_screw
from sordino.physics.structure.timber import GRAVITY

LAG = "National Design Specification 2015 table 12.2A, as filed with a city's permit"
DIAMETERS = (0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75, 0.875)
ROWS = {
    0.73: (397, 469, 538, 604, 668, 789, 905, 1016),
    0.55: (260, 307, 352, 395, 437, 516, 592, 664),
    0.50: (225, 266, 305, 342, 378, 447, 513, 576),
    0.42: (173, 205, 235, 264, 291, 344, 395, 443),
    0.36: (137, 163, 186, 209, 231, 273, 313, 352),
    0.31: (110, 130, 149, 167, 185, 218, 250, 281),
}


@pytest.mark.parametrize("gravity", ROWS)
def test_lag_screws(check: Check, gravity: float) -> None:
    """Every value of the table's row to the pound it is rounded to."""
    ours = [lag_screw_withdrawal(gravity, diameter * INCH) / PER_INCH for diameter in DIAMETERS]
    check(f"lag screw withdrawal, gravity {gravity}, lb/in", ROWS[gravity], ours, source=LAG, mark="read", within=0.75)


def test_wood_screws(check: Check) -> None:
    ours = wood_screw(0.45, 0.190 * INCH) / PER_INCH
    source = "worked example of a wood handbook, number 10 screw"
    check("wood screw withdrawal, gravity 0.45, lb/in", 109, ours, source=source, mark="second-hand", within=0.75)
    table = "National Design Specification 2018 table 12.2B"
    for gravity, published in ((0.42, (82, 95, 109, 121)), (0.50, (117, 135, 154, 172))):
        shanks = (0.164, 0.190, 0.216, 0.242)
        found = [wood_screw(gravity, shank * INCH) / PER_INCH for shank in shanks]
        name = f"wood screws 8 to 14, gravity {gravity}, lb/in"
        check(name, published, found, source=table, mark="memory", within=1.1)


def test_what_one_lag_screw_may_carry_for_ever(check: Check) -> None:
    held = held_by_thread("lag screw", 0.42, 0.25 * INCH, 2.0 * INCH) / (POUND * GRAVITY)
    source = "National Design Specification 2.3.2 and table 12.2A: 173 x 2 x 0.9"
    check("1/4 in lag screw, 2 in of thread, lasting, lb", 312, held, source=source, mark="derived", within=0.9)


def test_drywall_screws_hold_nothing_and_rods_by_their_section() -> None:
    assert held_by_thread("drywall screw", 0.42, 0.004, 0.03) == 0.0
    assert held_by_rod(0.012) == pytest.approx(4.0 * held_by_rod(0.006))
    assert 2.0e3 < held_by_rod(0.010) < 6.0e3
