"""Sound that comes through surfaces: casings, duct walls, shells; and levels in spaces and at windows."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from small import FAN, ROOMS, written
from sordino.assess.airborne import escaping, shell_power
from sordino.assess.assessment import Assessment, assess
from sordino.assess.contribution import Contribution
from sordino.bands import energy_sum
from sordino.elements.element import Wall
from sordino.plan.shell import Shell
from sounds import LOUD, heard

WAY = '\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nsize = "160 mm"\nparts = [{}]\n'
SHELL = """
[shell.wall]
between = ["{}", "there"]
area = "8 m2"
loss = [30, 35, 40, 45, 50, 50, 50, 50]
"""
OUTDOORS = """
[space.outside]
is = "outside"

[space.next-door]
is = "window"
distance = "{} m"

[run.exhaust]
from = "there"
to = "outside"
size = "160 mm"
"""


def wall(loss: float, outer: float = 2.0, inner: float = 0.02) -> Wall:
    """A duct wall of one loss in all bands."""
    return Wall(breakout=np.full(9, loss), breakin=np.full(9, loss), outer_area=outer, inner_area=inner)


def test_what_a_wall_lets_out() -> None:
    """Lw - TL + 10 lg(Ao/Ai): 80 dB, 45 dB, 100 times the section: 55 dB (SMACNA 11.24, structure read).

    A loss of 0.2 dB along it leaves (1 - 10^-0.02) 10/(0.2 ln 10) = 0.977 of the area: 0.10 dB less.
    """
    np.testing.assert_allclose(escaping(np.full(9, 80.0), wall(45.0), np.full(9, 0.2)), 54.90, atol=0.01)


def test_sound_that_dies_away_radiates_from_less() -> None:
    """12 dB over the length leaves (1 - 10^-1.2) 10/(12 ln 10) = 0.339 of it: 4.70 dB less."""
    out = escaping(np.full(9, 80.0), wall(25.0), np.full(9, 12.0))
    np.testing.assert_allclose(out, 75.0 - 4.70, atol=0.01)


def test_cutting_a_duct_in_pieces_lets_no_more_out() -> None:
    """Fifteen pieces of a thin-walled duct that loses 6 dB radiate together what the whole one does."""
    thin, pieces = wall(3.0), 15
    whole = escaping(np.full(9, 80.0), thin, np.full(9, 6.0))
    piece = Wall(
        breakout=thin.breakout,
        breakin=thin.breakin,
        outer_area=thin.outer_area / pieces,
        inner_area=thin.inner_area,
    )
    each = [escaping(np.full(9, 80.0 - 6.0 * i / pieces), piece, np.full(9, 6.0 / pieces)) for i in range(pieces)]
    np.testing.assert_allclose(energy_sum(each), whole, atol=1e-9)


def test_no_more_comes_out_than_is_inside() -> None:
    """However thin the wall: what leaves is what the duct loses, 3 dB of loss being half."""
    np.testing.assert_allclose(escaping(np.full(9, 80.0), wall(0.0), np.full(9, 3.0103)), 80.0 - 3.0103, atol=1e-3)


def test_a_casing_in_the_room_is_heard_as_it_is() -> None:
    """50 dB of sound power in `there` is 50 dB and the room's field."""
    plan = written(ROOMS + FAN.replace('in = "loft"', 'in = "there"') + WAY.format(""))
    assessed = assess(plan)
    (casing,) = heard(assessed, "there", "casing")
    np.testing.assert_allclose(casing.levels[1:], 50.0 + assessed.acoustics.fields["there"].gain[1:])
    assert heard(assessed, "here", "casing") == []


def test_a_thin_duct_in_the_room_is_heard_through_its_wall() -> None:
    """And a metal one far less, at 250 Hz where its wall is strongest."""
    thin, stiff = (
        heard(
            assess(written(ROOMS + FAN + WAY.format(f'{{ is = "{kind}", length = "2 m", in = "there" }}'))),
            "there",
            "breakout",
        )
        for kind in ("flexible duct", "metal duct")
    )
    assert len(thin) == len(stiff) == 1
    assert thin[0].levels[3] > stiff[0].levels[3] + 40.0
    assert thin[0].via == "way"


def test_breakout_hears_what_stands_in_the_duct() -> None:
    """2 m of round duct, 160 mm, 64 dB at 125 Hz (8 in row of the table; memory), wall of 50 sections: by hand."""
    plan = written(ROOMS + FAN + WAY.format('{ is = "metal duct", length = "2 m", in = "there" }'))
    assessed = assess(plan)
    carried = next(c for c in assessed.acoustics.carriages if c.route.name() == "way" and c.route.end.place == "there")
    (sound,) = heard(assessed, "there", "breakout")
    by_hand = 60.0 + carried.inside[0][2] - 64.0 + 10 * np.log10(50.0) + assessed.acoustics.fields["there"].gain[2]
    assert carried.inside[0][2] > 1.5
    assert sound.levels[2] == pytest.approx(by_hand, abs=0.15)


def test_a_shell_by_hand() -> None:
    """95 dB at 1 m in `here`, 8 m2 of wall: L - R + 10 lg(S/A) in `there` (ISO 12999 form; diffuse rooms)."""
    plan = written(LOUD + FAN + SHELL.format("here") + WAY.format(""))
    assessed = assess(plan)
    sound = next(s for s in assessed.crosstalk["there"].heard.contributions if s.via == "wall")
    fields = assessed.acoustics.fields
    source = 106.0 + 10 * np.log10(4 / fields["here"].absorption)
    by_hand = (
        source - np.array([np.nan, 30, 35, 40, 45, 50, 50, 50, 50]) + 10 * np.log10(8 / fields["there"].absorption)
    )
    np.testing.assert_allclose(sound.levels[1:], by_hand[1:])


def test_a_neighbouring_space_comes_through_its_shell() -> None:
    """The loft holds the fan's casing; `there` hears it through the ceiling as background."""
    plan = written(ROOMS + FAN + SHELL.format("loft") + WAY.format(""))
    assessed = assess(plan)
    (sound,) = heard(assessed, "there", "background")
    level = 50.0 + assessed.acoustics.fields["loft"].gain
    by_hand = level[5] - 50 + 10 * np.log10(8 / assessed.acoustics.fields["there"].absorption[5])
    assert sound.levels[5] == pytest.approx(by_hand, abs=0.01)


def test_a_stated_background_hides_no_machine() -> None:
    """It is the level with all air off: street noise is in it, the fan's casing behind the ceiling is not."""
    noisy = FAN.replace('is = "attic"', 'is = "attic"\nnoise = [60, 60, 60, 60, 60, 60, 60, 60]')
    stated = ROOMS.replace('width = "3.2 m"', 'width = "3.2 m"\nbackground = [20, 20, 20, 20, 20, 20, 20, 20]')
    assessed = assess(written(stated + noisy + SHELL.format("loft") + WAY.format("")))
    by_shell, as_stated = heard(assessed, "there", "background")
    assert (by_shell.via, as_stated.via) == ("wall", "")
    np.testing.assert_allclose(as_stated.levels[1:], 20.0)
    level = 50.0 + assessed.acoustics.fields["loft"].gain[5]
    by_hand = level - 50 + 10 * np.log10(8 / assessed.acoustics.fields["there"].absorption[5])
    assert by_shell.levels[5] == pytest.approx(by_hand, abs=0.01)


def test_a_duct_through_a_loud_room_takes_its_sound_along() -> None:
    """`here` is loud, and the supply of `there` passes through it: break-in, and out of `here` through no opening."""
    duct = '{ is = "flexible duct", length = "3 m", in = "here" }'
    text = LOUD + FAN.replace('from = "here"', 'from = "loft"') + WAY.format(duct)
    assessed = assess(written(text))
    (sound,) = assessed.crosstalk["there"].heard.contributions
    assert (sound.cause, sound.origin, sound.via) == ("break-in", "here", "way")
    assert np.all(sound.levels[1:4] > 20.0)
    pair = next(p for p in assessed.isolations if (p.source, p.receiver) == ("here", "there"))
    assert pair.ducts is not None


def test_the_same_wall_lets_sound_out_on_the_way() -> None:
    """Turned round, `there` is loud: its sound in the duct leaves by the wall in `here`."""
    duct = '{ is = "flexible duct", length = "3 m", in = "here" }'
    loud = ROOMS.replace('width = "3.2 m"', 'width = "3.2 m"\nloudest = [95, 95, 95, 95, 95, 95, 95, 95]')
    assessed = assess(written(loud + FAN.replace('from = "here"', 'from = "loft"') + WAY.format(duct)))
    (sound,) = assessed.crosstalk["here"].heard.contributions
    assert (sound.origin, sound.via, sound.station) == ("there", "way", "flexible duct wall")
    assert np.all(sound.levels[1:4] > 10.0)


def test_twice_the_distance_to_the_window_is_six_decibels() -> None:
    """For fan noise out of the exhaust and for sound of the room."""
    loud = ROOMS.replace('width = "3.2 m"', 'width = "3.2 m"\nloudest = [95, 95, 95, 95, 95, 95, 95, 95]')
    near, far = (assess(written(loud + FAN + WAY.format("") + OUTDOORS.format(r))) for r in (6, 12))
    for assessed in (near, far):
        assert assessed.crosstalk["next-door"].heard.contributions
    fall = near.crosstalk["next-door"].levels - far.crosstalk["next-door"].levels
    np.testing.assert_allclose(fall[1:], 6.02, atol=0.01)
    first, second = (one_air(assessed) for assessed in (near, far))
    np.testing.assert_allclose((first.levels - second.levels)[1:], 6.02, atol=0.01)


def one_air(assessed: Assessment) -> Contribution:
    """Noise of the air at the exhaust's outer end, at the window."""
    return next(s for s in heard(assessed, "next-door", "air") if s.station.startswith("open end"))


def test_a_shell_lets_sound_out_into_the_open() -> None:
    """Lp + 10 lg S - 6 - R: 95 dB, 10 m2, 40 dB: 59 dB of sound power (diffuse incidence, closed form)."""
    fields: dict[str, Any] = {"between": ("a", "b"), "area": "10 m2", "loss": [40] * 8}
    shell = Shell.model_validate(fields)
    np.testing.assert_allclose(shell_power(shell, np.full(9, 95.0))[1:], 59.0, atol=0.03)
