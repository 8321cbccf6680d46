"""Boxes as built into a run: passage, pressure line by line, handbook loss where no field is solved, ceiling, wall."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from elements.made import boxed, rises_with_flow, total, with_box
from sordino.assess.boxes import with_fields
from sordino.elements.buildup import transmission_loss
from sordino.elements.built_box import BuiltBox, default_ceiling
from sordino.physics.air.properties import STANDARD

LABYRINTH: dict[str, Any] = {
    "family": "labyrinth",
    "length": "1.2 m",
    "width": "0.6 m",
    "height": "0.62 m",
    "passes": 2,
}
STRAIGHT: dict[str, Any] = {"family": "straight", "length": "1.2 m", "width": "0.4 m", "height": "0.4 m", "passes": 1}
SERPENTINE: dict[str, Any] = {
    "family": "serpentine",
    "length": "1.25 m",
    "width": "0.5 m",
    "height": "0.85 m",
    "duct": "200 mm",
}
PLENUM: dict[str, Any] = {"family": "plenum", "length": "1.0 m", "width": "0.6 m", "height": "0.6 m", "passes": 1}
FAMILIES = (LABYRINTH, STRAIGHT, SERPENTINE, PLENUM)


def test_passage_of_a_labyrinth() -> None:
    """(620 - 18)/2 - 2 x 50 = 201 mm high, 600 mm wide, 2 x 1.2 m long, two right angles at its one fold."""
    made = boxed(**LABYRINTH).layout
    assert len(made.stations) == 2
    for station in made.stations:
        assert (station.size.height, station.size.width) == pytest.approx((0.201, 0.6))
    assert made.length == pytest.approx(2.4)
    assert made.turns == 2


def test_a_straight_box_is_lined_on_its_sides_too() -> None:
    """400 - 2 x 50 = 300 mm both ways, no turn."""
    made = boxed(**STRAIGHT).layout
    (passage,) = made.stations
    assert (passage.size.height, passage.size.width) == pytest.approx((0.3, 0.3))
    assert passage.length == pytest.approx(1.2)
    assert made.turns == 0


def test_speeds_by_name() -> None:
    """100 L/s in 200 mm is 3.18 m/s; in a passage of 0.6 x 0.201 m 0.83 m/s."""
    speeds = boxed(**LABYRINTH).velocities(0.1)
    (place,) = speeds.keys() - {"duct"}
    assert place.startswith("box pass ")
    assert speeds == {place: pytest.approx(0.829, abs=0.001), "duct": pytest.approx(3.183, abs=0.001)}


def test_pressure_line_by_line() -> None:
    """100 L/s by hand, the duct's velocity pressure 6.10 Pa, the passage's 0.414.

    In: 3.84 times the area, (1 - 1/3.84)^2 = 0.547. Out: d2/d1 = 0.510, by Rennels l = 1.571 and 0.0696 x 0.965 x 2.467
    + 0.571^2 = 0.49. Two mitres of H/W 3 (ASHRAE CR3-6, second-hand): 0.98 times 1.28 for Re near 17 000.
    """
    lines = boxed(**LABYRINTH).pressure_lines(0.1, STANDARD)
    assert lines["entry"] == pytest.approx(0.547 * 6.10, rel=0.01)
    assert lines["exit"] == pytest.approx(0.49 * 6.10, rel=0.01)
    assert lines["turns after pass 1"] == pytest.approx(2 * 0.98 * 1.28 * 0.414, rel=0.04)
    assert lines["pass 1"] + lines["pass 2"] < lines["turns after pass 1"]
    assert list(lines) == ["entry", "pass 1", "turns after pass 1", "pass 2", "exit"]
    assert boxed(**LABYRINTH).pressure_loss(0.1, STANDARD) == pytest.approx(sum(lines.values()))


def test_a_straight_box_takes_its_lining() -> None:
    """300 x 300 mm, 50 mm lining, 1.2 m: B (P/A)^C t^D by hand at P/A 4.06 1/ft and 1.969 in (Reynolds & Bledsoe
    1991): 0.38 0.79 1.79 4.34 4.69 4.28 2.85 2.15 dB/ft, each times 3.937 ft."""
    by_hand = np.array([0.385, 0.781, 1.790, 4.262, 4.691, 4.284, 2.857, 2.149]) * 3.937
    np.testing.assert_allclose(boxed(**STRAIGHT).attenuation(STANDARD)[1:], by_hand, rtol=0.03)


def test_a_labyrinth_adds_lined_mitres() -> None:
    """Two turns 201 mm wide, 7.91 in: at 1 kHz 7.93 kHz in, 11 dB each (ASHRAE, memory)."""
    without = boxed(**(LABYRINTH | {"passes": 1, "height": "0.301 m"})).attenuation(STANDARD) * 2.0
    assert boxed(**LABYRINTH).attenuation(STANDARD)[5] - without[5] == pytest.approx(22.0, abs=0.01)


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: str(family["family"]))
def test_longer_takes_more(family: dict[str, Any]) -> None:
    """Half as long again never loses less sound or pressure."""
    longer = family | {"length": "1.9 m"}
    assert np.all(np.nan_to_num(boxed(**longer).attenuation(STANDARD) - boxed(**family).attenuation(STANDARD)) >= 0)
    assert boxed(**longer).pressure_loss(0.08, STANDARD) >= boxed(**family).pressure_loss(0.08, STANDARD)
    assert boxed(**longer).path_length > boxed(**family).path_length


def test_a_thicker_lining_takes_more() -> None:
    """Of the same passage, up to the two inches that were measured."""
    thin = boxed(**(STRAIGHT | {"lining": "25 mm", "width": "0.35 m", "height": "0.35 m"}))
    thick = boxed(**(STRAIGHT | {"lining": "50 mm"}))
    assert np.all((thick.attenuation(STANDARD) - thin.attenuation(STANDARD))[1:] >= -1e-9)


def test_slack_inside_a_serpentine_costs() -> None:
    """As it does outside; the folds cost the same either way."""
    tight, slack = (boxed(**(SERPENTINE | {"pull": pull})).pressure_loss(0.08, STANDARD) for pull in ("4 %", "30 %"))
    assert slack > 1.3 * tight


def test_the_ceiling_is_under_both_ways_round() -> None:
    """The energy sum of the stated default and of the shell twice over: lower than either, near the lesser."""
    box = boxed(**LABYRINTH)
    twice = 2.0 * transmission_loss(box.build.shell)
    least = np.minimum(default_ceiling(), twice)
    assert np.all(box.ceiling() < least)
    assert np.all(box.ceiling() >= least - 3.02)
    np.testing.assert_array_equal(default_ceiling()[1:], [35, 40, 45, 50, 50, 50, 45, 45])


def test_a_heavier_shell_raises_ceiling_and_wall() -> None:
    """Two sheets against one."""
    sheet = {"board": "plywood", "thickness": "18 mm"}
    light, heavy = (boxed(**(LABYRINTH | {"shell": [sheet] * count})) for count in (1, 3))
    assert np.all(heavy.ceiling() >= light.ceiling())
    assert np.all(heavy.wall().breakout[:4] > light.wall().breakout[:4] + 8.0)
    assert light.wall().outer_area == pytest.approx(2 * (1.2 * 0.6 + 1.2 * 0.62 + 0.6 * 0.62))


def test_noise_at_the_turns() -> None:
    """Rises with flow; a narrower passage is louder; four turns are 3 dB over two."""
    assert rises_with_flow(boxed(**LABYRINTH))
    narrow = boxed(**(LABYRINTH | {"width": "0.3 m"}))
    assert total(narrow.own_noise(0.1, STANDARD)) > total(boxed(**LABYRINTH).own_noise(0.1, STANDARD)) + 10.0
    three = boxed(**(LABYRINTH | {"passes": 3, "height": "0.939 m"}))
    gain = total(three.own_noise(0.1, STANDARD)) - total(boxed(**LABYRINTH).own_noise(0.1, STANDARD))
    assert gain == pytest.approx(3.0, abs=0.1)


SMALL: dict[str, Any] = {"family": "straight", "length": "0.8 m", "width": "0.25 m", "height": "0.25 m", "passes": 1}


def solved(**fields: Any) -> BuiltBox:
    """A box with its sound field, in a run of 125 mm."""
    part = with_fields(with_box("125 mm", **fields), STANDARD).run["way"].parts[0]
    assert isinstance(part, BuiltBox)
    return part


def test_a_heavier_shell_lets_less_out_of_the_field_too() -> None:
    """The field inside is the same for both casings; three sheets against one.."""
    light, heavy = (solved(**SMALL, shell=[{"board": "plywood", "thickness": "18 mm"}] * count) for count in (1, 3))
    gain = heavy.wall().breakout[2:5] - light.wall().breakout[2:5]
    assert np.all(gain > 6.0)
    np.testing.assert_array_equal(heavy.attenuation(STANDARD), light.attenuation(STANDARD))


def test_one_face_may_be_heavier() -> None:
    """The ceiling goes by the lightest face; the walls by all of them."""
    heavy = {face: [{"board": "plywood", "thickness": "18 mm"}] * 3 for face in ("floor", "ceiling")}
    plain, mixed = boxed(**LABYRINTH), boxed(**LABYRINTH, faces=heavy)
    np.testing.assert_array_equal(mixed.ceiling(), plain.ceiling())
    one, other = solved(**SMALL), solved(**SMALL, faces=heavy)
    assert np.all(other.wall().breakout[1:] >= one.wall().breakout[1:])


def test_it_says_that_it_is_an_estimate_until_the_field_is_solved() -> None:
    """And knows how sure it is only then."""
    told = "the box's loss is a handbook estimate; its sound field is not solved"
    guess, known = boxed("125 mm", **SMALL), solved(**SMALL)
    assert guess.notes() == (told,)
    assert guess.own_spread() is None
    assert known.notes() == ()
    spread = known.own_spread()
    assert spread is not None
    assert all(half.shape == (9,) and np.all(half >= 0.0) for half in spread.values())


def test_a_tight_duct_inside_is_said() -> None:
    """160 mm that turn with 129 mm are tighter than makers like; 200 mm with the widest bend it may have are not."""
    tight = boxed("160 mm", family="serpentine", length="1.2 m", width="0.5 m", height="0.5 m", bend_radius="129 mm")
    assert "it may kink" in " ".join(tight.notes())
    assert "it may kink" not in " ".join(boxed(**SERPENTINE).notes())


@pytest.mark.parametrize("change", [{"size": "125 mm"}, {"length": "1.0 m"}])
def test_another_duct_or_box_is_laid_out_and_solved_anew(change: dict[str, str]) -> None:
    """A copy for another section or statement takes over neither layout nor field of the first."""
    known = solved(**SMALL)
    assert known.layout.length == pytest.approx(0.8)
    size, fields = change.get("size", "160 mm"), {k: v for k, v in change.items() if k != "size"}
    other = boxed(size, **(SMALL | fields))
    copy = known.model_copy(update={"size": other.section, "build": other.build})
    assert copy.layout.stations == other.layout.stations
    assert copy.layout.prism.ports == other.layout.prism.ports
    same = other.section == known.section and other.build == known.build
    assert (copy.field is None) == (not same)
