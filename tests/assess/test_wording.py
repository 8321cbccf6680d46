"""Words for sounds, figures and flows: the ends of a scale, articles, and air that stands still."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from small import between
from sordino.assess.assessment import assess
from sordino.assess.contribution import Contribution
from sordino.assess.judgement import flow_findings
from sordino.assess.spread import Ranged
from sordino.assess.wording import flow_words, rating_words, sound_words
from sordino.report.phrases import figure

PLAN = between("")


@pytest.mark.parametrize(
    ("value", "low", "bound", "words"),
    [
        (70.0, 70.0, "above", "NC over 70"),
        (70.0, 61.0, "above", "NC over 70 (at least 61)"),
        (70.0, 15.0, "above", "NC over 70"),
        (44.0, 38.0, "", "NC 44 (38 to 70)"),
    ],
)
def test_the_upper_end_of_a_scale_is_no_range(value: float, low: float, bound: str, words: str) -> None:
    heard = next(iter(assess(PLAN).noise.values()))
    rating = Ranged(value=value, low=low, high=70.0, widest="")
    assert rating_words(replace(heard, rating=rating, bound=bound)) == words
    assert figure("NC", value) in words


def test_places_have_their_article() -> None:
    sound = Contribution(cause="background", origin="loft", via="ceiling", station="", levels=np.zeros(9), spread={})
    assert sound_words(PLAN, sound) == "noise of the loft through ceiling"
    assert sound_words(PLAN, replace(sound, cause="outdoors", via="intake")) == "noise of the loft through intake"


def test_still_air_is_called_so_in_flows_and_findings() -> None:
    assert [flow_words(PLAN, flow) for flow in (3.1e-6, -4.9e-5, 6e-5)] == ["no air", "no air", "0.060 L/s"]
    way = PLAN.run["way"].model_copy(update={"wanted": 0.02})
    plan = PLAN.model_copy(update={"run": {**PLAN.run, "way": way}})
    states = {key: replace(state, flows=dict.fromkeys(state.flows, 3e-6)) for key, state in assess(plan).states.items()}
    (told,) = [each for each in flow_findings(plan, states) if each.subject == "way"]
    assert told.sentence == "way carries no air of the 20.0 L/s it should: misses."


@pytest.mark.parametrize(
    ("name", "spoken"),
    [("Practice room", "the practice room"), ("Room 2", "Room 2"), ("HRV", "HRV"), ("The loft", "the loft")],
)
def test_a_name_of_its_own_stands_as_it_is(name: str, spoken: str) -> None:
    key, room = next(iter(PLAN.room.items()))
    plan = PLAN.model_copy(update={"room": {**PLAN.room, key: room.model_copy(update={"name": name})}})
    assert plan.spoken(key) == spoken


def test_a_fan_called_fan_is_said_once() -> None:
    sound = Contribution(cause="fan", origin="fan", via="supply", station="", levels=np.zeros(9), spread={})
    assert sound_words(PLAN, sound) == "noise of the fan through supply"
