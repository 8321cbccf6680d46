"""Laws of noise made by moving air and fans, and of single-number ratings."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.bands import Bands, energy_sum
from sordino.errors import OutOfRange
from sordino.physics.sound.criteria import (
    noise_criterion,
    noise_criterion_curve,
    noise_rating,
    noise_rating_curve,
)
from sordino.physics.sound.fans import UNKNOWN, fan_kinds, spectrum_from_a_level
from sordino.physics.sound.flow_noise import (
    bend_noise,
    damper_noise,
    duct_noise,
    grille_noise,
    junction_noise,
    open_end_noise,
)
from sordino.physics.sound.sources import absorption, boards, loud_kinds, loudest, surfaces
from sordino.physics.sound.weighting import a_level, a_weighting
from sordino.tables import table

speeds = st.floats(0.3, 15.0)
sections = st.floats(0.005, 0.5)


@given(speeds, sections, st.floats(1.05, 2.0))
def test_faster_air_is_louder(speed: float, area: float, factor: float) -> None:
    """In all and in every band from 63 Hz up; the exponent of velocity overall is 5 to 6."""
    side = np.sqrt(area)
    noises: tuple[Callable[[float], Bands], ...] = (
        lambda u: bend_noise(u, area, side),
        lambda u: bend_noise(u, area, side, vanes=(6, 0.1)),
        lambda u: junction_noise(u, area, side, 1.5 * u),
        lambda u: duct_noise(u, area),
        lambda u: open_end_noise(u, area),
    )
    for noise in noises:
        slow, fast = noise(speed), noise(factor * speed)
        assert (fast >= slow)[1:].all()
        assert energy_sum(fast) > energy_sum(slow)
    gain = energy_sum(open_end_noise(20.0, area)) - energy_sum(open_end_noise(10.0, area))
    assert gain == pytest.approx(60.0 * np.log10(2.0), abs=1.0)


@given(speeds, sections, st.floats(0.5, 50.0), st.floats(1.0, 5.0))
def test_more_pressure_taken_is_more_noise(speed: float, area: float, loss: float, factor: float) -> None:
    """30 lg of the ratio, for grille and damper."""
    for noise in (grille_noise, damper_noise):
        gain = noise(speed, area, factor * loss) - noise(speed, area, loss)
        np.testing.assert_allclose(gain, 30.0 * np.log10(factor), atol=1e-6)


def test_still_air_is_silent() -> None:
    """No velocity, no noise, no error."""
    for level in (
        bend_noise(0.0, 0.03, 0.2),
        junction_noise(0.0, 0.03, 0.2, 0.0, turbulent=True),
        duct_noise(0.0, 0.03),
        grille_noise(0.0, 0.03, 0.0),
        open_end_noise(0.0, 0.03),
    ):
        assert np.isfinite(level).all()
        assert (level < -50.0).all()


@given(speeds, sections)
def test_a_stirred_and_sharp_take_off_is_louder(speed: float, area: float) -> None:
    """Rounding the corner and calm air upstream never add noise."""
    calm = junction_noise(speed, area, 0.2, 1.3 * speed, radius_ratio=0.13)
    assert (junction_noise(speed, area, 0.2, 1.3 * speed) >= calm).all()
    assert (junction_noise(speed, area, 0.2, 1.3 * speed, radius_ratio=0.13, turbulent=True) >= calm).all()


@pytest.mark.parametrize("kind", fan_kinds())
def test_a_fan_known_by_its_a_level_has_that_level(kind: str) -> None:
    """The octaves of a kind add up to the A-weighted level; so do those of the unknown kind."""
    bands = spectrum_from_a_level(38.0, kind)
    assert a_level(bands) == pytest.approx(38.0)
    assert a_level(spectrum_from_a_level(38.0, UNKNOWN)) == pytest.approx(38.0)


@given(st.floats(15.0, 70.0))
def test_a_criterion_curve_rates_as_itself(number: float) -> None:
    """NC between the printed curves too; NR likewise."""
    assert noise_criterion(noise_criterion_curve(number)).value == pytest.approx(number)
    assert noise_rating(noise_rating_curve(number)).value == pytest.approx(number)


@given(st.floats(16.0, 60.0), st.integers(1, 8), st.floats(0.5, 6.0))
def test_the_band_that_sticks_out_governs(number: float, band: int, excess: float) -> None:
    """Raising one band raises the rating and names the band."""
    for curve, rate in ((noise_criterion_curve, noise_criterion), (noise_rating_curve, noise_rating)):
        levels = curve(number)
        levels[band] += excess
        rating = rate(levels)
        assert rating.band == band
        assert rating.value > number
        assert rating.bound == ""


def test_ratings_end_in_bounds() -> None:
    """Below NC-15 and NR 0 and above NC-70 the number is a bound; NaN at 31.5 Hz is normal, elsewhere refused."""
    assert noise_criterion(noise_criterion_curve(15) - 3.0).bound == "below"
    assert noise_criterion(noise_criterion_curve(15) - 3.0).value == 15.0
    assert noise_criterion(noise_criterion_curve(70) + 3.0).bound == "above"
    assert noise_rating(noise_rating_curve(-4.0)).bound == "below"
    levels = noise_criterion_curve(20)
    levels[0] = np.nan
    assert noise_criterion(levels).value == pytest.approx(20.0)
    levels[3] = np.nan
    with pytest.raises(OutOfRange, match="250 Hz"):
        noise_criterion(levels)
    with pytest.raises(OutOfRange, match="NC-10"):
        noise_criterion_curve(10)


@given(st.lists(st.floats(0.0, 90.0), min_size=9, max_size=9))
def test_a_level_of_a_spectrum(levels: list[float]) -> None:
    """At least its loudest weighted band, and a band left out never raises it."""
    whole = a_level(levels)
    assert whole >= (np.array(levels) + a_weighting(1000.0 * 2.0 ** np.arange(-5, 4))).max() - 0.2
    levels[0] = np.nan
    assert a_level(levels) <= whole + 1e-9


def test_the_weighting_is_nothing_at_one_kilohertz() -> None:
    """0 dB within 0.01."""
    assert abs(a_weighting(1000.0)) < 0.01


def test_every_named_thing_can_be_looked_up() -> None:
    """Sources, surfaces and boards by their listed names; an unknown name lists the known."""
    assert all(np.isfinite(loudest(kind).levels[1:]).all() for kind in loud_kinds())
    assert all(((absorption(name) > 0.0) & (absorption(name) <= 1.0)).all() for name in surfaces())
    assert len(boards()) > 8
    with pytest.raises(KeyError, match="drum kit"):
        loudest("kazoo")


def test_every_method_states_its_scatter() -> None:
    """Nine half-widths above nothing for each key, the modal room never under 6 dB; a ceiling for each band."""
    scatter = table("sound/scatter")
    widths = scatter.numbers(*scatter.columns[1:10])
    assert (widths > 0.0).all()
    assert (widths[scatter.text("key").index("room effect modal")] >= 6.0).all()
    ceiling = table("sound/ceiling")
    np.testing.assert_array_equal(ceiling.numbers(*ceiling.columns), [[30, 35, 40, 45, 50, 50, 50, 45, 45]])
