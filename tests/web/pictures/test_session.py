"""The session's picture: curves end where the session ends, limits are told as asked for or only as a mark."""

from __future__ import annotations

import re
from importlib import resources
from xml.etree import ElementTree

import numpy as np
import pytest

import sordino
from small import FAN, ROOMS, written
from sordino.assess.assessment import Assessment, assess
from sordino.plan.project import read
from sordino.web.pictures.scales import nice_step, nice_steps
from sordino.web.pictures.session import panels, session, session_words

HOUR = """
[session]
length = "60 min"
schedule = [{ mode = "normal", lasts = "20 min" }, { mode = "off", lasts = "40 min" }]
[mode.normal]
[mode.off]
speeds = { fan = "0 %" }
[run.way]
from = "fan.outlet"
to = "there"
size = "160 mm"
"""


@pytest.fixture(scope="module")
def loft() -> Assessment:
    with resources.as_file(resources.files(sordino) / "examples" / "mill-loft.toml") as path:
        return assess(read(path), fields=False)


@pytest.fixture(scope="module")
def scheduled() -> Assessment:
    rooms = ROOMS.replace(
        "[room.there]",
        '[room.there]\npeople = [{ count = 2, activity = "seated" }]\ncomfort = { co2 = "900 ppm", warmest = "26 °C" }',
    )
    return assess(written(rooms + FAN + HOUR), fields=False)


def test_the_words_tell_start_end_and_when_a_limit_is_passed(loft: Assessment) -> None:
    told = loft.indoors.sessions["boost"]
    place = told.rooms.index("practice")
    words = session_words(loft, "practice", "boost", "metric")
    assert f"from {told.co2[0, place]:.0f} ppm to {told.co2[-1, place]:.0f} ppm in 120 min" in words
    passed = told.reaches("practice", 1000.0)
    assert passed is not None
    assert f"past 1000 ppm after {passed / 60.0:.0f} min" in words
    assert words in (ElementTree.fromstring(session(loft, "practice", "boost", "metric"))[1].text or "")


def test_temperature_is_told_in_the_units_wanted(loft: Assessment) -> None:
    told = loft.indoors.sessions["boost"]
    metric, inch = (panels(loft, told, "practice", units)[1] for units in ("metric", "inch"))
    assert inch.values == pytest.approx(1.8 * metric.values + 32.0)
    assert inch.limit == pytest.approx(1.8 * metric.limit + 32.0)
    assert "°F" in inch.title


def test_a_limit_that_is_asked_for_is_drawn_otherwise_than_a_mark(loft: Assessment, scheduled: Assessment) -> None:
    asked = session(scheduled, "there", "schedule", "metric")
    mark = session(loft, "practice", "boost", "metric")
    assert "900 ppm" in asked
    assert 'class="target"' in asked
    assert 'class="marker"' not in asked
    assert 'class="marker"' in mark
    assert 'class="target"' not in mark
    assert "commonly called stuffy" in mark


def test_stretches_of_the_schedule_are_named(scheduled: Assessment) -> None:
    drawn = session(scheduled, "there", "schedule", "metric")
    assert drawn.count('class="stretch"') == 4
    assert drawn.count(">off<") == 2
    alone = session(scheduled, "there", "normal", "metric")
    assert 'class="stretch"' not in alone


def test_the_curve_is_the_session(scheduled: Assessment) -> None:
    told = scheduled.indoors.sessions["schedule"]
    drawn = session(scheduled, "there", "schedule", "metric")
    found = re.search(r'd="M([^"]*)" class="gas-line"', drawn)
    assert found is not None
    points = np.array([[float(n) for n in pair.split()] for pair in found[1].split("L")])
    values = told.co2[
        np.round(np.linspace(0, told.co2.shape[0] - 1, len(points))).astype(int), told.rooms.index("there")
    ]
    slope, offset = np.polyfit(points[:, 1], values, 1)
    assert slope < 0.0
    assert slope * points[:, 1] + offset == pytest.approx(values, abs=0.03 * float(np.ptp(values)))


@pytest.mark.parametrize(("low", "high", "most"), [(0.0, 70.0, 7), (420.0, 1332.0, 5), (19.3, 24.0, 5), (0.0, 3.0, 7)])
def test_scales_have_round_figures(low: float, high: float, most: int) -> None:
    step = nice_step(low, high, most)
    assert (high - low) / step <= most + 1e-9
    assert f"{step:e}"[0] in "125"
    found = nice_steps(low, high, most)
    assert found[0] >= low - 1e-9
    assert found[-1] <= high + 1e-9
