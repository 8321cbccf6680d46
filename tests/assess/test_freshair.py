"""Fresh air of one booth: none, some, only as fresh as the office, and what a session does to it, by hand."""

from __future__ import annotations

import math

import pytest

from rooms import COOLER, FAN, RECOVERY, room
from sordino.assess.assessment import Assessment, assess
from sordino.assess.finding import Finding
from sordino.assess.freshair import rules_of_thumb
from sordino.errors import PlanError
from sordino.physics.climate import co2, people


def asked(found: Assessment, question: str, mode: str = "normal") -> Finding:
    return next(each for each in found.findings if (each.question, each.mode) == (question, mode))


def test_a_unit_that_only_recirculates_brings_no_fresh_air() -> None:
    found = assess(room(COOLER))
    told = asked(found, "fresh air")
    assert told.standing == "stop"
    assert "no fresh air; the unit only moves the room's own air round" in told.sentence
    assert found.indoors.fresh[0].flow < 1e-4


def test_with_a_way_in_and_out_it_is_met() -> None:
    found = assess(room(COOLER, FAN))
    told, fresh = asked(found, "fresh air"), found.indoors.fresh[0]
    assert told.standing == "met"
    assert fresh.flow == pytest.approx(found.states["normal", "clean"].flows["blow"], rel=1e-3)
    assert fresh.need == pytest.approx(5e-3 + 0.3e-3 * 2.0)


def test_a_mode_without_fresh_air_is_said() -> None:
    modes = '[mode.take]\nspeeds = { fan = "0 %" }\n[mode.break]\nspeeds = { fan = "100 %" }\n'
    found = assess(room(FAN, COOLER, modes))
    take, pause = asked(found, "fresh air", "take"), asked(found, "fresh air", "break")
    assert (take.standing, pause.standing) == ("missed", "met")
    assert "no fresh air in take" in take.sentence
    reached = next(each.reached for each in found.indoors.fresh if each.mode == "take")
    rate = people.co2_rate(1.2, 23.0)
    assert reached is not None
    assert reached == pytest.approx(co2.time_to(1000.0, rate, 0.0, 4.0), rel=0.02)
    assert f"1000 ppm of carbon dioxide after {round(reached / 60.0)} min" in take.sentence


def test_air_of_the_office_is_only_as_fresh_as_the_office() -> None:
    inside = FAN.replace('from = "outside"', 'from = "office"')
    found = assess(room(inside))
    told, fresh = asked(found, "fresh air"), found.indoors.fresh[0]
    assert "only as fresh as the office" in told.sentence
    assert fresh.settles == pytest.approx(600.0 + 1e6 * people.co2_rate(1.2, 23.0) / fresh.flow, rel=0.01)


def test_the_session_is_the_closed_form_in_one_room() -> None:
    found = assess(room(FAN))
    told, flow = found.indoors.sessions["normal"], found.indoors.fresh[0].flow
    rate = people.co2_rate(1.2, 23.0)
    for minutes in (5, 23, 90):
        want = co2.level(60.0 * minutes, rate, flow, 4.0)
        assert told.co2[60 * minutes, 0] == pytest.approx(want, rel=1e-6)
    assert told.co2.shape == (7201, 1)


def test_a_stated_limit_is_judged() -> None:
    strict = room(FAN, people='people = [{ count = 1, activity = "drumming" }]\ncomfort = { co2 = "800 ppm" }')
    found = assess(strict)
    told = asked(found, "carbon dioxide")
    assert told.limit == 800.0
    assert told.standing in ("missed", "likely missed")
    assert told.value == pytest.approx(found.indoors.fresh[0].settles, rel=0.01)


def test_a_schedule_takes_turns() -> None:
    turns = 'schedule = [{ mode = "take", lasts = "20 min" }, { mode = "break", lasts = "10 min" }]'
    head = f'[session]\nlength = "1 h"\n{turns}\n'
    modes = '[mode.take]\nspeeds = { fan = "0 %" }\n[mode.break]\nspeeds = { fan = "100 %" }\n'
    told = assess(room(FAN, modes, head=head)).indoors.sessions["schedule"]
    assert told.modes == ((0.0, "take"), (1200.0, "break"), (1800.0, "take"), (3000.0, "break"))
    gas = told.co2[:, 0]
    assert gas[1200] > gas[1800] > gas[0]
    assert gas[3000] > gas[3600]


def test_volume_rules_fall_short_in_a_booth() -> None:
    """2.6 m3: 30 % of 6 changes an hour is 1.3 L/s, at which one person goes to some 4,800 ppm."""
    rules = {rule.words: rule for rule in rules_of_thumb(1, 2.6)}
    small = rules["30 % of 6 air changes an hour"].fresh
    assert 1e3 * small == pytest.approx(1.3, abs=0.01)
    assert co2.settled(0.0057e-3, small) == pytest.approx(4800.0, rel=0.01)
    assert rules["15 cfm a person"].fresh == pytest.approx(7.08e-3)
    assert rules["8 air changes an hour through the unit"].fresh == 0.0


def test_a_booth_that_stands_still_comes_to_harm_when_the_formula_says() -> None:
    fresh = assess(room(COOLER)).indoors.fresh[0]
    assert fresh.harm == pytest.approx(4580.0 * 4.0 / (1e6 * people.co2_rate(1.2, 23.0)), rel=1e-6)
    assert math.isinf(fresh.settles) or fresh.settles > 20_000.0


def test_recovery_keeps_the_gas_out() -> None:
    """All outdoor air of a heat-recovery unit counts; none of the carbon dioxide comes back."""
    found = assess(room(RECOVERY))
    fresh = found.indoors.fresh[0]
    assert fresh.flow == pytest.approx(found.states["normal", "clean"].flows["fresh-in"], rel=1e-2)
    assert fresh.settles == pytest.approx(co2.settled(people.co2_rate(1.2, 23.0), fresh.flow), rel=1e-3)


def test_a_schedule_names_modes_that_there_are() -> None:
    head = '[session]\nschedule = [{ mode = "brake", lasts = "20 min" }]\n'
    with pytest.raises(PlanError, match=r"session\.schedule\.1\.mode: there is no mode 'brake'"):
        room(FAN, '[mode.break]\nspeeds = { fan = "100 %" }\n', head=head)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('comfort = { co2 = "300 ppm" }', "no room is held to '300 ppm'"),
        ('comfort = { warmest = "80 °C" }', "nobody works at '80 °C'"),
    ],
)
def test_limits_that_make_no_sense_are_refused(line: str, says: str) -> None:
    with pytest.raises(PlanError, match=says):
        room(FAN, people=line)


def test_a_fan_is_not_believed_to_cool() -> None:
    with pytest.raises(PlanError, match="this inline fan moves air and does not cool it"):
        room(FAN.replace('in = "office"\ncurve', 'in = "office"\ncooling = "1 kW"\ncurve'))
