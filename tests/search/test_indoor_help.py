"""What helps against stale air, heat and wet: every figure is that of the changed plan, assessed anew."""

from __future__ import annotations

from importlib.resources import files

import pytest

from rooms import COOLER, FAN, RECOVERY, room
from small import written
from sordino.assess.assessment import Assessment, assess
from sordino.assess.finding import Finding
from sordino.assess.gains import room_gains
from sordino.elements.wrap import Wrap
from sordino.physics.climate import moist
from sordino.report.indoor_words import indoor_words
from sordino.search import indoor_edits
from sordino.search.drying import against_humidity
from sordino.search.help import Help, helping
from sordino.search.indoor_help import indoor_remedies

LOFT = (files("sordino") / "examples" / "mill-loft.toml").read_text(encoding="utf-8")

HOT = 'people = [{ count = 1, activity = "drumming" }]\ngear = "300 W"'


def missed(found: Assessment, question: str) -> Finding:
    return next(each for each in found.findings if each.missed and each.question == question)


def test_a_room_without_fresh_air_is_given_some() -> None:
    found = assess(room(COOLER))
    told = indoor_remedies(found, missed(found, "fresh air"))
    assert told is not None
    best = told.best[0]
    assert best.meets
    assert best.words.startswith("a heat-recovery unit of ")
    need = 1.1 * found.indoors.fresh[0].need
    again = assess(indoor_edits.with_fresh_air_unit("booth", need)(found.plan))
    assert best.after == pytest.approx(again.indoors.fresh[0].flow, rel=0.02)
    assert not [each for each in again.findings if each.question == "fresh air" and each.missed]


def test_a_wet_duct_is_wrapped_until_it_is_dry() -> None:
    found = assess(room(COOLER, FAN, people=HOT))
    finding = missed(found, "moisture")
    told = indoor_remedies(found, finding)
    assert told is not None
    best = told.best[0]
    assert best.meets
    assert best.after > best.before == finding.value
    wrap = Wrap.model_validate({"r": "0.7 m2K/W", "jacket": "plastic film", "retarder": "outside"})
    assert best.words == "0.70 m2K/W round the ducts with the vapour retarder on its outside"
    again = assess(indoor_edits.with_wrap(finding.subject, wrap)(found.plan))
    assert not [e for e in again.findings if e.question == "moisture" and e.missed and e.subject == finding.subject]


def test_gear_elsewhere_is_tried_against_heat() -> None:
    warm = 'people = [{ count = 1, activity = "seated" }]\ngear = "260 W"\ncomfort = { warmest = "28 °C" }'
    inside = FAN.replace('from = "outside"', 'from = "office"')
    found = assess(room(inside, people=warm))
    finding = missed(found, "cooling")
    told = indoor_remedies(found, finding)
    assert told is not None
    best = told.best[0]
    assert best.words == "the gear outside the room"
    again = assess(indoor_edits.without_gear("booth")(found.plan))
    assert best.after == pytest.approx(again.indoors.heat[0].end, rel=1e-6)
    assert best.meets == (best.after <= 28.0)


def test_the_least_speed_that_will_do_is_told() -> None:
    mode = '[mode.take]\nspeeds = { fan = "20 %" }\n'
    strict = 'people = [{ count = 1, activity = "drumming" }]\ncomfort = { co2 = "2000 ppm" }'
    found = assess(room(FAN, mode, people=strict))
    told = indoor_remedies(found, missed(found, "carbon dioxide"))
    assert told is not None
    assert told.best[0].words == "everything at 60 % speed in take"
    again = assess(indoor_edits.with_everything_at("take", 0.6)(found.plan))
    assert told.best[0].after == pytest.approx(again.indoors.fresh[0].end, rel=1e-3)
    slower = assess(indoor_edits.with_everything_at("take", 0.5)(found.plan))
    assert slower.indoors.fresh[0].end > 2000.0


def test_stale_make_up_air_is_taken_from_outdoors() -> None:
    plan = room(FAN.replace('from = "outside"', 'from = "loft"'))
    loft = plan.space["loft"].model_copy(update={"co2": 3000.0})
    found = assess(plan.model_copy(update={"space": {**plan.space, "loft": loft}}))
    told = indoor_remedies(found, missed(found, "fresh air"))
    assert told is not None
    best = told.best[0]
    assert best.words == "the air taken from outdoors instead of from the loft"
    assert best.meets
    again = assess(room(FAN))
    assert best.after == pytest.approx(again.indoors.fresh[0].worth, rel=1e-3)


def test_noise_that_more_air_costs_is_told() -> None:
    mode = '[mode.take]\nspeeds = { fan = "20 %" }\n'
    strict = 'target = "NC-20"\npeople = [{ count = 1, activity = "drumming" }]\ncomfort = { co2 = "2000 ppm" }'
    loud = FAN.replace('rated = "30 dBA"', 'rated = "38 dBA"')
    found = assess(room(loud, mode, people=strict))
    finding = missed(found, "carbon dioxide")
    told = indoor_remedies(found, finding)
    assert told is not None
    best = told.best[0]
    again = assess(indoor_edits.with_everything_at("take", 0.6)(found.plan))
    before, after = (each.noise["booth", "take"].rating.value for each in (found, again))
    assert round(before) <= 20 < round(after)
    assert [(each.place, each.target) for each in best.spoils] == [("booth", 20.0)]
    assert best.spoils[0].after == pytest.approx(after, abs=0.5)
    words = indoor_words(found, finding, helping(found, ("take",)))
    assert f"But then NC {after:.0f} instead of NC" in words
    assert "misses NC 20" in words


def test_a_new_unit_moves_about_what_it_is_called() -> None:
    found = assess(room(COOLER))
    need = 1.1 * found.indoors.fresh[0].need
    again = assess(indoor_edits.with_fresh_air_unit("booth", need)(found.plan))
    assert again.indoors.fresh[0].flow == pytest.approx(need, rel=0.12)


def test_a_room_that_nothing_cools_is_offered_a_cooler() -> None:
    warm = 'people = [{ count = 1, activity = "singing" }]\ncomfort = { warmest = "26 °C" }'
    found = assess(room(FAN, people=warm))
    told = indoor_remedies(found, missed(found, "cooling"))
    assert told is not None
    best = told.best[0]
    assert best.words.startswith("a cooling unit that carries ")
    assert best.meets
    again = assess(indoor_edits.with_cooler("booth", 1.1 * found.indoors.heat[0].supply_needed)(found.plan))
    heat = again.indoors.heat[0]
    assert best.after == pytest.approx(heat.end, abs=0.05)
    assert heat.carries >= heat.load


def test_a_unit_too_weak_is_offered_stronger() -> None:
    weak = COOLER.replace('in = "loft"\ncurve', 'in = "loft"\ncooling = "50 W"\ncurve', 1)
    warm = 'people = [{ count = 1, activity = "singing" }]\ncomfort = { warmest = "25 °C" }'
    found = assess(room(weak, FAN, people=warm))
    told = indoor_remedies(found, missed(found, "cooling"))
    assert told is not None
    best = told.best[0]
    assert best.words.startswith("a unit of ")
    assert best.meets
    power = 1.1 * found.indoors.heat[0].load / 0.75
    again = assess(indoor_edits.with_cooling("unit", power)(found.plan))
    assert best.after == pytest.approx(again.indoors.heat[0].end, abs=0.01)


def test_a_damp_room_is_told_what_must_be_taken_out() -> None:
    """Per hour: what a singer gives off and what outdoor air of 85 % at 29 °C brings over 60 % inside."""
    damp = 'people = [{ count = 1, activity = "singing" }]\ncomfort = { humidity = "60 %" }'
    found = assess(room(FAN, people=damp))
    finding = missed(found, "humidity")
    told = indoor_remedies(found, finding)
    assert told is not None
    best = told.best[0]
    assert best.meets
    assert 0.55 < best.after <= 0.60 < best.before
    network, rooms = found.indoors.climates["normal", "humid_night"], found.indoors.rooms["normal", "humid_night"]
    end = float(rooms.session.temperature[-1, 0])
    inside = moist.humidity_ratio(end, 0.60, 101_325.0)
    gives = room_gains(found.plan.room["booth"]).water
    want = gives + network.dry_mass * found.indoors.fresh[0].flow * (network.outside.ratio - inside)
    grams = float(best.words.split(" g/h")[0].split()[-1])
    assert grams == pytest.approx(3.6e6 * want, rel=0.03)


def test_a_recovery_unit_is_tried_with_moisture() -> None:
    damp = 'people = [{ count = 1, activity = "singing" }]\ncomfort = { humidity = "20 %" }'
    found = assess(room(RECOVERY, people=damp))
    finding = missed(found, "humidity")
    tried = [each for each, _ in against_humidity(found, finding)]
    assert "hands on 50 % of the moisture" in tried[0].words
    again = assess(indoor_edits.with_moisture_recovery("fresh", 0.5)(found.plan))
    assert tried[0].after == pytest.approx(max(again.indoors.humidity[0].by_condition.values()), rel=1e-3)


def test_the_dew_point_that_a_wrap_moves_is_told() -> None:
    found = assess(written(LOFT), fields=False)
    wet = [each for each in found.findings if each.question == "moisture" and each.missed]
    pairs = [(each, indoor_remedies(found, each)) for each in wet]
    told = [(each, one.best[0], one) for each, one in pairs if one is not None and one.best]
    limits = [limit for each, _, _ in told if (limit := each.limit) is not None]
    assert len(limits) == len(told)
    moved = [
        (limit, *held)
        for limit, held in zip(limits, told, strict=True)
        if abs((held[1].dew or 0.0) + 1.0 - limit) > 0.3
    ]
    assert moved
    limit, finding, best, one = moved[0]
    assert best.dew is not None
    words = indoor_words(found, finding, Help(indoors=(one,)))
    assert f"over a dew point of {best.dew:.1f} °C instead of {limit - 1.0:.1f} °C" in words
    for each, best, one in told:
        words = indoor_words(found, each, Help(indoors=(one,)))
        if best.meets and best.dew is not None:  # 1.4 °C at a dew point of 1.6 °C is not called dry
            assert ("as warm as the air along it" in words or "too little vapour" in words) == (
                best.after < best.dew + 1.0
            )


def test_other_questions_are_not_answered() -> None:
    found = assess(room(COOLER))
    other = next(each for each in found.findings if each.question == "fan")
    assert indoor_remedies(found, other) is None
