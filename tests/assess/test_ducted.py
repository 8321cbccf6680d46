"""Sound that comes by ducts: fans, moving air, break-in, and sound of other places."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import numpy as np
import pytest

from small import FAN, ROOMS, between, transfer, written
from sordino.assess.assessment import Assessment, assess
from sordino.assess.contribution import Contribution
from sordino.assess.sources import through_mover
from sordino.plan.statement import Plan
from sounds import LOUD, heard


def over(assessed: Assessment, place: str, cause: str = "source") -> list[Contribution]:
    """What a place hears of the loudest sounds elsewhere."""
    found = assessed.crosstalk.get(place)
    return [sound for sound in (found.heard.contributions if found else ()) if sound.cause == cause]


def one(sounds: Iterable[Contribution]) -> Contribution:
    """The only one."""
    (sound,) = sounds
    return sound


def test_a_fan_is_heard_on_both_sides() -> None:
    """Outlet in the room it blows into, inlet in the room it draws from, each by its own run."""
    assessed = assess(between('{ is = "metal duct", length = "2 m" }'))
    assert {(s.station, s.via) for s in heard(assessed, "there", "fan")} == {("outlet", "way")}
    assert {(s.station, s.via) for s in heard(assessed, "here", "fan")} == {("inlet", "draw")}


def test_fan_noise_is_power_and_carriage_and_room() -> None:
    """Three numbers in a row, in every band."""
    assessed = assess(between('{ is = "metal duct", length = "2 m" }, { is = "bend" }'))
    sound = one(heard(assessed, "there", "fan"))
    carried = next(c for c in assessed.acoustics.carriages if c.route.name() == "way" and c.route.end.place == "there")
    np.testing.assert_allclose(sound.levels, 60.0 + carried.total + assessed.acoustics.fields["there"].gain)


def test_the_schedule_ends_at_the_level() -> None:
    """Station by station: fan and air noise together arrive at what their sum at the ear is."""
    parts = '{ is = "metal duct", length = "2 m" }, { is = "bend", shape = "mitred" }, { is = "grille" }'
    assessed = assess(between(parts))
    rows = one(heard(assessed, "there", "fan")).rows
    sounds = [*heard(assessed, "there", "fan"), *heard(assessed, "there", "air")]
    both = 10 * np.log10(np.sum([10 ** (sound.levels / 10) for sound in sounds], axis=0))
    np.testing.assert_allclose(rows[-1].level, both, atol=1e-6)
    assert [row.station for row in rows[-3:]] == ["end reflection", "grille", "room effect"]


def test_every_row_takes_what_it_says() -> None:
    """The level after a row is the level before it less its attenuation, with its own noise added."""
    parts = '{ is = "metal duct", length = "2 m" }, { is = "bend" }, { is = "damper", angle = "30 deg" }'
    rows = one(heard(assess(between(parts)), "there", "fan")).rows
    for before, row in pairwise(rows[1:]):
        assert row.attenuation is not None
        left = before.level - row.attenuation
        assert np.all(row.level[1:] >= left[1:] - 1e-9)
        if row.own is None:
            np.testing.assert_allclose(row.level, left)


def test_air_noise_comes_from_each_station_once() -> None:
    """A bend, a damper, a grille, at the opening they blow into; the fan's own side hears its own."""
    parts = '{ is = "bend" }, { is = "damper", angle = "40 deg" }, { is = "grille" }'
    assessed = assess(between(parts))
    assert sorted(s.station for s in heard(assessed, "there", "air")) == ["bend", "damper", "grille"]
    assert [s.station for s in heard(assessed, "here", "air")] == ["open end"]


def test_fan_noise_goes_by_speed_and_air_noise_by_flow() -> None:
    """50 lg of the fan's speed (memory), 60 lg of the flow at a grille (Beranek, memory), within what the bands cut."""
    text = between('{ is = "grille" }')
    modes = {"normal": text.mode["normal"], "half": text.mode["normal"].model_copy(update={"speeds": {"fan": 0.5}})}
    assessed = assess(text.model_copy(update={"mode": modes}))
    levels = {
        (mode, sound.cause): 10 * np.log10(np.nansum(10 ** (sound.levels / 10)))
        for mode in modes
        for sound in assessed.noise["there", mode].heard.contributions
        if sound.cause in ("fan", "air")
    }
    flows = [assessed.states[mode, "clean"].flows["way"] for mode in modes]
    assert levels["normal", "fan"] - levels["half", "fan"] == pytest.approx(15.05, abs=0.02)
    assert levels["normal", "air"] - levels["half", "air"] == pytest.approx(60 * np.log10(flows[0] / flows[1]), abs=1.5)


def test_a_noisy_space_breaks_into_the_duct() -> None:
    """An attic at 70 dB round 4 m of flexible duct: by hand at 4 kHz.

    pi x 0.16 x 4 = 2.011 m2 of wall; 70 + 10 lg(2.011/4) - R - 3, R = 20 lg(pi f m / rho c) - 5 of 1 kg/m2 at 3981 Hz
    = 20 lg 30.27 - 5 = 24.6 dB; then end reflection 0.07 dB and the room.
    """
    attic = FAN.replace('is = "attic"', 'is = "attic"\nnoise = [70, 70, 70, 70, 70, 70, 70, 70]')
    duct = '{ is = "flexible duct", length = "4 m", in = "loft", wall_mass = "1 kg/m2" }'
    plan = written(f'{ROOMS}{attic}\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\nparts = [{duct}]\n')
    assessed = assess(plan)
    sound = one(heard(assessed, "there", "break-in"))
    assert (sound.origin, sound.station) == ("loft", "flexible duct")
    casing_adds = 10 * np.log10(1 + 10 ** ((50 + assessed.acoustics.fields["loft"].gain[7] - 70) / 10))
    by_hand = 70.0 + 10 * np.log10(2.011 / 4) - 24.6 - 3.0 - 0.07 + assessed.acoustics.fields["there"].gain[7]
    assert sound.levels[7] == pytest.approx(by_hand + casing_adds, abs=0.15)


def test_a_transfer_duct_lets_rooms_hear_each_other() -> None:
    """The loud room's level, its opening, the duct, the other's room: and the silencer in it takes what it should."""
    parts = '{ is = "metal duct", length = "1 m" }'
    silencer = (
        '{ is = "silencer", length = "1 m", loss = [20, 20, 20, 20, 20, 20, 20, 20], drop = "9 Pa", at = "60 L/s" }'
    )
    open_, shut = (
        one(s for s in over(assess(_loud(transfer(text))), "there") if s.via == "way")
        for text in (parts, f"{parts}, {silencer}")
    )
    assert open_.origin == "here"
    np.testing.assert_allclose(open_.levels[7:] - shut.levels[7:], 20.0, atol=0.01)
    assert open_.rows[0].station == "level at the opening"
    np.testing.assert_allclose(open_.rows[-1].level, open_.levels)


def _loud(plan: Plan) -> Plan:
    room = plan.room["here"].model_copy(update={"loudest": (95.0,) * 9})
    return plan.model_copy(update={"room": plan.room | {"here": room}})


def test_sound_goes_through_a_mover() -> None:
    """Into its inlet, out of its outlet: the way's two parts less what the mover takes."""
    plan = written(f'{LOUD}{FAN}\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n')
    assessed = assess(plan)
    sound = one(over(assessed, "there"))
    assert sound.via == "draw + fan + way"
    parts = [
        next(c for c in assessed.acoustics.carriages if c.route.name() == run and c.route.start.kind == kind)
        for run, kind in (("draw", "room"), ("way", "mover"))
    ]
    field = assessed.acoustics.fields["here"]
    source = 95.0 + 11.0 + 10 * np.log10(4 / field.absorption)
    by_hand = source + parts[0].total - through_mover(plan.mover["fan"]) + parts[1].total
    np.testing.assert_allclose(sound.levels[1:], (by_hand + assessed.acoustics.fields["there"].gain)[1:])


def test_outdoor_noise_comes_in_by_the_intake() -> None:
    """A road outside an intake: more noise out there is as much more in here."""
    text = ROOMS + FAN.replace('from = "here"', 'from = "outside"')
    text += '[space.outside]\nis = "outside"\nnoise = [LEVEL, LEVEL, LEVEL, LEVEL, LEVEL, LEVEL, LEVEL, LEVEL]\n'
    text += '[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\n'
    quiet, loud = (
        one(heard(assess(written(text.replace("LEVEL", str(level)))), "there", "outdoors")) for level in (50, 61)
    )
    np.testing.assert_allclose((loud.levels - quiet.levels)[1:], 11.0)
    assert loud.via == "draw + fan + way"
