"""Joists against a code's span table, and against the formulas of strength of materials."""

from __future__ import annotations

from math import sqrt

import pytest

from evidence import Check
from sordino.kinds import FOOT, INCH, POUND
from sordino.physics.structure.joists import Load, moment, sag, second_moment, section_modulus
from sordino.physics.structure.timber import GRAVITY, PSI, TOGETHER, allowed_bending, lumber, size_factor

SPANS = "International Residential Code 2018 table R802.5.1(2): SPF No. 2, 20 psf live, 10 psf dead, L/240"
PSF, LBF = POUND * GRAVITY / FOOT**2, POUND * GRAVITY
PRINTED = {
    (19.2, 5.5): (11, 9),
    (19.2, 7.25): (14, 10),
    (19.2, 9.25): (18, 2),
    (24.0, 5.5): (10, 6),
    (24.0, 7.25): (13, 3),
    (24.0, 9.25): (16, 3),
}


@pytest.mark.parametrize(("spacing", "depth"), PRINTED)
def test_the_span_table_is_reproduced(check: Check, spacing: float, depth: float) -> None:
    """To the inch that the table is rounded to."""
    feet, inches = PRINTED[spacing, depth]
    name = f"ceiling joist 1.5 x {depth} in at {spacing:g} in, longest span, in"
    span = longest_span(spacing * INCH, depth * INCH)
    check(name, 12 * feet + inches, span / INCH, source=SPANS, mark="read", within=0.75)


def longest_span(spacing: float, depth: float) -> float:
    """Where bending under all of the load, or sag under its live part, first reaches what is allowed, by halving."""
    low, high = 1.0, 10.0
    for _ in range(40):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _holds(middle, spacing, depth) else (low, middle)
    return low


def _holds(span: float, spacing: float, depth: float) -> bool:
    stress = moment(span, 30.0 * PSF * spacing) / section_modulus(1.5 * INCH, depth)
    modulus, inertia = lumber("SPF No. 2").modulus, second_moment(1.5 * INCH, depth)
    bent = sag(span, 20.0 * PSF * spacing, (), modulus, inertia)
    allowed = allowed_bending("SPF No. 2", depth, "ten years", shared=spacing <= TOGETHER)
    return stress <= allowed and bent <= span / 240.0


def test_a_box_on_two_joists(check: Check) -> None:
    """2x6 at 16 in over 12 ft, 5 psf, 150 lb shared by two in the middle; worked in pounds and inches."""
    span, modulus = 12.0 * FOOT, lumber("SPF No. 2").modulus
    loads = [Load(force=75.0 * LBF, at=span / 2.0)]
    inertia, section = second_moment(1.5 * INCH, 5.5 * INCH), section_modulus(1.5 * INCH, 5.5 * INCH)
    dead, whole = 5.0 * PSF * 16.0 * INCH, 15.0 * PSF * 16.0 * INCH
    source = "strength of materials, w L2/8 + P L/4 and 5 w L4/384 E I + P L3/48 E I, by hand"
    allowed = allowed_bending("SPF No. 2", 5.5 * INCH, "permanent", shared=True)
    rows = {
        "moment, dead load and box, lb in": (4140.0, moment(span, dead, loads) / (LBF * INCH)),
        "bending stress, psi": (547.4, moment(span, dead, loads) / section / PSI),
        "moment with 10 psf of live load, lb in": (7020.0, moment(span, whole, loads) / (LBF * INCH)),
        "sag, dead load and box, in": (0.2671, sag(span, dead, loads, modulus, inertia) / INCH),
        "allowed stress, lasting, psi": (1177.3, allowed / PSI),
    }
    for name, (published, computed) in rows.items():
        check(f"box on two joists: {name}", published, computed, source=source, mark="derived", relative=5e-4)


def test_a_weight_off_the_middle(check: Check) -> None:
    """P b (L2 - b2)^1.5 / (9 sqrt3 L E I), 3.1 m span, 0.8 m from one bearing."""
    span, force, away, modulus, inertia = 3.1, 640.0, 0.8, 9.1e9, 7.7e-6
    largest = force * away * (span**2 - away**2) ** 1.5 / (9.0 * sqrt(3.0) * span * modulus * inertia)
    source = "strength of materials tables, one load off the middle"
    loads = [Load(force=force, at=away)]
    check("sag under a load off the middle, m", largest, sag(span, 0.0, loads, modulus, inertia), source=source,
          mark="memory", relative=1e-3)  # fmt: skip
    under = force * away * (span - away) / span
    check("moment under it, N m", under, moment(span, 0.0, loads), source=source, mark="memory", relative=1e-3)
    mirrored = [Load(force=force, at=span - away)]
    assert sag(span, 0.0, mirrored, modulus, inertia) == pytest.approx(sag(span, 0.0, loads, modulus, inertia))


def test_size_factors_step_with_the_sections_sold() -> None:
    assert [size_factor(depth * INCH) for depth in (3.5, 5.5, 7.25, 9.25, 11.25, 15.0)] == [
        1.5,
        1.3,
        1.2,
        1.1,
        1.0,
        0.9,
    ]
    assert size_factor(0.15) == 1.2
