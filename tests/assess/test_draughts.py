"""Supply air at the listener, and supply air that goes straight back, worked by hand."""

from __future__ import annotations

from importlib.resources import files
from math import dist, pi, sqrt
from pathlib import Path

import pytest

from sordino.assess.assessment import assess
from sordino.assess.draughts import Draught, draughts
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed

SHED = (Path(__file__).parents[1] / "journeys" / "shed.toml").read_text(encoding="utf-8")
LOFT = (files("sordino") / "examples" / "mill-loft.toml").read_text(encoding="utf-8")


def found_in(text: str, mode: str) -> tuple[Draught, ...]:
    assessed = assess(plan_of(parsed(text, "s.toml")))
    return draughts(assessed.plan, assessed.states[mode, "clean"])


def test_without_places_the_listener_is_as_far_from_every_opening() -> None:
    """The den of the shed: the 200 mm transfer duct ends bare, 1.5 m away; K = 5.7, A = pi d2/4."""
    assessed = assess(plan_of(parsed(SHED, "s.toml")))
    state = assessed.states["boost", "clean"]
    flow = state.flows["transfer"]
    den = next(each for each in draughts(assessed.plan, state) if each.room == "den" and not each.target)
    by_run = {"transfer": 5.7 * flow / (pi / 4 * 0.2**2) * sqrt(pi / 4 * 0.2**2) / 1.5}
    area = 0.2 * 0.1 * 0.7
    by_run["den-supply"] = 4.7 * state.flows["den-supply"] / sqrt(area) / 1.5
    assert den.speed == pytest.approx(max(by_run.values()), rel=1e-6)
    assert den.run == max(by_run, key=lambda run: by_run[run])


def test_a_supply_beside_the_return_is_found_and_one_across_the_room_is_not() -> None:
    short = [each for each in found_in(LOFT, "boost") if each.target]
    assert [(each.run, each.target) for each in short] == [("cool-practice", "return-practice")]
    assert short[0].distance == pytest.approx(dist((0.4, 1.0, 2.4), (1.5, 1.0, 2.4)))
    apart = LOFT.replace('at = ["1.5 m", "1.0 m", "2.4 m"]', 'at = ["4.2 m", "3.2 m", "0.4 m"]')
    assert not [each for each in found_in(apart, "boost") if each.target]


def test_the_ear_is_where_it_is_said_to_be() -> None:
    near = LOFT.replace('ear = ["2.6 m", "1.7 m", "1.5 m"]', 'ear = ["0.6 m", "1.0 m", "1.9 m"]')
    listening = [next(each for each in found_in(text, "boost") if each.room == "practice") for text in (LOFT, near)]
    assert listening[1].speed > 2.0 * listening[0].speed
    assert listening[1].distance == pytest.approx(dist((0.6, 1.0, 1.9), (0.4, 1.0, 2.4)))


@pytest.mark.parametrize(("units", "written"), [("inch", "4 ft"), ("metric", "1.25 m"), ("inch", "5 ft 6 1/2 in")])
def test_the_distance_of_the_listener_is_told_as_written(units: str, written: str) -> None:
    text = SHED.replace('units = "metric"', "", 1).replace("\n[site]", f'\nunits = "{units}"\n\n[site]', 1)
    text = text.replace("[room.booth]", f'[room.booth]\nlistener = "{written}"', 1)
    found = assess(plan_of(parsed(text, "s.toml"))).findings
    told = [each.sentence for each in found if each.question == "draught" and each.subject == "booth"]
    assert told
    assert all(f"at the listener, {written} away" in sentence for sentence in told)
