"""Bends: the coefficient of each make is what arrives, and each field moves the answer the right way."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import heads, made, refusal, rises_with_flow, total
from sordino.elements.bend import Bend
from sordino.physics.air.properties import STANDARD, Air

PUBLISHED = [
    # SMACNA HVAC Systems Duct Design, table A-7A (second-hand): smooth, r/D 1.0 and 1.5; note 1: 45 degrees takes 0.60
    ({"shape": "smooth", "radius_ratio": 1.0}, "160 mm", 0.22),
    ({"shape": "smooth", "radius_ratio": 1.5, "angle": "45 deg"}, "315 mm", 0.15 * 0.60),
    # SMACNA table A-7B, five pieces, r/D 1.5 (second-hand)
    ({"shape": "gored", "radius_ratio": 1.5}, "250 mm", 0.24),
    # ASHRAE Fundamentals 2009, CD3-5 and CD3-7: pleated, 200 mm (second-hand)
    ({"shape": "pleated"}, "200 mm", 0.34),
    ({"shape": "pleated", "angle": "45 deg"}, "200 mm", 0.21),
    # SMACNA table A-7C, no Reynolds correction above 140 000 (second-hand)
    ({"shape": "mitred"}, "300 mm", 1.2),
    ({"shape": "mitred", "angle": "60 deg"}, "300 mm", 0.55),
    # ASHRAE CR3-6: mitred, H/W 2 (second-hand)
    ({"shape": "mitred"}, "200 x 400 mm", 1.1),
    # ASHRAE CR3-1: smooth, r/W 0.75, H/W 0.5 (second-hand)
    ({"shape": "smooth", "radius_ratio": 0.75}, "400 x 200 mm", 0.52),
    # ASHRAE, single-thickness vanes (memory)
    ({"shape": "vaned"}, "400 x 200 mm", 0.15),
    # laboratory study of flexible duct bends, 2016 (second-hand)
    ({"shape": "flexible", "radius_ratio": 1.5}, "200 mm", 2.0),
]


@pytest.mark.parametrize(("fields", "size", "coefficient"), PUBLISHED)
def test_the_published_coefficient_arrives(fields: dict[str, object], size: str, coefficient: float) -> None:
    """Pressure lost over velocity pressure, at 9 m/s where no Reynolds number is too small."""
    assert heads(made("bend", size=size, **fields), 9.0) == pytest.approx(coefficient, rel=1e-6)


def test_slow_air_takes_the_reynolds_factor() -> None:
    """SMACNA table A-7 note 2: 1.40 at 10 000 and below; a mitred 160 mm bend at 1 m/s has Re 10 550."""
    assert heads(made("bend", shape="mitred"), 0.9) == pytest.approx(1.2 * 1.40, rel=1e-6)


def test_a_wider_radius_loses_less() -> None:
    """And has the longer way: angle times radius."""
    tight, wide = made("bend", radius_ratio=0.75), made("bend", radius_ratio=2.0)
    assert heads(wide, 5.0) < heads(tight, 5.0)
    assert wide.path_length == pytest.approx(np.pi / 2 * 2.0 * 0.16)


def test_attenuation_goes_by_frequency_times_width() -> None:
    """ASHRAE elbow tables (memory): 400 mm mitred is 15.75 in, 7.9 kHz in at 500 Hz: 8 dB bare, 11 lined, 6 vaned."""
    losses = {
        (shape, lined): made("bend", size="400 x 200 mm", shape=shape, lined=lined).attenuation(STANDARD)
        for shape in ("mitred", "vaned", "smooth")
        for lined in (False, True)
    }
    assert losses["mitred", False][4] == 8.0
    assert losses["mitred", True][4] == 11.0
    assert losses["vaned", False][4] == 6.0
    assert losses["smooth", False][4] == 3.0
    assert np.all(losses["mitred", True] >= losses["mitred", False])


def test_pleats_gores_and_flexible_duct_are_heard_as_smooth() -> None:
    """Sound sees no pleats: the table knows mitred, vaned and smooth only."""
    smooth = made("bend", shape="smooth").attenuation(STANDARD)
    for shape in ("gored", "pleated", "flexible"):
        np.testing.assert_array_equal(made("bend", shape=shape).attenuation(STANDARD), smooth)


def test_half_a_turn_takes_half() -> None:
    """A 45 degree bend is credited with half of the right angle; more than a right angle with no more."""
    right, half, back = (made("bend", shape="mitred", angle=f"{angle} deg") for angle in (90, 45, 135))
    np.testing.assert_allclose(half.attenuation(STANDARD), right.attenuation(STANDARD) / 2.0)
    np.testing.assert_array_equal(back.attenuation(STANDARD), right.attenuation(STANDARD))


def test_own_noise() -> None:
    """Rises with flow by about 50 to 60 lg of speed, and a narrower bend at the same flow is louder."""
    bend = made("bend", shape="mitred")
    assert rises_with_flow(bend)
    slow, fast = (total(bend.own_noise(flow, STANDARD)) for flow in (0.05, 0.10))
    assert 50.0 * np.log10(2.0) <= fast - slow <= 90.0 * np.log10(2.0)
    assert total(made("bend", size="125 mm").own_noise(0.05, STANDARD)) > total(
        made("bend", size="200 mm").own_noise(0.05, STANDARD)
    )


def test_thin_air_costs_less() -> None:
    """A coefficient is on velocity pressure, so the loss goes by density."""
    bend = made("bend")
    thin = Air(density=0.9)
    assert bend.pressure_loss(0.05, thin) / bend.pressure_loss(0.05, STANDARD) == pytest.approx(0.9 / 1.204)


@pytest.mark.parametrize(
    "fields", [{"radius_ratio": 0.4}, {"shape": "kinked"}, {"angle": 90}, {"radius": "0.2 m"}, {"angle": "-45 deg"}]
)
def test_what_no_bend_is(fields: dict[str, object]) -> None:
    """Too tight, of no known make, an angle without its unit, a key that is none."""
    assert next(iter(fields)) in refusal("bend", **fields)


def test_names() -> None:
    """A bend is called by its kind and its name."""
    assert made("bend", name="over the beam").label() == "bend over the beam"
    assert isinstance(made("bend"), Bend)
