"""Laws of sound on its way through ducts: reciprocity, no gain, and no change from cutting a part in two."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from small import between, transfer
from sordino.assess.carriage import Carriage, carriage
from sordino.assess.routes import Route, routes
from sordino.assess.stations import Stations
from sordino.bands import LINES
from sordino.physics.air.properties import STANDARD
from sordino.physics.sound import fourpole
from sordino.plan.statement import Plan

PARTS = st.lists(
    st.sampled_from(
        [
            '{ is = "metal duct", length = "1.3 m" }',
            '{ is = "metal duct", length = "0.7 m", lining = "25 mm" }',
            '{ is = "flexible duct", length = "2 m", pull = "tight" }',
            '{ is = "bend", shape = "smooth" }',
            '{ is = "bend", shape = "mitred", lined = true }',
            '{ is = "transition", to = "200 mm", length = "0.2 m" }, { is = "transition", to = "160 mm" }',
            '{ is = "damper", angle = "20 deg" }',
            '{ is = "silencer", length = "1 m", loss = [3, 6, 9, 20, 25, 20, 14, 9], drop = "9 Pa", at = "60 L/s" }',
        ]
    ),
    min_size=1,
    max_size=6,
)


def way(plan: Plan, start: str, end: str) -> Carriage:
    """The carriage between two places of a plan by the run `way`."""
    chosen = [r for r in routes(plan) if (r.start.place, r.end.place) == (start, end) and r.name() == "way"]
    assert len(chosen) == 1
    return carriage(Stations(plan, STANDARD), chosen[0])


@settings(max_examples=60, deadline=None)
@given(parts=PARTS, opening=st.sampled_from(["160 mm", "300 x 200 mm"]))
def test_a_cascade_is_the_same_both_ways(parts: list[str], opening: str) -> None:
    """From room to room below cut-on, whatever lies between and however the openings differ."""
    plan = transfer(", ".join([*parts, f'{{ is = "grille", face = "bar", opening = "{opening}" }}']))
    there, back = way(plan, "there", "here"), way(plan, "here", "there")
    plane = slice(1, 4)
    assert there.plane_up_to > 400.0
    np.testing.assert_allclose(there.total[plane], back.total[plane], atol=1e-6)


@settings(max_examples=60, deadline=None)
@given(parts=PARTS)
def test_a_passive_path_never_gains(parts: list[str]) -> None:
    """Power never rises from plane to plane, nor from the fan to the room, in any band or line."""
    carried = way(between(", ".join(parts)), "fan", "there")
    assert np.all(carried.drops[:, 1:] >= -1e-9)
    assert np.all(carried.total[1:] <= 1e-9)
    assert np.all(carried.entering[1:] <= 1e-9)


@settings(max_examples=40, deadline=None)
@given(length=st.floats(0.2, 20.0), share=st.floats(0.1, 0.9), kind=st.sampled_from(["", ', lining = "25 mm"']))
def test_cutting_a_duct_in_two_changes_nothing(length: float, share: float, kind: str) -> None:
    """One length of duct and the same length in two pieces carry alike."""
    piece = '{{ is = "metal duct", length = "{:.6f} m"{} }}'
    first = round(length * share, 6)
    whole = way(between(piece.format(length, kind)), "fan", "there")
    halves = way(between(f"{piece.format(first, kind)}, {piece.format(length - first, kind)}"), "fan", "there")
    np.testing.assert_allclose(halves.total[1:], whole.total[1:], atol=1e-4)


@settings(max_examples=30, deadline=None)
@given(more=st.floats(0.1, 10.0))
def test_longer_never_lets_more_through(more: float) -> None:
    """A longer lined duct loses at least as much above cut-on, where nothing resonates."""
    piece = '{{ is = "metal duct", length = "{:.4f} m", lining = "25 mm" }}'
    short, long = (way(between(piece.format(length)), "fan", "there") for length in (1.0, 1.0 + more))
    high = slice(6, 9)
    assert np.all(long.total[high] <= short.total[high] + 1e-9)


def test_the_shares_of_the_available_power_match_the_closed_form() -> None:
    """A chamber between matched ducts transmits what 10 lg[1 + (m - 1/m)^2 sin^2(kL)/4] takes away."""
    f, ratio, length = np.array([63.0, 100.0, 200.0, 317.0]), 5.3, 0.6
    z = fourpole.characteristic_impedance(0.02, STANDARD.density, STANDARD.sound_speed)
    chamber = fourpole.lossy_line(f, length, 0.02 * ratio, 0.0, STANDARD.density, STANDARD.sound_speed)
    passed = fourpole.transmission([chamber], np.full(f.shape, z + 0j), z).power[-1]
    k = 2 * np.pi * f / STANDARD.sound_speed
    wanted = 1.0 + 0.25 * (ratio - 1.0 / ratio) ** 2 * np.sin(k * length) ** 2
    np.testing.assert_allclose(passed, 1.0 / wanted, rtol=1e-12)


def test_a_side_branch_takes_its_share() -> None:
    """Three equal matched ducts at a point: 1/9 is reflected, 4/9 goes into each onward arm."""
    z = fourpole.characteristic_impedance(0.02, STANDARD.density, STANDARD.sound_speed)
    pole = fourpole.shunt(np.full(LINES.shape, 1.0 / z, dtype=complex))
    passed = fourpole.transmission([pole], np.full(LINES.shape, z + 0j), z)
    np.testing.assert_allclose(passed.power[-1], 4.0 / 9.0)
    np.testing.assert_allclose(passed.power[0], 8.0 / 9.0)


def test_every_pole_is_reciprocal() -> None:
    """The determinant of each four-pole is one, met from either end."""
    line = fourpole.lossy_line(LINES, 1.7, 0.03, 4.0, 1.2, 343.0)
    for pole in (line, fourpole.reversed_pole(line), fourpole.shunt(1e-3 + 1j / LINES)):
        np.testing.assert_allclose(np.linalg.det(pole), 1.0, rtol=1e-9)


@pytest.mark.parametrize("reverse", [False, True])
def test_a_reversed_route_passes_the_same_stations(reverse: bool) -> None:
    """Going back meets the same parts in the other order."""
    plan = transfer('{ is = "metal duct", length = "1 m" }, { is = "bend" }, { is = "flexible duct", length = "1 m" }')
    labels = [s.label for s in way(plan, *(("here", "there") if reverse else ("there", "here"))).stations]
    assert labels == (["flexible duct", "bend", "metal duct"] if reverse else ["metal duct", "bend", "flexible duct"])


def test_routes_join_every_pair_of_ends_once() -> None:
    """Each run between two ends is one route each way."""
    plan = transfer('{ is = "metal duct", length = "1 m" }')
    found: list[Route] = list(routes(plan))
    assert len({(r.start, r.end, r.name()) for r in found}) == len(found)
    assert sorted(r.name() for r in found) == sorted(["draw", "draw", "back", "back", "way", "way"])
