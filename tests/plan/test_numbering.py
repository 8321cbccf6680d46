"""No list of an assessment holds the same label twice."""

from __future__ import annotations

from importlib.resources import files

import pytest

from small import between
from sordino.assess.assessment import assess
from sordino.assess.drops import lines
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed

PARTS = (
    '{ is = "flexible duct", length = "1 m" }, { is = "bend" }, { is = "flexible duct", length = "2 m" }, '
    '{ is = "bend", name = "last" }, { is = "grille", name = "up" }'
)


def test_parts_that_share_a_label_are_numbered_and_others_left_alone() -> None:
    labels = [part.label() for part in between(PARTS).run["way"].parts]
    assert labels == ["flexible duct 1", "bend", "flexible duct 2", "bend last", "grille up"]
    twice = between(PARTS.replace('{ is = "bend" }', '{ is = "bend", name = "last" }'))
    assert [part.label() for part in twice.run["way"].parts][1:4:2] == ["bend last 1", "bend last 2"]


@pytest.mark.parametrize("name", ["mill-loft", "starter", "wide-duct"])
def test_no_schedule_and_no_ledger_names_two_stations_alike(name: str) -> None:
    text = (files("sordino") / "examples" / f"{name}.toml").read_text(encoding="utf-8")
    found = assess(plan_of(parsed(text, name)))
    for heard in (*found.noise.values(), *found.crosstalk.values()):
        for sound in heard.heard.contributions:
            stations = [row.station for row in sound.rows]
            assert len(stations) == len(set(stations)), sound.via
    for run in found.plan.run:
        told = [line.label for line in lines(found.plan, run, 0.01, "clean", found.air) if line.label]
        assert len(told) == len(set(told)), run
    for mode in found.plan.mode:
        places = [(each.run, each.station, each.place) for each in found.speeds[mode]]
        assert len(places) == len(set(places))
