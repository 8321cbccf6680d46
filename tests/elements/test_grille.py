"""Grilles: faces, speeds by name, noise, notes."""

from __future__ import annotations

import numpy as np
import pytest

from elements.made import made, refusal, rises_with_flow, total
from sordino.physics.air.properties import STANDARD


def test_three_speeds_have_their_own_names() -> None:
    """60 L/s through a 160 mm neck into a 300 x 100 mm opening that is 60 % clear: 2.98, 2.0 and 3.33 m/s."""
    grille = made("grille", opening="300 x 100 mm", free_area="60 %")
    speeds = grille.velocities(0.060)
    assert speeds["neck"] == pytest.approx(2.984, abs=0.001)
    assert speeds["face"] == pytest.approx(2.0)
    assert speeds["free area"] == pytest.approx(3.333, abs=0.001)


def test_bars() -> None:
    """Kirschmer (memory), square bars as wide as the gaps: 2.42 velocity pressures of the opening."""
    grille = made("grille", size="200 x 200 mm", face="bar", free_area="50 %")
    assert grille.pressure_loss(0.12, STANDARD) == pytest.approx(2.42 * 0.5 * 1.204 * 3.0**2)


def test_perforated_plate() -> None:
    """Idelchik 8-1 (memory), half clear: 4.0 velocity pressures, within a tenth."""
    grille = made("grille", size="200 x 200 mm", face="perforated", free_area="50 %")
    assert grille.pressure_loss(0.12, STANDARD) == pytest.approx(4.0 * 0.5 * 1.204 * 3.0**2, rel=0.10)


def test_the_makers_coefficient_is_on_free_area_speed() -> None:
    """1.8 velocity pressures at 4 m/s free area, which is 2 m/s at the face."""
    grille = made("grille", size="200 x 200 mm", free_area="50 %", loss_coefficient=1.8)
    assert grille.pressure_loss(0.08, STANDARD) == pytest.approx(1.8 * 0.5 * 1.204 * 16.0)


def test_a_clearer_face_costs_less_and_is_quieter() -> None:
    """Each face over its free area at one flow."""
    for face in ("bar", "egg-crate", "perforated", "louvre"):
        grilles = [made("grille", face=face, free_area=f"{share} %") for share in (40, 60, 80)]
        assert np.all(np.diff([grille.pressure_loss(0.05, STANDARD) for grille in grilles]) < 0.0), face
        assert np.all(np.diff([total(grille.own_noise(0.05, STANDARD)) for grille in grilles]) < 0.0), face


def test_free_area_when_the_maker_is_silent() -> None:
    """Common practice (no source): bars leave 70 %, an egg-crate 85 %."""
    speeds = [made("grille", face=face).velocities(0.05)["free area"] for face in ("bar", "egg-crate")]
    assert speeds[0] / speeds[1] == pytest.approx(85.0 / 70.0)


def test_a_larger_opening_is_quieter() -> None:
    """60 lg of speed less 10 lg of area: four times the opening, 30 dB at one flow and face."""
    small, large = (made("grille", opening=size, free_area="70 %") for size in ("200 x 100 mm", "400 x 200 mm"))
    fall = total(small.own_noise(0.05, STANDARD)) - total(large.own_noise(0.05, STANDARD))
    assert fall == pytest.approx(30.1, abs=0.5)
    assert rises_with_flow(small)


def test_a_damper_at_the_face_is_spoken_of() -> None:
    """Nothing lies behind it to absorb its noise."""
    assert made("grille").notes() == ()
    assert "upstream of the box" in made("grille", damper=True).notes()[0]


def test_it_ends_a_run() -> None:
    """And takes no sound away itself: end reflection belongs to the opening."""
    grille = made("grille")
    assert grille.terminal
    np.testing.assert_array_equal(grille.attenuation(STANDARD), np.zeros(9))


@pytest.mark.parametrize(
    "fields", [{"face": "slats"}, {"free_area": "140 %"}, {"free_area": "0 %"}, {"loss_coefficient": 0}]
)
def test_what_no_grille_is(fields: dict[str, object]) -> None:
    """Of no known face, more than clear, shut, without any loss."""
    assert refusal("grille", **fields)
