"""What makes sound: spectra given, spectra guessed, speeds, ports left out, loud things in rooms."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from sordino.assess.places import room_field
from sordino.assess.sources import port_power, room_level, through_mover
from sordino.physics.sound.weighting import a_level
from sordino.plan.mover import Mover
from sordino.plan.room import Room

SPECTRUM = [66, 64, 61, 57, 52, 48, 43, 37]


def mover(kind: str = "ducted unit", **sound: Any) -> Mover:
    """A mover that sounds as stated."""
    return Mover.model_validate(
        {"is": kind, "in": "loft", "curve": [["0 L/s", "90 Pa"], ["100 L/s", "0 Pa"]], "sound": sound}
    )


def width(strength_of: Mover, port: str) -> Any:
    """Half-width of the sound power at a port, 63 Hz up."""
    return port_power("m", strength_of, port, 1.0).spread["sound power of m"][1:]


def test_a_given_spectrum_arrives() -> None:
    """From 63 Hz up; 31.5 Hz was not given and is not assessed."""
    found = port_power("m", mover(supply=SPECTRUM), "supply", 1.0)
    np.testing.assert_array_equal(found.levels[1:], SPECTRUM)
    assert np.isnan(found.levels[0])
    assert found.note == ""


def test_half_speed_is_fifteen_decibels_less() -> None:
    """50 lg of speed (fan laws, ASHRAE; memory): 15.05 dB; at rest there is no sound."""
    full, half, still = (port_power("m", mover(supply=SPECTRUM), "supply", n).levels[1:] for n in (1.0, 0.5, 0.0))
    np.testing.assert_allclose(full - half, 15.05, atol=0.01)
    assert np.all(still < -100.0)


def test_a_port_left_out_takes_the_other_end_of_its_stream() -> None:
    """With a note, and 3 dB more of range; a port of the other stream only if nothing nearer is known."""
    one = mover("heat-recovery unit", supply=SPECTRUM)
    for port, word in (("outdoor", "other end of the stream"), ("extract", "another port")):
        found = port_power("m", one, port, 1.0)
        np.testing.assert_array_equal(found.levels[1:], SPECTRUM)
        assert word in found.note
        np.testing.assert_allclose(width(one, port) - width(one, "supply"), 3.0)


def test_its_own_stream_comes_before_another() -> None:
    """Extract and exhaust belong together, whatever the supply sounds like."""
    other = [value + 9 for value in SPECTRUM]
    unit = mover("heat-recovery unit", supply=SPECTRUM, exhaust=other)
    np.testing.assert_array_equal(port_power("m", unit, "extract", 1.0).levels[1:], other)
    np.testing.assert_array_equal(port_power("m", unit, "outdoor", 1.0).levels[1:], SPECTRUM)


def test_a_rated_figure_widens_the_range_and_says_so() -> None:
    """A power of 50 dBA given as such: the casing's spectrum has about that A level, and every band a wider range."""
    rated = mover(rated="50 dBA")
    found = port_power("m", rated, "casing", 1.0)
    assert a_level(found.levels) == pytest.approx(50.0, abs=4.0)
    assert a_level(found.levels) >= 50.0
    assert "only a dBA figure is known" in found.note
    assert np.all(width(rated, "casing") > width(mover(casing=SPECTRUM), "casing"))
    assert np.all(width(rated, "supply") > width(rated, "casing"))


def test_a_figure_at_a_distance_stands_for_eleven_decibels_more() -> None:
    """Lw = Lp + 10 lg 4 pi r^2: 10.99 dB at 1 m, 17.01 at 2 m (free space, closed form)."""
    power, near, far = (
        port_power("m", mover(rated="40 dBA", **more), "casing", 1.0).levels[1:]
        for more in ({}, {"at": "1 m"}, {"at": "2 m"})
    )
    np.testing.assert_allclose(near - power, 10.99, atol=0.01)
    np.testing.assert_allclose(far - power, 17.01, atol=0.01)


def test_what_goes_into_the_duct_is_louder_than_what_the_catalogue_heard() -> None:
    """5 dB (memory) over the casing's power, never less."""
    rated = mover(rated="40 dBA", at="1 m")
    duct, casing = (port_power("m", rated, port, 1.0).levels[1:] for port in ("supply", "casing"))
    np.testing.assert_allclose(duct - casing, 5.0)


def test_a_casing_of_which_nothing_is_known_is_silent() -> None:
    """Spectra for ports say nothing of the casing: left out in every band, and the note says so."""
    found = port_power("m", mover(supply=SPECTRUM), "casing", 1.0)
    assert np.all(found.levels < -100.0)
    assert "nothing is known of its casing" in found.note


def test_a_fan_known_by_its_casing_is_not_silent_in_its_ducts() -> None:
    """10 dB more than the casing goes into each duct (judgement), with 5 dB more of range and a note."""
    known = mover(casing=SPECTRUM)
    found = port_power("m", known, "supply", 1.0)
    np.testing.assert_allclose(found.levels[1:], np.array(SPECTRUM) + 10.0)
    np.testing.assert_allclose(width(known, "supply") - width(known, "casing"), 5.0)
    assert "casing's spectrum" in found.note


def test_a_mover_in_the_way_takes_something() -> None:
    """More the more there is inside it, and never a gain (judgement)."""
    fan, unit, exchanger = (through_mover(mover(kind, rated="40 dBA"))[1:] for kind in KINDS)
    assert np.all(fan > 0.0)
    assert np.all(unit >= fan)
    assert np.all(exchanger >= unit)


KINDS = ("inline fan", "ducted unit", "heat-recovery unit")


def test_the_loudest_thing_in_a_room() -> None:
    """Given at 1 m it excites the room's own field: Lp + 11 + 10 lg(4/A); nothing stated is no source."""
    hall = Room.model_validate({"length": "6 m", "width": "5 m", "height": "3 m", "loudest": [90] * 8})
    field = room_field("hall", hall, 343.2)
    found = room_level(hall, field)
    assert found is not None
    np.testing.assert_allclose(found.levels[1:], (90.0 + 11.0 + 10 * np.log10(4 / field.absorption))[1:])
    assert room_level(hall.model_copy(update={"loudest": None}), field) is None


def test_a_kind_by_name() -> None:
    """A drum kit is louder than loud speech in every band from 63 Hz."""
    hall = Room.model_validate({"length": "6 m", "width": "5 m", "height": "3 m"})
    field = room_field("hall", hall, 343.2)
    drums, speech = (
        room_level(hall.model_copy(update={"loudest": kind}), field) for kind in ("drum kit", "speech loud")
    )
    assert drums is not None
    assert speech is not None
    assert np.all(drums.levels[1:] > speech.levels[1:] + 10.0)
