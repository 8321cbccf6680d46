"""What a box weighs, against sums by hand."""

from __future__ import annotations

import pytest

from boxed import boxed
from sordino.assess.box_answer import standing
from sordino.elements.box_layout import layout
from sordino.elements.box_mass import box_mass, fibre_volume, profile_area


def test_a_straight_box_weighs_what_its_boards_and_fibre_do() -> None:
    """0.8 x 0.25 x 0.25 m inside in 18 mm plywood of 600 kg/m3, four faces lined 50 mm with 12 kg/m3."""
    place = standing(boxed("straight"), "straight").built
    mass = box_mass(place.build, place.layout)
    outside, inside = 0.836 * 0.286 * 0.286, 0.8 * 0.25 * 0.25
    holes = 2 * 3.14159265 * 0.0625**2 * 0.018
    assert mass.shell == pytest.approx(600.0 * (outside - inside - holes), rel=1e-6)
    assert mass.dividers == 0.0
    assert mass.fibre == pytest.approx(12.0 * 0.8 * (0.25**2 - 0.15**2), rel=0.03)
    assert mass.whole == mass.shell + mass.dividers + mass.fibre


def test_a_divider_counts_by_its_board() -> None:
    """1.5 kg more when the divider is of MDF (750 kg/m3) than of plywood (600)."""
    plain, heavy = (standing(boxed(divider_board=f'"{name}"'), "labyrinth").built for name in ("plywood", "MDF"))
    first, second = (box_mass(one.build, one.layout) for one in (plain, heavy))
    assert first.dividers > 0.0
    assert second.dividers / first.dividers == pytest.approx(750.0 / 600.0)
    assert second.shell == first.shell


def test_fibre_fills_a_box_but_for_its_duct() -> None:
    place = standing(boxed("serpentine"), "serpentine").built
    made = layout(place.build, place.section)
    duct = 3.14159265 * 0.0625**2 * made.length
    whole = 0.7 * 0.3 * (0.5 - 0.018 * (1.0 - 0.15 / 0.7))
    assert fibre_volume(made.prism) == pytest.approx(whole - duct, rel=0.05)


def test_a_slope_takes_its_triangle_off() -> None:
    place = standing(boxed("roof"), "roof").built
    assert profile_area(place.layout.prism) == pytest.approx(0.7 * 0.45 - 0.3 * 0.2 / 2.0)
    flat = standing(boxed("roof", right_slope='{ run = "1 mm", drop = "1 mm" }'), "roof").built
    assert box_mass(place.build, place.layout).shell < box_mass(flat.build, flat.layout).shell
