"""What must hold for losses whatever the numbers: signs, steadiness, round trips, limits."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.physics.air.areas import sudden_contraction, sudden_expansion, tapered
from sordino.physics.air.bends import (
    flexible_bend,
    mitred_rectangular,
    pleated_round,
    smooth_rectangular,
    smooth_round,
)
from sordino.physics.air.branches import diverging_branch, diverging_run
from sordino.physics.air.dampers import blade_angle, blade_damper
from sordino.physics.air.filters import filter_drop
from sordino.physics.air.friction import friction_drop, friction_factor, velocity_pressure
from sordino.physics.air.grilles import bar_grille, egg_crate, perforated_face
from sordino.physics.air.leakage import coefficient_at, leakage_drop
from sordino.physics.air.properties import STANDARD, Air, air_at

FLOWS = st.floats(1e-7, 2.0)
BORES = st.floats(0.05, 0.5)
ROUGH = st.floats(0.0, 2e-3)


def drop(flow: float, bore: float, rough: float) -> float:
    """Pa along 3 m of round duct."""
    return float(friction_drop(flow, math.pi / 4 * bore**2, bore, 3.0, rough, STANDARD))


@given(FLOWS, st.floats(1.0001, 3.0), BORES, ROUGH)
def test_friction_is_odd_and_rises_with_flow(flow: float, more: float, bore: float, rough: float) -> None:
    """Also through the change from laminar to turbulent flow."""
    assert drop(-flow, bore, rough) == -drop(flow, bore, rough)
    assert drop(flow * more, bore, rough) > drop(flow, bore, rough)


def test_friction_has_no_step_and_no_flow_has_no_drop() -> None:
    """The factor meets both laws at its ends; arrays give what numbers give."""
    for reynolds in (2000.0, 4000.0):
        below, above = friction_factor(reynolds - 1e-6, 1e-3), friction_factor(reynolds + 1e-6, 1e-3)
        assert below == pytest.approx(above, rel=1e-6)
    assert drop(0.0, 0.2, 1e-4) == 0.0
    flows = np.array([-0.1, 0.0, 1e-4, 0.002, 0.1])
    many = friction_drop(flows, math.pi / 400, 0.2, 3.0, 1e-4, STANDARD)
    assert many == pytest.approx([friction_drop(q, math.pi / 400, 0.2, 3.0, 1e-4, STANDARD) for q in flows])
    assert friction_factor(0.0, 0.0) == math.inf


@given(FLOWS, st.floats(1e-6, 1e-2), st.floats(0.5, 1.0))
def test_leakage_runs_both_ways(flow: float, coefficient: float, exponent: float) -> None:
    """Drop undoes flow, both are odd, and one reading gives the coefficient back."""
    pascals = leakage_drop(flow, coefficient, exponent)
    assert coefficient * pascals**exponent == pytest.approx(flow, rel=1e-9)
    assert leakage_drop(-flow, coefficient, exponent) == -pascals
    assert coefficient_at(flow, pascals, exponent) == pytest.approx(coefficient, rel=1e-9)
    many = leakage_drop(np.array([flow, -flow, 0.0]), coefficient, exponent)
    assert many == pytest.approx([pascals, -pascals, 0.0])


@given(st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_closing_a_grille_never_helps(one: float, other: float) -> None:
    """Less free area means more loss, none is lost by a face that is all free."""
    less, more = sorted((one, other))
    for face in (perforated_face, egg_crate, bar_grille):
        assert face(less) >= face(more)
    assert perforated_face(1.0) == 0.0
    assert bar_grille(1.0) == 0.0
    assert egg_crate(1.0, 1.0) == pytest.approx(0.02)


@given(st.floats(0.0, 180.0), st.floats(0.0, 180.0), st.floats(0.5, 3.0))
def test_turning_further_costs_more(one: float, other: float, radius: float) -> None:
    """Every bend rises with its angle, and an unturned duct loses nothing."""
    less, more = sorted((one, other))
    bends: tuple[Callable[[float], Any], ...] = (
        lambda a: smooth_round(radius, a),
        lambda a: pleated_round(0.22, a),
        lambda a: smooth_rectangular(radius, 1.3, a),
        lambda a: flexible_bend(a, radius),
        lambda a: mitred_rectangular(a, 0.2, 0.3, 3e4),
    )
    for bend in bends:
        assert 0.0 == bend(0.0) <= bend(less) <= bend(more) + 1e-12


@given(st.floats(0.05, 1.0), st.floats(5.0, 180.0))
def test_area_changes_stay_between_nothing_and_everything(ratio: float, angle: float) -> None:
    """No change loses nothing; a taper down never beats a sharp step by more than the step itself."""
    assert sudden_expansion(1.0, 1.0) == 0.0
    assert sudden_contraction(1.0, 1.0) == pytest.approx(0.0)
    assert tapered(1.0, 1.0, angle) == pytest.approx(0.0, abs=1e-12)
    assert 0.0 <= tapered(1.0, ratio, angle) <= sudden_contraction(1.0, ratio) + 1e-12
    assert 0.0 <= tapered(ratio, 1.0, angle) < 1.4


@given(st.floats(0.01, 3.0), st.floats(0.0, 90.0))
def test_a_branch_at_a_slant_beats_a_square_one(ratio: float, angle: float) -> None:
    """A smaller angle never costs more, and a run at the main's speed costs nothing."""
    assert 0.0 <= diverging_branch(ratio, 1.0, angle) <= diverging_branch(ratio, 1.0, 90.0) + 1e-12
    assert diverging_run(2.0, 2.0) == 0.0


@given(st.floats(0.0, 70.0))
def test_damper_angle_undoes_its_coefficient(angle: float) -> None:
    """Round and rectangular."""
    assert blade_angle(blade_damper(angle)) == pytest.approx(angle, abs=1e-6)
    square = blade_damper(angle, "rectangular")
    assert blade_angle(square, "rectangular") == pytest.approx(angle, abs=1e-6)


@given(st.floats(0.01, 5.0), st.floats(1.0, 1.6))
def test_a_filter_is_odd_and_dirt_multiplies(speed: float, exponent: float) -> None:
    """At the rated speed the rated drop."""
    assert filter_drop(-speed, 1.2, 25.0, exponent) == -filter_drop(speed, 1.2, 25.0, exponent)
    assert filter_drop(1.2, 1.2, 25.0, exponent, 2.5) == pytest.approx(62.5)


@given(st.floats(0.0, 4000.0), st.floats(10.0, 900.0), st.floats(-20.0, 45.0), st.floats(0.0, 1.0))
def test_higher_warmer_and_moister_air_is_lighter(
    altitude: float, climb: float, temperature: float, humidity: float
) -> None:
    """And velocity pressure falls with it."""
    here = air_at(temperature, humidity, altitude)
    for other in (
        air_at(temperature, humidity, altitude + climb),
        air_at(temperature + 5.0, humidity, altitude),
    ):
        assert other.density < here.density
        assert velocity_pressure(3.0, other) < velocity_pressure(3.0, here)
    assert air_at(temperature, 0.0, altitude).density >= here.density
    assert here != Air()


@given(st.floats(-10.0, 200.0), st.floats(0.1, 10.0))
def test_tables_read_alike_for_numbers_and_arrays(angle: float, aspect: float) -> None:
    """Inside a table, on its rows and beyond its ends."""
    one = mitred_rectangular(angle, aspect, 1.0, 3e4)
    many = mitred_rectangular(np.array([angle, 90.0]), np.array([aspect, 1.0]), 1.0, 3e4)
    assert many == pytest.approx([one, 1.2 * 1.19])
    assert smooth_round(np.array([aspect]), angle)[0] == pytest.approx(smooth_round(aspect, angle))
