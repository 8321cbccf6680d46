"""Changes of section: sudden steps and tapers."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import made, refusal
from sordino.bands import Array
from sordino.elements.element import Element
from sordino.physics.air.properties import STANDARD
from sordino.physics.sound.fourpole import characteristic_impedance, transmission_loss


def coefficient(size: str, to: str, **fields: str) -> float:
    """Loss over the velocity pressure at the smaller end, at 8 m/s there."""
    step = made("transition", size=size, to=to, **fields)
    least = min(step.section.area, step.outlet.area)
    return step.pressure_loss(8.0 * least, STANDARD) / (0.5 * STANDARD.density * 64.0)


def matched_loss(part: Element) -> Array:
    """Transmission loss at LINES between ducts of the part's two sizes."""
    z_in, z_out = (
        characteristic_impedance(size.area, STANDARD.density, STANDARD.sound_speed)
        for size in (part.section, part.outlet)
    )
    return transmission_loss(part.four_pole(STANDARD), z_in, z_out)


def test_a_sudden_widening_is_borda_carnots() -> None:
    """(1 - A1/A2)^2 with A1/A2 = 1/4: 0.5625 (closed form)."""
    assert coefficient("150 mm", "300 mm") == pytest.approx(0.5625)


def test_a_sudden_narrowing() -> None:
    """Rennels and Hudson 2012 (derived), d2/d1 = 0.5: l = 1.5733, 0.0696 x 0.96875 x 2.4753 + 0.5733^2 = 0.4956."""
    assert coefficient("300 mm", "150 mm") == pytest.approx(0.4956, abs=0.0002)


def test_a_taper_saves_most_of_it() -> None:
    """Idelchik's diffuser of 14 degrees and area ratio 1:2.5 loses about 0.09 to 0.12 (second-hand); a jump 0.36."""
    gentle = coefficient("200 mm", "316 mm", length="0.472 m")
    assert 0.07 <= gentle <= 0.13
    assert coefficient("200 mm", "316 mm") == pytest.approx(0.36, abs=0.005)
    assert coefficient("316 mm", "200 mm", length="0.472 m") < 0.06


def test_no_change_costs_nothing() -> None:
    """From a size to the same size."""
    assert coefficient("200 mm", "200 mm") == pytest.approx(0.0, abs=1e-12)
    np.testing.assert_allclose(made("transition", size="200 mm", to="200 mm").attenuation(STANDARD), 0.0, atol=1e-12)


def test_sound_at_a_step() -> None:
    """10 lg[(1 + m)^2 / 4m], m = 4: 1.938 dB, the same both ways (plane waves, closed form)."""
    for size, to in (("150 mm", "300 mm"), ("300 mm", "150 mm")):
        np.testing.assert_allclose(made("transition", size=size, to=to).attenuation(STANDARD), 1.938, atol=0.001)


def test_the_four_pole_of_a_step_reflects_the_same() -> None:
    """No length, so the loss comes from the areas on either side alone."""
    step = made("transition", size="150 mm", to="300 mm")
    np.testing.assert_allclose(matched_loss(step), 1.938, atol=0.001)


def test_a_long_taper_lets_short_waves_by() -> None:
    """A metre of taper reflects most of the step's share at 31.5 Hz and next to nothing from 500 Hz up."""
    taper = made("transition", size="150 mm", to="300 mm", length="1 m")
    z = [
        characteristic_impedance(a.area, STANDARD.density, STANDARD.sound_speed) for a in (taper.section, taper.outlet)
    ]
    loss = transmission_loss(taper.four_pole(STANDARD), z[0], z[1])
    assert loss[0] > 1.5
    assert np.max(loss[36:54]) < 0.1


def test_the_run_goes_on_in_the_new_size() -> None:
    """And the speed named is that at the smaller end."""
    step = made("transition", size="200 mm", to="300 x 100 mm")
    assert step.outlet.area == pytest.approx(0.03)
    assert step.velocities(0.06) == {"duct": pytest.approx(2.0)}
    assert "to" in refusal("transition")
