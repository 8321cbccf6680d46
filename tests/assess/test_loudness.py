"""From sounds to a figure with its range, and to who is to blame."""

from __future__ import annotations

import numpy as np
import pytest

from sordino.assess.contribution import Cause, Contribution
from sordino.assess.loudness import Loudness, loudness
from sordino.assess.noise import Heard
from sordino.assess.spread import Spread, band_range, half_width, joined
from sordino.bands import Bands
from sordino.physics.sound.criteria import noise_criterion_curve, noise_rating_curve
from sordino.quantities import Target

FLAT = np.full(9, 30.0)


def sound(levels: Bands | float, spread: Spread | None = None, cause: Cause = "fan", origin: str = "a") -> Contribution:
    """One sound at a receiver."""
    return Contribution(
        cause=cause,
        origin=origin,
        via="way",
        station="",
        levels=np.broadcast_to(levels, (9,)).astype(float),
        spread=spread or {},
    )


def rated(*sounds: Contribution, target: Target | None = None) -> Loudness:
    """The figure of what is heard."""
    return loudness(Heard(place="here", mode="normal", contributions=sounds), target)


def wide(decibels: float, cause: str = "cause") -> Spread:
    """One cause of one half-width in all bands."""
    return {cause: np.full(9, decibels)}


def test_a_spectrum_on_a_curve_rates_as_that_curve() -> None:
    """NC-30 and NR-25 (ANSI/ASA S12.2-2019 and ISO/R 1996 tables, read); 3 dB more on one band governs."""
    assert rated(sound(noise_criterion_curve(30.0))).rating.value == pytest.approx(30.0)
    target = Target(scale="NR", value=20.0)
    assert rated(sound(noise_rating_curve(25.0)), target=target).rating.value == pytest.approx(25.0)
    peaked = noise_criterion_curve(30.0)
    peaked[4] += 3.0
    assert rated(sound(peaked)).band == 4


def test_dba_of_a_flat_spectrum() -> None:
    """A weighting at the octaves sums to 7.0 dB above one band at 1 kHz for 0 dB each (derived from IEC 61672-1)."""
    target = Target(scale="dBA", value=30.0)
    weights = np.array([-39.4, -26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1])
    by_hand = 30.0 + 10 * np.log10(np.sum(10 ** (weights / 10)))
    assert rated(sound(FLAT), target=target).rating.value == pytest.approx(by_hand, abs=0.05)


def test_two_alike_are_three_decibels() -> None:
    """Sounds add by energy."""
    np.testing.assert_allclose(rated(sound(FLAT), sound(FLAT)).levels, 33.01, atol=0.01)


def test_paths_that_share_a_cause_move_together() -> None:
    """Two equal sounds off by 6 dB each: together 6 dB either way if one cause is behind them."""
    below, above = band_range([FLAT, FLAT], [wide(6.0), wide(6.0)])
    np.testing.assert_allclose(above, 6.0)
    np.testing.assert_allclose(below, 6.0)


def test_paths_of_different_causes_move_less() -> None:
    """Each alone lifts the sum by 10 lg[(1 + 10^0.6)/2] = 3.96 dB, drops it by 2.04: together 5.60 and 2.89."""
    below, above = band_range([FLAT, FLAT], [wide(6.0, "one"), wide(6.0, "two")])
    np.testing.assert_allclose(above, 3.963 * np.sqrt(2.0), atol=0.01)
    np.testing.assert_allclose(below, 2.044 * np.sqrt(2.0), atol=0.01)


def test_a_faint_path_widens_little() -> None:
    """15 dB down, 10 dB either way: 1.06 dB up."""
    _, above = band_range([FLAT, FLAT - 15.0], [{}, wide(10.0)])
    by_hand = 10 * np.log10((1 + 10**-0.5) / (1 + 10**-1.5))
    np.testing.assert_allclose(above, by_hand)


def test_the_figure_has_the_range_of_its_levels() -> None:
    """One sound, one cause: the ends of the range are the figures of all levels up and down by the half-width."""
    levels = noise_criterion_curve(40.0)
    found = rated(sound(levels, wide(4.0)))
    assert found.rating.high == pytest.approx(rated(sound(levels + 4.0)).rating.value)
    assert found.rating.low == pytest.approx(rated(sound(levels - 4.0)).rating.value)
    assert found.rating.widest == "cause"


def test_the_widest_cause_is_named() -> None:
    """Of two the one that moves the figure more, though its own half-width is smaller."""
    loud, faint = sound(FLAT + 10, wide(4.0, "loud")), sound(FLAT - 20, wide(9.0, "faint"))
    assert rated(loud, faint).rating.widest == "loud"


def test_the_scale_ends_at_fifteen() -> None:
    """Below NC-15 the figure is a bound, and the range does not reach below it."""
    found = rated(sound(-10.0, wide(30.0)))
    assert (found.rating.value, found.bound) == (15.0, "below")
    assert found.rating.low == 15.0
    assert found.rating.high > 15.0


def test_the_governing_path_is_the_loudest_in_the_governing_band() -> None:
    """A hum that rules the figure is to blame, not a hiss with more energy elsewhere."""
    hum, hiss = np.full(9, 0.0), np.full(9, 25.0)
    hum[2] = 60.0
    found = rated(sound(hiss, origin="hiss"), sound(hum, origin="hum"))
    assert (found.governing.origin, found.band) == ("hum", 2)


def test_what_is_not_assessed_stays_out_of_the_figure() -> None:
    """31.5 Hz of one path unknown: the sum there is unknown, the figure is not."""
    levels = noise_criterion_curve(30.0)
    levels[0] = np.nan
    found = rated(sound(levels, wide(3.0)))
    assert np.isnan(found.levels[0])
    assert found.rating.value == pytest.approx(30.0)
    assert np.isfinite([found.rating.low, found.rating.high]).all()


def test_a_cause_named_twice_adds_up() -> None:
    """Two bends on one way err the same way."""
    np.testing.assert_allclose(joined(wide(2.0), wide(3.0), wide(1.0, "other"))["cause"], 5.0)


def test_half_widths_come_from_the_table() -> None:
    """Nine bands, none nil."""
    assert half_width("fan spectrum given").shape == (9,)
    assert np.all(half_width("breakout") > 0.0)
