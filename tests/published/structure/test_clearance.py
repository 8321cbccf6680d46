"""What goes in, what passes and what turns: closed forms, an independent search, and the shapes themselves."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Geometry, MultiPoint, Polygon, affinity

from evidence import Check
from sordino.bands import Array
from sordino.physics.structure.clearance import (
    Around,
    goes_in,
    longest_round_corner,
    outline,
    passes_rectangle,
    room_to_move,
    surrounded,
)

CARVER = "Carver 1957, American Mathematical Monthly, problem E 1225"


def largest(first: float, width: float, height: float) -> float:
    """The largest second side that passes, by halving."""
    low, high = 0.0, first
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if passes_rectangle(first, middle, width, height) else (low, middle)
    return low


def turned(first: float, width: float, height: float) -> float:
    """The same by turning the rectangle through a million angles and asking how wide it may be at each."""
    angle = np.linspace(0.0, np.pi / 2.0, 1_000_001)[1:-1]
    across = (width - first * np.cos(angle)) / np.sin(angle)
    up = (height - first * np.sin(angle)) / np.cos(angle)
    return float(np.max(np.minimum(across, up)))


def test_a_board_through_a_hatch(check: Check) -> None:
    for first, width, height in ((0.75, 0.62, 0.55), (0.70, 0.68, 0.40), (1.00, 0.90, 0.90)):
        name = f"widest board of {1e3 * first:.0f} mm through {1e3 * width:.0f} x {1e3 * height:.0f} mm, m"
        ours = largest(first, width, height)
        check(name, turned(first, width, height), ours, source=f"{CARVER}; by turning", mark="derived", within=1e-5)
    check("longest line across 0.62 x 0.55 m", hypot(0.62, 0.55), _longest(0.62, 0.55), source=CARVER, mark="derived",
          relative=1e-6)  # fmt: skip


def _longest(width: float, height: float) -> float:
    low, high = 0.0, 2.0
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if passes_rectangle(middle, 0.0, width, height) else (low, middle)
    return low


def test_a_ladder_round_a_corner(check: Check) -> None:
    """(a^(2/3) + b^(2/3))^(3/2): 27 and 64 give 125."""
    source = "calculus textbooks: the longest ladder round a corner"
    check("ladder from 2.7 into 6.4 m, m", 12.5, longest_round_corner(2.7, 6.4, 0.0), source=source, mark="memory",
          relative=1e-6)  # fmt: skip
    thick = longest_round_corner(1.0, 1.0, 0.2)
    by_hand = 2.0 * 2.0**0.5 - 2.0 * 0.2
    check("board of 0.2 m from 1 into 1 m, m", by_hand, thick, source="the same at 45 degrees, by hand",
          mark="derived", relative=1e-6)  # fmt: skip
    assert longest_round_corner(0.3, 1.0, 0.31) == -1.0


def test_a_box_under_a_slope(check: Check) -> None:
    """Under a line from (0, 1.1) to (1.6, 0) a rectangle w wide may be 1.1 (1 - w/1.6) high."""
    attic = ((0.0, 0.0), (1.6, 0.0), (0.0, 1.1))
    plain = (0.0, 0.0)
    for width in (0.3, 0.7, 1.2):
        low, high = 0.0, 2.0
        for _ in range(40):
            middle = (low + high) / 2.0
            low, high = (middle, high) if goes_in(outline(width, middle, plain, plain), attic) else (low, middle)
        name = f"highest box {1e3 * width:.0f} mm wide under a roof, m"
        check(name, 1.1 * (1.0 - width / 1.6), low, source="similar triangles", mark="derived", within=1e-5)


def test_room_to_move_is_what_is_left_over(check: Check) -> None:
    space = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.5), (0.0, 1.5))
    ring = outline(0.7, 0.4, (0.0, 0.0), (0.0, 0.0))
    check("places of 0.7 x 0.4 in 2 x 1.5 m, m2", 1.3 * 1.1, room_to_move(ring, space),
          source="erosion of a rectangle, by hand", mark="derived", relative=1e-5)  # fmt: skip


def test_an_exact_fit_fits_and_a_hair_more_does_not() -> None:
    space = ((0.0, 0.0), (0.4, 0.0), (0.4, 0.3), (0.0, 0.3))
    for grown, fits in ((0.0, True), (1e-5, False)):
        assert goes_in(outline(0.4 + grown, 0.3, (0.0, 0.0), (0.0, 0.0)), space) is fits


def test_a_pipe_in_the_corner_is_gone_round() -> None:
    notched = ((0.0, 0.0), (1.0, 0.0), (1.0, 0.3), (0.7, 0.3), (0.7, 0.5), (0.0, 0.5))
    plain = (0.0, 0.0)
    assert goes_in(outline(1.0, 0.3, plain, plain), notched)
    assert goes_in(outline(0.7, 0.5, plain, plain), notched)
    assert not goes_in(outline(0.8, 0.4, plain, plain), notched)
    assert not goes_in(outline(1.0, 0.5, plain, (0.3, 0.2)), notched)
    assert goes_in(outline(1.0, 0.5, plain, (0.6, 0.4)), notched)


@settings(max_examples=60, deadline=None)
@given(
    st.floats(0.1, 0.9),
    st.floats(0.1, 0.9),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=4, max_size=7),
)
def test_it_agrees_with_trying_places(width: float, height: float, points: list[tuple[float, float]]) -> None:
    """Wherever a fine grid of places holds the box in a many-cornered space, so does the exact answer."""
    middle = np.mean(points, axis=0)
    ring = sorted(points, key=lambda p: np.arctan2(p[1] - middle[1], p[0] - middle[0]))
    space = Polygon(ring)
    if not space.is_valid or space.area < 0.02:
        return
    box = Polygon(outline(width, height, (0.0, 0.0), (0.0, 0.0)))
    spots = [(x, y) for x in np.linspace(0, 1, 21) for y in np.linspace(0, 1, 21)]
    found = any(space.covers(affinity.translate(box, x, y)) for x, y in spots)
    exact = goes_in(outline(width, height, (0.0, 0.0), (0.0, 0.0)), tuple(space.exterior.coords[:-1]))
    assert exact or not found


def test_clearance_is_measured_square_to_every_face() -> None:
    """A 45 degree slope keeps the same 40 mm as a wall, not 40 mm across and up."""
    bare = outline(1.0, 0.8, (0.0, 0.0), (0.3, 0.3))
    grown = _hull(surrounded(bare, Around(below=0.04, above=0.04, aside=0.04)))
    assert Polygon(bare).boundary.hausdorff_distance(grown.boundary) == pytest.approx(0.04, rel=2e-3)
    uneven = _hull(surrounded(outline(1.0, 0.8, (0.0, 0.0), (0.0, 0.0)), Around(above=0.1, aside=0.02))).bounds
    assert uneven == pytest.approx((-0.02, 0.0, 1.02, 0.9), abs=1e-9)


def _hull(points: Array) -> Geometry:
    return MultiPoint(points).convex_hull


@settings(max_examples=100, deadline=None)
@given(
    st.floats(0.05, 1.2),
    st.floats(0.05, 1.2),
    st.floats(0.3, 1.5),
    st.floats(0.1, 1.0),
    st.tuples(st.floats(0.0, 0.1), st.floats(0.0, 0.1), st.floats(0.0, 0.1)),
)
def test_clipping_and_the_general_way_agree_in_convex_spaces(
    width: float, height: float, far: float, low: float, clear: tuple[float, float, float]
) -> None:
    """Under a slope from `low` to 1.2 m both ways say the same, but within a hair of an exact fit.

    The general way takes a ring of corners for the clearance, which lies up to 0.13 % of it inside the ellipse.
    """
    space = ((0.0, 0.0), (far, 0.0), (far, 1.2), (0.0, low))
    around, plain = Around(below=clear[0], above=clear[1], aside=clear[2]), (0.0, 0.0)
    hair = 1e-6 + 0.004 * max(clear)
    less, more = (goes_in(outline(width + d, height + d, plain, plain), space, around) for d in (-hair, hair))
    general = room_to_move(surrounded(outline(width, height, plain, plain), around), space) >= 0.0
    assert less >= general >= more
