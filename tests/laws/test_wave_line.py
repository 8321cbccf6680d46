"""Centrelines: bends that fit, and the area of the tube around them."""

from __future__ import annotations

import numpy as np
import pytest

from sordino.errors import OutOfRange
from sordino.physics.wave.line import distance, rounded, skin

CORNERS = ((0.0, 0.1, 0.2), (1.0, 0.1, 0.2), (1.0, 0.1, 1.0))


def test_a_rounded_corner_has_its_length() -> None:
    """Two straights and a quarter circle."""
    line = np.array(rounded(CORNERS, 0.3, step=np.pi / 200))
    length = np.linalg.norm(np.diff(line, axis=0), axis=1).sum()
    assert length == pytest.approx(1.0 + 0.8 - 2 * 0.3 + np.pi / 2 * 0.3, rel=1e-5)
    assert distance(np.array([[0.7, 0.1, 0.5]]), rounded(CORNERS, 0.3, step=np.pi / 200)) == pytest.approx(
        0.3, rel=1e-4
    )


def test_the_skin_has_the_area_of_a_bent_tube() -> None:
    """Pappus: circumference times the length of the centreline, every point at the radius."""
    line = rounded(CORNERS, 0.3)
    wall = skin(line, 0.12, 0.01)
    length = 1.2 + np.pi / 2 * 0.3
    assert wall.areas.sum() == pytest.approx(2 * np.pi * 0.12 * length, rel=2e-3)
    assert distance(wall.points, line) == pytest.approx(0.12, rel=0.02)


def test_a_bend_too_wide_is_refused_with_what_fits() -> None:
    """The message gives the largest radius for the runs at hand."""
    with pytest.raises(OutOfRange, match=r"bend radius is 0\.9 m; 0\.8 m is the most that fits"):
        rounded(CORNERS, 0.9)


def test_a_run_with_one_bend_gives_it_its_whole_length() -> None:
    """The first and last run bend at one end; only the run between shares its length between two bends."""
    corners = ((0.0, 0.0, 0.0), (0.31, 0.0, 0.0), (0.31, 0.0, 0.6), (0.0, 0.0, 0.6))
    assert rounded(corners, 0.3)[1] == pytest.approx((0.01, 0.0, 0.0))
    with pytest.raises(OutOfRange, match=r"0\.3 m is the most that fits"):
        rounded(corners, 0.305)
