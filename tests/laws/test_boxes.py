"""Laws that every lined box obeys as it is stated: passive, reciprocal, more of what loses sound loses more of it."""

from __future__ import annotations

from typing import Any

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sordino.bands import LINES, Array
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_field import CASES, BoxField, Case, box_field
from sordino.elements.box_walls import face_sides, first_cavity_mode, let_out, panel_share, wall
from sordino.elements.built_box import BuiltBox
from sordino.errors import Refusal
from sordino.physics.air.properties import STANDARD
from sordino.physics.sound.leaf_waves import first_mode
from sordino.quantities import Size

COARSE = 0.1
"""Laws hold on any grid; this one is quick, m."""
BASIS = 1e-5
"""What the reduced basis may be off by in a share of power."""
DEEP = 90.0
"""Where a four-pole's terms grow so large that rounding shows in its determinant, dB."""
DUCT = Size.circle(0.125)
MADE = settings(max_examples=10, deadline=None)
FEW = settings(max_examples=5, deadline=None)
PLY: dict[str, Any] = {"board": "plywood", "thickness": "12 mm"}
LIMP: dict[str, Any] = {"board": "steel sheet", "thickness": "0.5 mm"}
"""3.9 kg/m2 that add a thousandth to the stiffness of plywood."""
FOLDED = {"serpentine": (0.42, 0.6), "labyrinth": (0.4, 0.55), "shallow": (0.16, 0.2)}
"""Heights in which two passes of each family fit, m; a shallow box has its passes side by side."""
WHOLE = st.floats(0.0, 1.0)


def between(low: float, high: float, share: float) -> float:
    """A whole number of centimetres, so that what is drawn reads like a drawing."""
    return round(low + (high - low) * share, 2)


@st.composite
def folded(draw: st.DrawFn) -> dict[str, Any]:
    """Two passes, with flexible duct or open."""
    family = draw(st.sampled_from(sorted(FOLDED)))
    width = (0.45, 0.55) if family == "shallow" else (0.2, 0.35)
    return {
        "family": family,
        "length": between(0.55, 0.8, draw(WHOLE)),
        "width": between(*width, draw(WHOLE)),
        "height": between(*FOLDED[family], draw(WHOLE)),
        "lining": 0.025,
        "core": draw(st.sampled_from([None, "0.1 kg/m2"])) if family == "serpentine" else None,
    }


@st.composite
def single(draw: st.DrawFn) -> dict[str, Any]:
    """One lined passage or chamber."""
    family = draw(st.sampled_from(["straight", "plenum"]))
    side = (0.25, 0.35) if family == "straight" else (0.35, 0.5)
    sides = {
        name: between(*side, draw(WHOLE)) if name != "length" else between(0.4, 0.9, draw(WHOLE))
        for name in ("length", "width", "height")
    }
    return {"family": family, **sides, "passes": 1, "lining": draw(st.sampled_from([0.025, 0.05]))}


@st.composite
def stated(draw: st.DrawFn) -> dict[str, Any]:
    """A box in full: under a roof or not, a divider from floor or ceiling, one to three faces lined."""
    length, height = between(0.6, 0.8, draw(WHOLE)), between(0.4, 0.55, draw(WHOLE))
    tall, up = draw(st.sampled_from([0.15, 0.2])), draw(st.booleans())
    ends = (height - tall, height) if up else (0.0, tall)
    faces = draw(st.lists(st.sampled_from(["floor", "front", "back", "ceiling"]), min_size=1, max_size=3, unique=True))
    slope = {"run": 0.2, "drop": 0.1} if draw(st.booleans()) else None
    return {
        "family": "custom",
        "length": length,
        "width": between(0.3, 0.4, draw(WHOLE)),
        "height": height,
        "right_slope": slope,
        "inlet": {"face": "left", "along": 0.15},
        "outlet": draw(st.sampled_from([{"face": "floor", "along": length - 0.15}, {"face": "right", "along": 0.15}])),
        "dividers": [{"from": [0.3, ends[0]], "to": [0.318, ends[1]]}],
        "linings": [{"face": face, "thickness": 0.03} for face in faces],
    }


BOXES = st.one_of(folded(), single(), stated())
DENSITIES = st.sampled_from(["12 kg/m3", "24 kg/m3", "60 kg/m3"])
ONE_CASE = st.sampled_from(CASES)


def box_of(values: dict[str, Any]) -> Box:
    """The box of such values, lengths in m."""
    return Box.model_validate(written(values))


def written(value: Any) -> Any:
    """Bare numbers as a file has lengths."""
    if isinstance(value, dict):
        return {key: written(each) for key, each in value.items()}
    if isinstance(value, list):
        return [written(each) for each in value]
    return f"{1e3 * value:.7g} mm" if isinstance(value, float) else value


def solved(values: dict[str, Any], case: Case = CASES[0], **changed: Any) -> tuple[Box, BoxField]:
    """A box and its field in one bracket; a draw that can't be laid out is left."""
    box = box_of(values | changed)
    try:
        return box, box_field(box, DUCT, STANDARD, COARSE, cases=(case,))
    except Refusal:
        assume(False)
        raise


def loss(values: dict[str, Any], **changed: Any) -> Array:
    """Loss between matched ducts at the lines of the field, dB."""
    return solved(values, **changed)[1].loss


@MADE
@given(BOXES, DENSITIES, ONE_CASE)
def test_no_box_gains_either_way_and_both_ways_pass_alike(values: dict[str, Any], density: str, case: Case) -> None:
    """What is sent back and what passes are no more than what arrives; a reciprocal four-pole has determinant 1."""
    _, field = solved(values, case, fill={"density": density})
    passed = 10.0 ** (-field.losses[0] / 10.0)
    assert (field.reflected + passed[:, None]).max() <= 1.0 + BASIS
    assert (field.losses[0] >= -BASIS).all()
    told = field.losses[0] < DEEP
    assert np.abs(np.linalg.det(field.pole) - 1.0)[told].max() < 1e-6


@MADE
@given(BOXES, st.sampled_from(["3 mm", "12 mm", "25 mm"]))
def test_the_casing_lets_out_no_more_than_goes_in(values: dict[str, Any], board: str) -> None:
    """Not even the lightest casing in resonance; so breakout is a loss, and break-in its mirror by reciprocity.

    A diffuse field around sends <p^2>/(rho c) (c/f)^2/4 pi into a duct at the most.
    """
    box, field = solved(values, shell=[{"board": "plywood", "thickness": board}])
    out = let_out(box, DUCT, field)[:, : field.frequency.size]
    assert (out > 0.0).all()
    assert (out <= np.maximum(1.0 - field.reflected.T, 1e-3) + 1e-9).all()
    found = wall(box, DUCT, field, 0.05)
    assert (found.breakout >= -1e-9).all()
    caught = 10.0 * np.log10(found.outer_area / 4.0) - found.breakin - 3.0
    whole = [np.mean((343.2 / LINES[i * 9 : i * 9 + 9]) ** 2) / (4.0 * np.pi) for i in range(9)]
    assert (caught <= 10.0 * np.log10(whole) + 1e-9).all()


@MADE
@given(BOXES, st.sampled_from([PLY, PLY | {"thickness": "25 mm"}]), st.integers(1, 6))
def test_limp_mass_only_raises_breakout_loss(values: dict[str, Any], board: dict[str, Any], sheets: int) -> None:
    """Stiffness as it was, for every face above twice its first mode and below half its coincidence frequency."""
    box, field = solved(values, shell=[board])
    heavier = box_of(values | {"shell": [board, *[LIMP] * sheets]})
    leaf = buildup.leaves(box.shell)[0]
    lowest = max(first_mode(leaf, face_sides(box, face)) for face in field.faces)
    known = (LINES > 2.0 * lowest) & (leaf.critical_frequency / 2.0 > LINES)
    light, heavy = (let_out(each, DUCT, field)[:, known] for each in (box, heavier))
    assert (heavy <= light * (1.0 + 1e-9)).all()


@MADE
@given(BOXES, st.sampled_from(["6 mm", "18 mm"]), st.floats(0.0, 4000.0))
def test_panel_and_diffuse_field_hand_over_without_a_jump(values: dict[str, Any], board: str, load: float) -> None:
    """From one line to the next a face steps by no more than either way of reckoning, and a ninth of their gap."""
    box = box_of(values | {"shell": [{"board": "plywood", "thickness": board}]})
    for face in ("front", "left", "floor"):
        sides = face_sides(box, face)
        pushed = np.minimum(buildup.pushed_panel(box.shell, sides).share(load), 1.0)
        diffuse = 10.0 ** (-buildup.loss_at_lines(box.shell, sides) / 10.0) / 4.0
        first, second, both = (10.0 * np.log10(each) for each in (pushed, diffuse, panel_share(box, face, load)))
        steps = np.maximum(np.abs(np.diff(first)), np.abs(np.diff(second)))
        gap = np.maximum(np.abs(first - second)[1:], np.abs(first - second)[:-1])
        assert (np.abs(np.diff(both)) <= steps + np.log2(LINES[1] / LINES[0]) * gap + 1e-9).all()
        assert ((both >= np.minimum(first, second) - 1e-9) & (both <= np.maximum(first, second) + 1e-9)).all()
        low, high = first_cavity_mode(box), 2.0 * first_cavity_mode(box)
        np.testing.assert_array_equal(both[low > LINES], first[low > LINES])
        np.testing.assert_allclose(both[high <= LINES], second[high <= LINES])


@FEW
@given(single(), st.sampled_from([0.02, 0.03, 0.04]), st.sampled_from([1.5, 2.0]))
def test_thicker_lining_round_the_same_passage_takes_more(values: dict[str, Any], thin: float, ratio: float) -> None:
    """Mean loss from 63 Hz to 500 Hz of a straight box, to 0.5 dB.

    Theory says so for a bulk lining through whose depth sound still reaches (flow resistivity times depth under three
    times rho c, here under 1): the passage is as it was, the chamber round it larger and with more fibre. Single dips
    may deepen.
    """
    passage, length = 0.16, values["length"]
    thick = thin * ratio
    sides = [
        {"lining": lining, "width": passage + 2.0 * lining, "height": passage + 2.0 * lining}
        for lining in (thin, thick)
    ]
    first, second = (loss({"family": "straight", "passes": 1, "length": length}, **each) for each in sides)
    count = min(first.size, second.size)
    heard = (LINES[:count] > 44.0) & (LINES[:count] < 707.0)
    assert np.mean(second[:count][heard]) > np.mean(first[:count][heard]) - 0.5


@FEW
@given(single(), st.floats(1.1, 1.8))
def test_a_longer_straight_lined_box_takes_more(values: dict[str, Any], ratio: float) -> None:
    """Mean loss over the field's range, to 0.5 dB; single lines move with the standing waves along it."""
    values = values | {"family": "straight", "width": 0.28, "height": 0.28}
    short, long = (loss(values, length=round(length, 3)) for length in (values["length"], ratio * values["length"]))
    assert np.mean(long) > np.mean(short) - 0.5


@FEW
@given(single(), ONE_CASE)
def test_a_box_alike_from_both_ends_has_a_symmetric_two_port(values: dict[str, Any], case: Case) -> None:
    """A straight passage, and a chamber with mouths offset each its own way, look alike from inlet and outlet.

    The passage to the basis's own error; the chamber below 500 Hz to two hundredths, as a coarse grid may lie unlike at
    floor and top.
    """
    _, field = solved(values, case)
    straight = values["family"] == "straight"
    within, known = BASIS if straight else 0.02, (field.frequency < 500.0) | straight
    np.testing.assert_allclose(field.reflected[known, 0], field.reflected[known, 1], atol=within)
    first, last = field.pole[known, 0, 0], field.pole[known, 1, 1]
    assert (np.abs(first - last) <= 1e2 * within * np.hypot(1.0, np.abs(first)))[field.loss[known] < DEEP].all()


@FEW
@given(stated(), st.sampled_from(["left_slope", "right_slope"]), st.floats(0.05, 0.3))
def test_a_slope_that_cuts_nothing_changes_nothing(values: dict[str, Any], side: str, run: float) -> None:
    """A slope that comes down by a tenth of a millimetre: the same loss and the same pressure on the floor.

    Loss to 0.3 dB below 300 Hz: the grid sets lines of cells where the slope begins and ends, and is finer for it.
    """
    plain = values | {"right_slope": None}
    plain |= {"linings": [{"face": "floor", "thickness": 0.03}]}
    (_, first), (_, second) = (solved(plain | {side: cut}) for cut in (None, {"run": round(run, 2), "drop": 1e-4}))
    count = int(np.sum(first.frequency < 300.0))
    np.testing.assert_allclose(second.loss[:count], first.loss[:count], atol=0.3)
    np.testing.assert_allclose(second.faces["floor"][1][:count], first.faces["floor"][1][:count], rtol=0.1)


@MADE
@given(BOXES, st.floats(0.005, 0.08), st.floats(1.01, 3.0))
def test_more_air_costs_more_pressure(values: dict[str, Any], flow: float, ratio: float) -> None:
    """Every line of the ledger, and the whole; nothing without flow, and the same either way."""
    part = BuiltBox.model_validate({"is": "lined box", "box": "a", "size": "125 mm", "build": box_of(values)})
    try:
        little, much = (part.pressure_lines(each, STANDARD) for each in (flow, ratio * flow))
    except Refusal:
        assume(False)
        raise
    assert all(much[line] >= little[line] for line in little)
    assert sum(much.values()) > sum(little.values()) > 0.0
    assert part.pressure_loss(0.0, STANDARD) == 0.0
    assert part.pressure_loss(-flow, STANDARD) == part.pressure_loss(flow, STANDARD)
