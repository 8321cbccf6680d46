"""Fresh air of one booth: none, some, only as fresh as the office, and what a session does to it, by hand."""

from __future__ import annotations

import math
from importlib.resources import files

import pytest

from rooms import COOLER, FAN, RECOVERY, WEATHER, room
from small import written
from sordino.assess.assessment import Assessment, assess
from sordino.assess.finding import Finding
from sordino.assess.rules import rules_of_thumb
from sordino.errors import PlanError
from sordino.physics.climate import co2, people

LOFT = (files("sordino") / "examples" / "mill-loft.toml").read_text(encoding="utf-8")


def asked(found: Assessment, question: str, mode: str = "normal") -> Finding:
    return next(each for each in found.findings if (each.question, each.mode) == (question, mode))


def test_a_unit_that_only_recirculates_brings_no_fresh_air() -> None:
    found = assess(room(COOLER))
    told = asked(found, "fresh air", "")
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
    assert fresh.worth == pytest.approx(fresh.flow * 400.0 / 580.0, rel=1e-6)  # 600 ppm of 420 to 1000
    assert fresh.settles == pytest.approx(600.0 + 1e6 * people.co2_rate(1.2, 23.0) / fresh.flow, rel=0.01)


def test_the_session_is_the_closed_form_in_one_room() -> None:
    found = assess(room(FAN))
    told, flow = found.indoors.sessions["normal"], found.indoors.fresh[0].flow
    rate = people.co2_rate(1.2, 23.0)
    end = co2.settled(rate, flow)
    for minutes in (5, 23, 90):
        want = end + (people.OUTDOORS - end) * math.exp(-60.0 * minutes * flow / 4.0)
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


STALE_LOFT = FAN.replace('from = "outside"', 'from = "loft"')


def test_stale_air_does_not_count_as_fresh() -> None:
    loft = room(STALE_LOFT).space["loft"].model_copy(update={"co2": 3000.0})
    plan = room(STALE_LOFT)
    found = assess(plan.model_copy(update={"space": {**plan.space, "loft": loft}}))
    told, fresh = asked(found, "fresh air"), found.indoors.fresh[0]
    assert told.standing == "missed"
    assert fresh.flow > fresh.need
    assert told.value == fresh.worth == 0.0
    assert "only as fresh as the loft" in told.sentence
    assert "worth no air from outdoors" in told.sentence


def test_every_mode_with_people_in_is_judged() -> None:
    modes = '[mode.take]\nspeeds = { fan = "25 %" }\n[mode.break]\nspeeds = { fan = "100 %" }\n'
    found = assess(room(FAN, modes))
    take, pause = asked(found, "fresh air", "take"), asked(found, "fresh air", "break")
    assert take.value is not None
    assert 0.1 * 5.6e-3 < take.value < 0.9 * 5.6e-3
    assert (take.standing, pause.standing) == ("missed", "met")
    assert "misses; 1000 ppm of carbon dioxide after" in take.sentence


def test_a_room_without_fresh_air_is_told_of_once() -> None:
    modes = '[mode.take]\nspeeds = { unit = "40 %" }\n[mode.break]\nspeeds = { unit = "100 %" }\n'
    told = [each for each in assess(room(COOLER, modes)).findings if each.question == "fresh air"]
    assert [(each.standing, each.mode) for each in told] == [("stop", "")]


def test_some_air_is_not_called_none() -> None:
    crowd = room(FAN, people='people = [{ count = 40, activity = "dancing" }]')
    told = asked(assess(crowd), "fresh air", "")
    assert told.standing == "stop"
    assert "hardly any fresh air" in told.sentence
    assert "no fresh air" not in told.sentence


def test_a_crowd_that_has_no_room_to_stand_is_asked_about() -> None:
    """Four fit on the 2 m2 at 0.46 m2 each, five don't."""
    for count, crowded in ((4, False), (5, True)):
        found = assess(room(FAN, people=f"people = [{{ count = {count} }}]"))
        stops = [each for each in found.findings if each.standing == "stop" and "people on" in each.sentence]
        assert bool(stops) == crowded


def test_air_of_other_rooms_is_mentioned_where_it_lifts_the_gas() -> None:
    found = assess(written(LOFT), fields=False)
    fresh = next(each for each in found.indoors.fresh if (each.room, each.mode) == ("reading", "boost"))
    assert fresh.flow > fresh.need_co2
    assert fresh.settles > fresh.limit
    told = next(e for e in found.findings if (e.question, e.subject, e.mode) == ("fresh air", "reading", "boost"))
    assert f"it tends to {fresh.settles:.0f} ppm: air of other rooms comes in too" in told.sentence


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("35 °C", "100 °C", "no air is at '100 °C' there"),
        ("35 °C", "65 °C", "outdoor air of 65 °C \\(summer_day\\) is nowhere on earth"),
        ("-10 °C", "40 °C", "winter, at 40 °C, is warmer than the summer day, at 35 °C"),
        ("35 °C", "-20 °C", "winter, at -10 °C, is warmer than the summer day, at -20 °C"),
    ],
)
def test_weather_that_is_nowhere_is_refused(old: str, new: str, says: str) -> None:
    with pytest.raises(PlanError, match=says):
        room(FAN, weather=WEATHER.replace(f'"{old}"', f'"{new}"'))


def test_a_unit_that_blows_warm_air_is_refused() -> None:
    with pytest.raises(PlanError, match="no unit cools with air of '40 °C'"):
        room(COOLER.replace("curve", 'coldest = "40 °C"\ncurve'))
