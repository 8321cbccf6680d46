"""Ducts that lean, and ducts in a slope: where they lie, what they cost, and what is refused."""

from __future__ import annotations

import re
from math import atan2, cos, degrees, hypot, radians, sqrt

import numpy as np
import pytest

from boxed import boxed
from sordino.elements import buildup
from sordino.elements.box_field import CASES, box_field
from sordino.elements.box_layout import Layout
from sordino.elements.box_mass import box_mass
from sordino.elements.built_box import BuiltBox
from sordino.errors import PlanError
from sordino.physics.air.properties import STANDARD
from sordino.physics.wave.stub import stub
from sordino.plan.statement import Plan

RUN, DROP, LENGTH, HEIGHT = 0.3, 0.2, 0.7, 0.45
"""The slope and the sides of the box called roof, m."""


def built(plan: Plan) -> BuiltBox:
    return next(part for run in plan.run.values() for part in run.parts if isinstance(part, BuiltBox))


def made(**changed: str) -> Layout:
    return built(boxed("roof", **changed)).layout


def told(**changed: str) -> str:
    with pytest.raises(PlanError) as refused:
        boxed("roof", **changed)
    return str(refused.value)


def mouth(face: str, along: str, slant: str = "0 deg") -> str:
    return f'{{ face = "{face}", along = "{along}", slant = "{slant}" }}'


def test_along_a_slope_counts_from_its_lower_edge() -> None:
    """It is 361 mm long; 120 mm up it, 100 mm are gone along the box and 67 mm up."""
    port = made(outlet=mouth("right slope", "120.19 mm")).prism.ports[1]
    assert hypot(RUN, DROP) == pytest.approx(0.36056, abs=1e-5)
    assert port.centre == pytest.approx((LENGTH - 0.1, 0.15, HEIGHT - DROP + 0.2 / 3.0), abs=1e-5)


def test_a_duct_that_leans_up_a_slope_as_far_as_the_slope_lies_back_stands_upright() -> None:
    """And leaning down it by the rest of a right angle, it lies level."""
    pitch = degrees(atan2(DROP, RUN))
    for slant, want in ((pitch, (0.0, 0.0, 1.0)), (pitch - 90.0 + 0.0, (1.0, 0.0, 0.0))):
        made_here = made(outlet=mouth("right slope", "180 mm", f"{slant:.6f} deg"))
        assert stub(made_here.prism, made_here.prism.ports[1]).axis == pytest.approx(want, abs=1e-6)
    with_left = made(
        right_slope='{ run = "0.1 m", drop = "0.1 m" }',
        left_slope='{ run = "0.3 m", drop = "0.2 m" }',
        linings='[{ face = "floor", thickness = "50 mm" }]',
        inlet=mouth("left slope", "180 mm", f"{pitch:.6f} deg"),
    )
    assert stub(with_left.prism, with_left.prism.ports[0]).axis == pytest.approx((0.0, 0.0, 1.0), abs=1e-6)


def test_on_its_way_out_a_duct_leans_up_an_end_and_else_to_the_right() -> None:
    up = made(inlet=mouth("left", "120 mm", "30 deg"))
    along = made(inlet=mouth("front", "150 mm", "-45 deg"))
    assert stub(up.prism, up.prism.ports[0]).axis == pytest.approx((-cos(radians(30)), 0.0, 0.5))
    assert stub(along.prism, along.prism.ports[0]).axis == pytest.approx((-sqrt(0.5), -sqrt(0.5), 0.0))


def test_the_lining_is_cut_away_in_line_with_the_duct() -> None:
    """50 mm deep at 30 degrees, the way in comes 50 tan 30 = 28.9 mm lower; its hole is 125/cos 30 high."""
    way_in = made(inlet=mouth("left", "120 mm", "30 deg")).prism.regions[-2]
    face, deep = ([z for x, z in way_in.polygon if x == pytest.approx(at)] for at in (0.0, 0.05))
    assert max(face) - min(face) == pytest.approx(0.125 / cos(radians(30)))
    assert np.mean(face) - np.mean(deep) == pytest.approx(0.02887, abs=1e-5)


def test_the_hole_weighs_less_the_more_the_duct_leans() -> None:
    """At 60 degrees twice the duct's section is cut out."""
    square, leaning = (built(boxed("roof", inlet=mouth("left", "125 mm", slant))) for slant in ("0 deg", "59.999 deg"))
    lighter = box_mass(square.build, square.layout).shell - box_mass(leaning.build, leaning.layout).shell
    hole = np.pi / 4.0 * 0.125**2 * buildup.surface_mass(square.build.layers("left"))
    assert lighter == pytest.approx(hole, rel=1e-3)


def test_air_turns_at_a_slant_as_in_a_mitred_bend() -> None:
    """SMACNA table A-7C: C = 0.34 at 45 degrees on the velocity pressure in the duct."""
    leaning = built(boxed("roof", inlet=mouth("left", "120 mm", "45 deg")))
    lines = leaning.pressure_lines(0.03, STANDARD)
    speed = 0.03 / (np.pi / 4.0 * 0.125**2)
    assert lines["slant of the inlet"] == pytest.approx(0.34 * STANDARD.density * speed**2 / 2.0, rel=1e-3)
    assert "slant of the outlet" not in lines
    square = built(boxed("roof"))
    assert leaning.pressure_loss(0.03, STANDARD) > square.pressure_loss(0.03, STANDARD)


def test_its_field_is_solved_with_its_slant() -> None:
    """A hair off square sounds as square; at 40 degrees something else is heard, and no energy is made."""
    square, hair, leaning = (
        box_field(part.build, part.section, STANDARD, 0.06, cases=CASES[:2])
        for part in (
            built(boxed("roof", inlet=mouth("left", "120 mm", slant))) for slant in ("0 deg", "0.02 deg", "40 deg")
        )
    )
    told_of = slice(9, 45)
    assert np.abs(square.loss - hair.loss)[told_of].max() < 0.1
    assert np.abs(square.loss - leaning.loss)[told_of].max() > 0.1
    assert (leaning.loss[told_of] > 0.0).all()


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"inlet": mouth("left", "120 mm", "61 deg")}, "put a bend before the box"),
        ({"inlet": mouth("left", "70 mm", "45 deg")}, "reaches off the left"),
        ({"inlet": mouth("left slope", "70 mm")}, "there is no left slope"),
        ({"outlet": mouth("right slope", "30 mm")}, "reaches off the right slope"),
        (
            {"outlet": mouth("right slope", "120 mm"), "inlet": mouth("right slope", "200 mm")},
            "overlap on the right slope",
        ),
        (
            {
                "dividers": '[{ from = ["550 mm", "100 mm"], to = ["568 mm", "450 mm"] }]',
                "outlet": mouth("right slope", "180 mm"),
            },
            "meets the divider",
        ),
        (
            {"inlet": mouth("left", "325 mm", "59.9 deg"), "outlet": mouth("ceiling", "125 mm", "-59.9 deg")},
            "lean into one another",
        ),
    ],
)
def test_what_cannot_be_built_is_refused(changed: dict[str, str], words: str) -> None:
    assert words in told(**changed)


@pytest.mark.parametrize("at", ["20 mm", "430 mm"])
def test_the_place_that_is_named_for_a_leaning_duct_can_be_taken(at: str) -> None:
    low, high = re.findall(r"between ([\d.]+) mm and ([\d.]+) mm", told(inlet=mouth("left", at, "40 deg")))[0]
    for place in (low, high):
        made(inlet=mouth("left", f"{place} mm", "40 deg"))
