"""The tables and the picture of heat, fresh air and moisture: what they show is what was worked out."""

from __future__ import annotations

import json

import pytest

from rooms import COOLER, FAN, room
from sordino.assess.assessment import Assessment, assess
from sordino.report import freshair, record, text
from sordino.report.moisture import moisture
from sordino.search.help import helping

PEOPLE = 'people = [{ count = 2, activity = "singing" }]\ngear = "80 W"'


@pytest.fixture(scope="module")
def found() -> Assessment:
    return assess(room(COOLER, FAN, people=PEOPLE))


def test_every_line_fits(found: Assessment) -> None:
    whole = text.report(found, ("normal",), helping(found, ("normal",)))
    assert max(len(line) for line in whole.splitlines()) <= 100
    order = [
        "Fresh air",
        "Rules of thumb",
        "A session of",
        "Heat, W",
        "Humidity in the rooms",
        "Fan alone",
        "Where it is dampest",
    ]
    places = [whole.index(f"\n{title}") for title in order]
    assert places == sorted(places)


def test_the_governing_need_is_marked(found: Assessment) -> None:
    rows = freshair.rules(found)
    marked = [row for row in rows if "(governs)" in row]
    assert len(marked) == 1
    assert "1000 ppm for good" in marked[0]
    assert f"{1e3 * found.indoors.fresh[0].need_co2:.1f} L/s" in marked[0]


def test_the_session_is_told_at_its_moments(found: Assessment) -> None:
    lines = freshair.sessions(found, ("normal",))
    gas = next(line for line in lines if line.startswith("carbon dioxide"))
    told = found.indoors.sessions["normal"]
    assert gas.split()[3:] == [f"{told.co2[at, 0]:.0f}" for at in range(0, 7201, 1200)]
    picture = [line for line in lines if "ppm |" in line]
    assert len(picture) == 9
    assert sum("*" in line for line in picture) >= 4


def test_the_damp_table_tells_the_worst_of_each_run(found: Assessment) -> None:
    rows = [line for line in moisture(found) if line.startswith("cool ")]
    assert len(rows) == 2  # one hour and one mean of thirty days
    assert freshair.fresh_air(found, ()) == []
    assert freshair.heat(found, ()) == []


def test_machines_read_all_of_it(found: Assessment) -> None:
    told = json.loads(record.text(record.record(found, ("normal",), helping(found, ("normal",)))))
    inside = told["indoors"]
    assert inside["fresh_air"][0]["flow"] == pytest.approx(found.indoors.fresh[0].flow, abs=1e-8)
    gas = inside["sessions"][0]["rooms"][0]["co2_ppm"]
    assert len(gas) == 121
    assert gas[-1] == pytest.approx(found.indoors.fresh[0].end)
    faces = {(each["subject"], each["condition"], each["air"]) for each in inside["walls"]}
    assert {("cool", "humid_night", "normal"), ("cool", "winter", "off")} <= faces
