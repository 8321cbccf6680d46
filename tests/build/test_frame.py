"""Sticks along edges, cleats, spacers."""

from __future__ import annotations

from math import atan, pi, tan

import numpy as np
import pytest

from boxed import BOXES
from built import built
from sordino.build.angles import stick_section
from sordino.build.kit import stick_mass
from sordino.physics.wave.painting import in_tube, painted

CAVITY = '[{ board = "plywood", thickness = "18 mm" }, { cavity = "50 mm" }, { board = "MDF", thickness = "12 mm" }]'


@pytest.mark.parametrize("name", sorted(BOXES))
def test_no_stick_stands_in_the_air(name: str) -> None:
    """Each lies in fibre all along, clear of the flexible duct."""
    kit = built(name)
    inside = [stick for stick in kit.sticks if stick.use != "spacer"]
    assert inside
    for stick in inside:
        u, v = np.mean(np.array(stick.section), axis=0)
        points = np.array([stick.pose.at(u, v, w) for w in np.linspace(1.0, stick.length - 1.0, 30)]) / 1e3
        assert np.all(painted(kit.made.prism, points) > 0)
        assert not np.any(in_tube(kit.made.prism, points))


def test_an_edge_in_the_air_has_none() -> None:
    """A labyrinth lined on floor, ceiling and dividers is open at the ends, so no stick stands upright there."""
    joins = {stick.joins for stick in built("labyrinth").sticks}
    assert not {("right", "front"), ("right", "back"), ("left", "front"), ("left", "back")} & joins
    assert {("floor", "back"), ("ceiling", "front"), ("left", "divider 1")} <= joins


def test_dividers_have_cleats_at_back_end_and_front() -> None:
    cleats = [stick.joins for stick in built("serpentine").sticks if stick.use == "cleat"]
    assert sorted(cleats) == [("back", "divider 1"), ("front", "divider 1"), ("left", "divider 1")]


def test_sticks_are_as_thick_as_asked_and_weigh_what_softwood_does() -> None:
    (kit,) = [built("straight")]
    for stick in kit.sticks:
        assert stick.size == pytest.approx((25.0, 25.0))
        assert stick.square
        assert stick_mass(stick) == pytest.approx(450.0 * 0.025**2 * stick.length / 1e3)


@pytest.mark.parametrize("degrees", [40.0, 60.0, 90.0, 123.7, 160.0])
def test_a_section_touches_both_boards(degrees: float) -> None:
    """Its first side lies along one board, its last along the other, at the angle between them."""
    opening = degrees * pi / 180.0
    section = stick_section(opening, 25.0)
    assert section[:2] == ((0.0, 0.0), (25.0, 0.0))
    u, v = section[-1]
    assert np.arctan2(v, u) == pytest.approx(opening)
    assert v <= 25.0 * max(1.0, tan(atan(1.5)))


def test_spacers_hold_every_outer_board_off_by_the_cavity() -> None:
    """As deep as the cavity, round the rim of all six faces."""
    kit = built("straight", shell=CAVITY)
    rims = [stick for stick in kit.sticks if stick.use == "spacer"]
    assert {stick.joins[0] for stick in rims} == {"floor", "ceiling", "left", "right", "front", "back"}
    assert all(sorted(stick.size) == pytest.approx([25.0, 50.0]) for stick in rims)
    labels = [stick.label for stick in kit.sticks]
    assert labels == [f"S{number}" for number in range(1, len(labels) + 1)]
