"""Metal duct: friction, bare and lined attenuation, wall and noise."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import made, refusal, rises_with_flow, total
from sordino.physics.air.properties import STANDARD, Air

FOOT, INCH = 0.3048, 0.0254


@pytest.mark.parametrize(
    ("flow", "bore", "per_metre"), [(0.025, 100, 1.677), (0.075, 150, 1.702), (0.150, 250, 0.497), (1.0, 400, 1.635)]
)
def test_friction_is_darcys_with_colebrook(flow: float, bore: int, per_metre: float) -> None:
    """Colebrook solved independently for 0.09 mm roughness and air at 20 degC (derived), over 3 m."""
    duct = made("metal duct", size=f"{bore} mm", length="3 m")
    assert duct.pressure_loss(flow, STANDARD) == pytest.approx(3.0 * per_metre, rel=0.002)


def test_a_lining_is_rough_and_takes_sound() -> None:
    """6 x 6 in, one inch lined, 3 ft: P/A 8 1/ft of a printed one-inch table; and rougher than bare metal."""
    bare, lined = (made("metal duct", size="6 x 6 in", length="3 ft", **more) for more in ({}, {"lining": "1 in"}))
    # application guide 125-1929 rev 4 (2009) Table 17, P/A 8 1/ft, dB/ft (read)
    printed = np.array([1.08, 1.24, 1.60, 2.98, 7.62, 7.48, 3.98, 2.60])
    np.testing.assert_allclose(lined.attenuation(STANDARD)[1:], 3.0 * printed, atol=0.05)
    assert lined.pressure_loss(0.05, STANDARD) > 1.5 * bare.pressure_loss(0.05, STANDARD)
    assert np.all(bare.attenuation(STANDARD)[1:] < 3.0)


def test_lined_round_duct() -> None:
    """The same guide's Tables 20 and 21, 2 in on 8 in, dB/ft (read), over 5 ft."""
    printed = np.array([0.51, 0.75, 1.33, 2.23, 2.19, 2.17, 1.83, 1.18])
    lined = made("metal duct", size="8 in", length="5 ft", lining="2 in")
    np.testing.assert_allclose(lined.attenuation(STANDARD)[1:], 5.0 * printed, atol=0.05)


def test_no_lined_run_is_credited_with_more_than_forty() -> None:
    """ASHRAE's limit for flanking along the metal (memory)."""
    long = made("metal duct", size="150 x 150 mm", length="20 m", lining="50 mm")
    assert np.nanmax(long.attenuation(STANDARD)) == 40.0


def test_attenuation_is_unknown_at_31_hz_and_grows_with_length() -> None:
    """The handbook tables begin at 63 Hz."""
    short, long = (made("metal duct", size="200 mm", length=f"{n} m").attenuation(STANDARD) for n in (2, 6))
    assert np.isnan(short[0])
    np.testing.assert_allclose(long[1:], 3.0 * short[1:])


def test_the_scatter_row_goes_by_what_is_built() -> None:
    """Bare, lined round and lined rectangular duct have a row each."""
    keys = [
        made("metal duct", length="1 m").scatter_key,
        made("metal duct", length="1 m", lining="25 mm").scatter_key,
        made("metal duct", size="200 x 100 mm", length="1 m", lining="25 mm").scatter_key,
    ]
    assert keys == ["unlined duct", "lined round duct", "lined rectangular duct"]


def test_walls() -> None:
    """8 in spiral (ASHRAE, memory), and 12 x 24 in of 1 lb/ft2 (ASHRAE, memory) on 20 ft; areas by geometry."""
    spiral = made("metal duct", size="8 in", length="3 m").wall()
    assert spiral is not None
    np.testing.assert_allclose(spiral.breakout[1:], [48, 64, 75, 72, 56, 56, 46, 29])
    assert spiral.outer_area == pytest.approx(np.pi * 8 * INCH * 3.0)
    flat = made("metal duct", size="12 x 24 in", length="20 ft", sheet="1 lb/ft2").wall()
    assert flat is not None
    np.testing.assert_allclose(flat.breakout[1:], [19, 22, 25, 28, 31, 35, 41, 45], atol=0.55)
    assert flat.inner_area == pytest.approx(2 * FOOT**2)
    heavy = made("metal duct", size="12 x 24 in", length="20 ft", sheet="2 lb/ft2").wall()
    assert heavy is not None
    assert np.all(heavy.breakout[1:5] > flat.breakout[1:5] + 5.9)


def test_own_noise_is_small_and_rises() -> None:
    """VDI 2081 (memory): 7 + 50 lg U + 10 lg S overall; 5 m/s in 160 mm is 7 + 34.9 - 17.0 = 25 dB."""
    duct = made("metal duct", length="1 m")
    assert rises_with_flow(duct)
    assert total(duct.own_noise(5.0 * duct.section.area, STANDARD)) == pytest.approx(25.0, abs=2.0)


def test_laminar_air_costs_by_viscosity() -> None:
    """Hagen-Poiseuille, 32 mu v L / D^2: density drops out."""
    duct = made("metal duct", length="4 m")
    flow = 0.1 * duct.section.area
    for air in (STANDARD, Air(density=0.9)):
        assert duct.pressure_loss(flow, air) == pytest.approx(32 * air.viscosity * 0.1 * 4.0 / 0.16**2)


@pytest.mark.parametrize(
    "fields",
    [{}, {"length": "0 m"}, {"length": 3}, {"length": "1 m", "lining": "-1 in"}, {"length": "1 m", "sheet": "0 kg/m2"}],
)
def test_what_no_duct_is(fields: dict[str, object]) -> None:
    """Without a length, of none, without unit, with a negative lining."""
    assert refusal("metal duct", **fields)


def test_a_lining_beyond_the_tables_is_told() -> None:
    """75 mm is more than a rectangular duct was measured with, and just what a round one was."""
    assert not made("metal duct", "300 x 200 mm", length="2 m", lining="50 mm").notes()
    (told,) = made("metal duct", "300 x 200 mm", length="2 m", lining="75 mm").notes()
    assert told.startswith("its thickness is more than the handbook has data for (lined rectangular duct)")
    assert not made("metal duct", "300 mm", length="2 m", lining="75 mm").notes()


def test_insulation_round_a_bare_rectangular_duct_damps_its_walls() -> None:
    """Twice the loss from 63 to 250 Hz and no more above (ASHRAE); a round duct is too stiff to gain."""
    wrapped, bare = (made("metal duct", "300 x 200 mm", length="2 m", wrap={"r": r}) for r in ("R-6", "0 m2K/W"))
    gain = wrapped.attenuation(STANDARD) / bare.attenuation(STANDARD)
    assert gain[1:] == pytest.approx([2.0, 2.0, 2.0, 1.0, 1.0, 1.0, 1.0, 1.0])
    wrapped, bare = (made("metal duct", "250 mm", length="2 m", wrap={"r": r}) for r in ("R-6", "0 m2K/W"))
    assert wrapped.attenuation(STANDARD)[1:] == pytest.approx(bare.attenuation(STANDARD)[1:])
