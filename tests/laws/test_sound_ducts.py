"""Laws of everything a duct does to sound: no gain, more length never less loss, energy kept, no jumps."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.physics.sound.bends import bend
from sordino.physics.sound.breakout import (
    effective_length,
    flexible_wall_loss,
    rectangular_breakin_loss,
    rectangular_breakout_loss,
)
from sordino.physics.sound.cut_on import cut_on_round
from sordino.physics.sound.ducts import (
    rectangular_lining,
    rectangular_unlined,
    round_lined,
    round_unlined,
)
from sordino.physics.sound.ends import (
    capture_area,
    end_reflection,
    radiation_impedance,
    reflection_factor,
)
from sordino.physics.sound.flexible import flexible_duct
from sordino.physics.sound.junctions import area_change, branch_split
from sordino.physics.sound.plenum import plenum_wells
from sordino.physics.sound.validity import stretched

sides = st.floats(0.08, 1.5)
bores = st.floats(0.08, 1.6)
lengths = st.floats(0.05, 15.0)
areas = st.floats(0.002, 1.0)
hertz = st.floats(10.0, 12000.0)
fractions = st.floats(0.01, 1.0)


@given(sides, sides, st.floats(0.0, 0.15))
def test_a_rectangular_duct_only_takes(width: float, height: float, thickness: float) -> None:
    """Bare and lined losses are not negative, alike for a turned duct, and 31.5 Hz is not assessed."""
    for loss in (rectangular_unlined(width, height), rectangular_lining(width, height, thickness)):
        assert np.isnan(loss[0])
        assert (loss[1:] >= 0.0).all()
    turned = rectangular_lining(height, width, thickness)
    np.testing.assert_allclose(turned, rectangular_lining(width, height, thickness))


@given(sides, sides, st.floats(0.0, 0.1), st.floats(1.0, 2.0))
def test_thicker_lining_never_takes_less(width: float, height: float, thickness: float, factor: float) -> None:
    """Monotone in thickness, through the ends of the range; nothing without lining."""
    thin, thick = (rectangular_lining(width, height, t)[1:] for t in (thickness, factor * thickness))
    assert (thick >= thin - 1e-9).all()
    np.testing.assert_allclose(rectangular_lining(width, height, 0.0)[1:], 0.0)


@given(bores, st.floats(0.0, 0.1))
def test_a_round_duct_only_takes(diameter: float, thickness: float) -> None:
    """Losses are not negative; without lining it is the bare duct."""
    assert (round_lined(diameter, thickness)[1:] >= 0.0).all()
    np.testing.assert_allclose(round_lined(diameter, 0.0)[1:], round_unlined(diameter)[1:])


@given(bores, lengths, st.floats(1.0, 2.0))
def test_a_longer_flexible_duct_never_takes_less(diameter: float, length: float, factor: float) -> None:
    """Monotone in length, proportional beyond the table."""
    short, long = (flexible_duct(diameter, run)[1:] for run in (length, factor * length))
    assert (short > 0.0).all()
    assert (long >= short - 1e-9).all()
    far = flexible_duct(diameter, [4.0, 8.0])[:, 1:]
    np.testing.assert_allclose(far[1], 2.0 * far[0])


def test_flexible_duct_broadcasts_and_is_nothing_at_no_length() -> None:
    """Shapes (3, 1) and (2,) make (3, 2, 9)."""
    loss = flexible_duct(np.array([[0.1], [0.2], [0.3]]), np.array([0.0, 2.0]))
    assert loss.shape == (3, 2, 9)
    assert (loss[:, 0, 1:] == 0.0).all()


@given(sides, st.sampled_from(["mitred", "vaned", "smooth"]), st.floats(320.0, 360.0))
def test_a_lining_never_makes_a_bend_worse(width: float, shape: Any, c: float) -> None:
    """And no bend gains."""
    bare, lined = bend(width, shape, False, c), bend(width, shape, True, c)
    assert (bare >= 0.0).all()
    assert (lined >= bare).all()


@given(sides, st.floats(320.0, 360.0))
def test_a_bend_knows_only_width_over_wavelength(width: float, c: float) -> None:
    """Width and speed of sound scaled alike change nothing."""
    np.testing.assert_allclose(bend(width, "mitred", True, c), bend(width * 1.37, "mitred", True, c * 1.37))


@given(hertz, areas, st.booleans(), st.floats(320.0, 360.0))
def test_an_open_end_keeps_energy(f: float, area: float, flush: bool, c: float) -> None:
    """What is lost in transmission is what is reflected, and the radiation impedance is resistive in part."""
    r = reflection_factor(f, area, flush, c)
    loss = end_reflection(f, area, flush, c)
    assert abs(r) < 1.0
    np.testing.assert_allclose(1.0 - abs(r) ** 2, 10.0 ** (-loss / 10.0), rtol=1e-6, atol=1e-12)
    assert radiation_impedance(f, area, flush, 1.2, c).real > 0.0


@given(areas, st.booleans())
def test_a_very_long_wave_is_turned_back_upside_down(area: float, flush: bool) -> None:
    """R tends to -1, a short wave's to 0; a free end reflects more than a flush one."""
    assert abs(reflection_factor(1e-3, area, flush) + 1.0) < 1e-4
    assert abs(reflection_factor(1e7, area, flush)) < 1e-3
    assert end_reflection(100.0, area, False) > end_reflection(100.0, area, True)


@given(areas, st.booleans(), st.floats(320.0, 360.0))
def test_capture_has_no_jump(area: float, flush: bool, c: float) -> None:
    """It falls steadily from 2 S (flush; S free) to S/4, and the change of regime lies at the cut-on."""
    f = np.geomspace(1.0, 30000.0, 4000)
    capture = capture_area(f, area, flush, c)
    assert (np.diff(capture) <= 1e-12).all()
    assert (np.abs(np.diff(10.0 * np.log10(capture))) < 0.1).all()
    np.testing.assert_allclose(capture[0], area / (0.49 if flush else 1.0), rtol=0.01)
    np.testing.assert_allclose(capture[-1], area / 4.0)
    join = f[np.argmax(capture <= area / 4.0 * (1.0 + 1e-9))]
    np.testing.assert_allclose(join, cut_on_round(np.sqrt(4.0 * area / np.pi), c), rtol=0.065)


@given(st.lists(areas, min_size=1, max_size=5), areas)
def test_the_branches_together_get_what_is_not_reflected(branches: list[float], main: float) -> None:
    """Sum of powers over branches equals the power passed by the area change; none gets more than all."""
    losses = [branch_split(main, branches, i) for i in range(len(branches))]
    passed = sum(10.0 ** (-loss / 10.0) for loss in losses)
    np.testing.assert_allclose(passed, 10.0 ** (-float(area_change(main, sum(branches))) / 10.0))
    assert min(losses) >= -1e-9


@given(areas, areas)
def test_an_area_change_is_reciprocal(first: float, second: float) -> None:
    """The same loss both ways, none without a change."""
    np.testing.assert_allclose(area_change(first, second), area_change(second, first), atol=1e-12)
    np.testing.assert_allclose(area_change(first, first), 0.0, atol=1e-12)


@given(st.floats(0.01, 0.1), st.floats(0.3, 2.0), st.floats(0.0, 1.5), st.floats(1.0, 6.0), fractions, fractions)
def test_more_absorption_never_makes_a_plenum_worse(
    outlet: float, distance: float, angle: float, surface: float, first: float, second: float
) -> None:
    """Monotone in absorption, never negative."""
    worse, better = (plenum_wells(outlet, distance, angle, surface, a) for a in sorted((first, second)))
    assert 0.0 <= worse <= better + 1e-9


@given(sides, sides, st.floats(3.0, 12.0), st.floats(1.0, 10.0))
def test_a_heavier_duct_wall_passes_no_more(width: float, height: float, mass: float, length: float) -> None:
    """Heavier walls never pass more, and sound never gets in by less loss than out and back allow."""
    loss = rectangular_breakout_loss(width, height, mass, length)
    assert (rectangular_breakout_loss(width, height, 1.3 * mass, length) >= loss - 1e-9).all()
    assert (rectangular_breakin_loss(width, height, mass, length) <= loss + 1e-9).all()


@given(st.floats(0.2, 20.0))
def test_a_limp_wall_follows_its_mass(mass: float) -> None:
    """Not negative, and 6 dB for a doubling where it is well above nothing."""
    light, heavy = flexible_wall_loss(mass), flexible_wall_loss(2.0 * mass)
    assert (light >= 0.0).all()
    assert (heavy >= light).all()
    np.testing.assert_allclose((heavy - light)[light > 15.0], 6.0, atol=0.1)


@given(lengths, st.floats(0.0, 30.0))
def test_an_effective_length_is_never_longer(length: float, loss: float) -> None:
    """Equal without attenuation, bounded by 10/(a ln 10)."""
    ours = effective_length(length, loss)
    assert ours <= length * (1.0 + 1e-12)
    np.testing.assert_allclose(effective_length(length, 0.0), length)
    if loss > 0.1:
        assert ours <= 4.3430 / loss


def test_an_answer_outside_its_table_is_flagged() -> None:
    """An 80 mm flexible duct is below the table, a 150 mm one is not; an unknown quantity is never flagged."""
    (only,) = stretched("flexible duct", diameter=0.08, length=2.0, colour=3.0)
    assert (only.quantity, only.over) == ("diameter", False)
    assert not stretched("flexible duct", diameter=0.15, length=2.0)
    assert not stretched("flexible duct", diameter=0.4 * 1.005, length=2.0), "a nominal size may be rounded"
    assert [each.over for each in stretched("lined round duct", thickness=0.1, diameter=1.6, length=0.5)] == [
        *(True, True, False)
    ]


@pytest.mark.parametrize("shape", [(), (2,), (3, 2)])
def test_sizes_broadcast(shape: tuple[int, ...]) -> None:
    """Leading axes are kept and the bands come last."""
    size = np.full(shape, 0.3)
    for loss in (
        rectangular_unlined(size, 0.2),
        rectangular_lining(size, 0.2, 0.03),
        round_lined(size, 0.03),
        round_unlined(size),
        flexible_duct(size, 2.0),
        bend(size, "vaned", False),
        rectangular_breakout_loss(size, 0.2, 5.0, 2.0),
    ):
        assert loss.shape == (*shape, 9)
