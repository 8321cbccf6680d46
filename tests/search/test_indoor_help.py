"""What helps against stale air, heat and wet: every figure is that of the changed plan, assessed anew."""

from __future__ import annotations

import pytest

from rooms import COOLER, FAN, room
from sordino.assess.assessment import Assessment, assess
from sordino.assess.finding import Finding
from sordino.elements.wrap import Wrap
from sordino.search import indoor_edits
from sordino.search.indoor_help import indoor_remedies

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


def test_full_speed_is_tried_against_stale_air() -> None:
    mode = '[mode.take]\nspeeds = { fan = "20 %" }\n'
    strict = 'people = [{ count = 1, activity = "drumming" }]\ncomfort = { co2 = "2000 ppm" }'
    found = assess(room(FAN, mode, people=strict))
    told = indoor_remedies(found, missed(found, "carbon dioxide"))
    assert told is not None
    assert told.best[0].words == "everything at full speed in take"
    again = assess(indoor_edits.with_everything_at("take", 1.0)(found.plan))
    assert told.best[0].after == pytest.approx(again.indoors.fresh[0].end, rel=1e-3)


def test_other_questions_are_not_answered() -> None:
    found = assess(room(COOLER))
    other = next(each for each in found.findings if each.question == "fan")
    assert indoor_remedies(found, other) is None
