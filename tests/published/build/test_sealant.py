"""How far a tube of sealant goes, and how much damping compound a sheet takes."""

from __future__ import annotations

import pytest

from evidence import Check
from sordino.build.rules import rule
from sordino.build.sealing import Bead, fillet, round_bead

TENTH, QUARTER, THREE_EIGHTHS = 10.1 * 29.5735e-6, 6.35, 9.525
"""A tube of 10.1 fl oz, m3; bead sizes, mm."""


def goes(section: float) -> float:
    """Metres of a bead of so many mm2 that a tube fills."""
    return TENTH / Bead(place="", length=1e3, section=section).volume


def test_a_square_joint(check: Check) -> None:
    """1/4 x 1/4 in from a 10.1 oz tube: suppliers print 24 to 27 ft; a fillet of the same side takes half."""
    square = 2.0 * fillet(QUARTER)
    feet = goes(square) / 0.3048
    check(
        "ft of 1/4 x 1/4 in joint from 10.1 fl oz",
        24.4,
        feet,
        source="suppliers' charts",
        mark="second-hand",
        within=0.5,
    )


@pytest.mark.parametrize(("side", "metres"), [(QUARTER, 9.4), (THREE_EIGHTHS, 4.2)])
def test_round_beads(side: float, metres: float, check: Check) -> None:
    """Volume over section."""
    got = goes(round_bead(side))
    check(f"m of {side:g} mm bead from 10.1 fl oz", metres, got, source="geometry", mark="derived", within=0.06)


def test_damping_compound(check: Check) -> None:
    """A maker's guide: 55 to 60 fl oz on 32 ft2; two tubes of 28."""
    ounces = rule("damping coat") * 32.0 * 0.3048**2 / 29.5735e-6
    check("fl oz of compound on 32 ft2", 57.5, ounces, source="a maker's guide", mark="second-hand", within=2.5)
