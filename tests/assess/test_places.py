"""Rooms, spaces and windows as sound fields."""

from __future__ import annotations

import numpy as np
import pytest

from small import between
from sordino.assess.places import fields, room_field, space_field, window_gain
from sordino.bands import CENTRES
from sordino.plan.room import Room, Space

HALL = {"length": "6 m", "width": "5 m", "height": "3 m"}


def room(**more: object) -> Room:
    """A room of 90 m3 with fields of its own."""
    return Room.model_validate(HALL | more)


def test_twice_as_far_outdoors_is_six_decibels_less() -> None:
    """Distance law; at 1 m in front of a wall Lp = Lw - 8 dB (10 lg 1/2 pi, closed form)."""
    assert window_gain(1.0) == pytest.approx(-7.98, abs=0.01)
    for distance in (2.0, 7.0, 40.0):
        assert window_gain(2.0 * distance) == pytest.approx(window_gain(distance) - 6.0206, abs=1e-4)


def test_far_above_schroeder_a_room_is_direct_and_diffuse() -> None:
    """Lp - Lw = 10 lg[Q/(4 pi r^2) + 4/A] with Q = 2 (textbook form); A from the stated finishes."""
    hall = room(listener="2 m")
    field = room_field("hall", hall, 343.2)
    by_hand = 10 * np.log10(2 / (4 * np.pi * 4.0) + 4 / hall.absorption_area[6:])
    np.testing.assert_allclose(field.gain[6:], by_hand, atol=1e-9)


def test_more_absorption_is_quieter() -> None:
    """Panels on the walls lower every band above Schroeder's frequency, and that frequency itself."""
    bare = room_field("hall", room(), 343.2)
    panels = {"patches": [{"surface": "mineral wool 50 mm 64 kg/m3", "area": "12 m2"}]}
    treated = room_field("hall", room(surfaces=panels), 343.2)
    assert np.all(treated.gain[4:] < bare.gain[4:])
    assert treated.schroeder < bare.schroeder


def test_nearer_is_louder_where_direct_sound_counts() -> None:
    """And makes no difference to the modal bands."""
    near, far = (room_field("hall", room(listener=f"{r} m"), 343.2) for r in (0.5, 4))
    assert np.all(near.gain[5:] > far.gain[5:])
    modal = CENTRES * np.sqrt(2.0) <= near.schroeder
    np.testing.assert_allclose(near.gain[modal], far.gain[modal], atol=0.6)


def test_below_schroeder_never_better_than_six() -> None:
    """The place of ear and outlet among the modes: at least 6 dB either way (judgement, stated in the table)."""
    field = room_field("hall", room(), 343.2)
    width = np.sum(list(field.spread.values()), axis=0)
    low = field.schroeder / 1.5 > CENTRES
    assert np.all(width[low] >= 6.0)
    assert np.all(width[6:] < 4.0)


def test_a_space_is_diffuse() -> None:
    """4/R with R = S a/(1 - a): 48 m3 taken as 1.442 x 5.769 x 5.769 m, S = 99.8 m2, a = 0.25: -9.2 dB."""
    space = Space.model_validate({"is": "attic", "volume": "48 m3", "absorbing": "25 %"})
    field = space_field("attic", space)
    np.testing.assert_allclose(field.gain, 10 * np.log10(4 * 0.75 / (99.84 * 0.25)), atol=0.01)
    np.testing.assert_allclose(field.absorption, 24.96, atol=0.02)


def test_fields_are_of_rooms_and_enclosed_spaces_only() -> None:
    """No field builds up outdoors or at a window."""
    assert set(fields(between(""), 343.2)) == {"here", "there", "loft"}
    assert not Space.model_validate({"is": "outside"}).enclosed
    assert not Space.model_validate({"is": "window", "distance": "9 m"}).enclosed


def test_a_sloped_ceiling_keeps_its_volume() -> None:
    """The modal field is that of a box of the same length, width and volume."""
    attic = Room.model_validate(
        {"length": "4 m", "profile": [["0 m", "0 m"], ["3 m", "0 m"], ["3 m", "2.4 m"], ["0 m", "1.2 m"]]}
    )
    assert attic.volume == pytest.approx(4 * 3 * 1.8)
    assert attic.mean_size == pytest.approx((4.0, 3.0, 1.8))
    assert attic.ceiling_area == pytest.approx(4 * np.hypot(3, 1.2))
