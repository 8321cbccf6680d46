"""Fan curves and their crossings, whatever the points."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.errors import OutOfRange
from sordino.physics.air.crossings import crossings_on
from sordino.physics.air.fan import FanCurve

HUMPED = FanCurve((0.0, 0.02, 0.05, 0.08, 0.12), (40.0, 30.0, 45.0, 38.0, 0.0))


@st.composite
def curves(draw: st.DrawFn) -> FanCurve:
    """Curves of three to seven points whose last segment falls to a small share of the one before."""
    count = draw(st.integers(3, 7))
    gaps = draw(st.lists(st.floats(0.005, 0.05), min_size=count, max_size=count))
    tops = draw(st.lists(st.floats(5.0, 100.0), min_size=count, max_size=count))
    return FanCurve(tuple(np.cumsum(gaps).tolist()), (*tops[:-1], 0.2 * tops[-2]))


@given(curves(), st.floats(0.0, 0.5))
def test_a_curve_reads_alike_for_numbers_and_arrays(curve: FanCurve, flow: float) -> None:
    """Through its points, held below them, continued beyond them through zero."""
    assert curve.pressure(np.array([flow]))[0] == pytest.approx(curve.pressure(flow), abs=1e-9)
    assert [curve.pressure(q) for q in curve.flows] == pytest.approx(list(curve.pressures))
    assert curve.pressure(-1.0) == curve.pressures[0]
    assert curve.pressure(curve.free_flow) == pytest.approx(0.0, abs=1e-9)
    assert curve.pressure(curve.free_flow + 0.1) < 0.0
    assert curve.extended_low(0.0)
    assert curve.extended_high(curve.flows[-1] + 0.01)
    assert not curve.extended_low(curve.flows[0])


@given(curves(), st.floats(1e2, 1e6), st.floats(0.0, 30.0))
def test_every_crossing_is_found_and_alternates(curve: FanCurve, k: float, head: float) -> None:
    """Each change of sign on the grid; the first and last are stable where the fan starts above the system."""

    def system(flow: float) -> float:
        return head + k * flow**2

    flows = np.linspace(0.0, 0.6, 601)
    found = crossings_on(flows.tolist(), curve.pressure, system)
    signs = np.signbit(head + k * flows**2 - curve.pressure(flows))
    assert len(found) == int(np.count_nonzero(signs[1:] != signs[:-1]))
    for point in found:
        assert system(point.flow) == pytest.approx(point.pressure, abs=1e-6)
    stabilities = [point.stable for point in found]
    assert all(a != b for a, b in pairwise(stabilities))
    if signs[0]:
        assert stabilities[0]
        assert stabilities[-1]


def test_a_hump_crosses_three_times() -> None:
    """A flat 38.5 Pa system: once falling, once rising (unstable), once falling."""
    found = crossings_on(np.linspace(0.0, 0.2, 41).tolist(), HUMPED.pressure, lambda _: 38.5)
    assert [point.stable for point in found] == [True, False, True]
    assert found[1].flow == pytest.approx(0.02 + 0.03 * 8.5 / 15)
    assert HUMPED.humped
    assert not FanCurve((0.1, 0.2), (5.0, 1.0)).humped


@given(curves(), st.floats(0.3, 1.5), st.floats(0.7, 1.1), st.floats(0.0, 0.4))
def test_fan_laws_compose(curve: FanCurve, ratio: float, density: float, flow: float) -> None:
    """Speed there and back is no change, and a point moves by n and n squared."""
    there = curve.at_speed(ratio, density)
    assert there.pressure(ratio * flow) == pytest.approx(ratio**2 * density * curve.pressure(flow), abs=1e-6)
    assert there.at_speed(1 / ratio, 1 / density).pressures == pytest.approx(curve.pressures)
    assert there.free_flow == pytest.approx(ratio * curve.free_flow)


def test_impossible_curves_are_refused() -> None:
    """One point, flows out of order, a last segment that rises, a fan at no speed."""
    with pytest.raises(OutOfRange, match="two points or more"):
        FanCurve((0.1,), (5.0,))
    with pytest.raises(OutOfRange, match="must rise from point to point"):
        FanCurve((0.1, 0.1), (5.0, 1.0))
    with pytest.raises(OutOfRange, match="last segment of a fan curve must fall"):
        FanCurve((0.1, 0.2), (1.0, 5.0))
    with pytest.raises(OutOfRange, match="speed ratio 0"):
        HUMPED.at_speed(0.0)
