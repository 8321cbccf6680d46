"""Pictures of a box: handles that move what they say, losses where they are, no figure that the arithmetic lacks."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest

from boxed import BOXES, boxed
from sordino.assess.box_answer import BoxAnswer, box_answer, indoor_air, standing
from sordino.assess.box_loss import Dip
from sordino.assess.box_picture import BoxPicture, box_picture
from sordino.bands import CENTRES, OCTAVES
from sordino.elements.box import Box
from sordino.elements.box_layout import layout
from sordino.report.drawing import palette
from sordino.report.drawing.records import Area, Stroke
from sordino.web.pictures.box_frame import box_frame
from sordino.web.pictures.box_handles import handles
from sordino.web.pictures.box_loss import Frame, box_loss, courses, loss_words
from sordino.web.pictures.box_plan import across, plan, plan_items
from sordino.web.pictures.box_section import box_section
from sordino.web.pictures.field import field, field_words

SVG = "{http://www.w3.org/2000/svg}"
MOVED = 0.004


def picture(name: str, **changed: str) -> BoxPicture:
    built = standing(boxed(name, **changed), name).built
    return BoxPicture(box=built.build, section=built.section, made=layout(built.build, built.section), slices=())


@cache
def answer(name: str) -> BoxAnswer:
    return box_answer(boxed(name), name)


def moved(value: Any, steps: list[str], by: float) -> Any:
    """A statement with one number in it changed."""
    if not steps:
        return value + by
    first, *rest = steps
    if isinstance(value, tuple):
        at = int(first)
        return (*value[:at], moved(value[at], rest, by), *value[at + 1 :])
    key = {"from": "start", "to": "end"}.get(first, first)
    return value.model_copy(update={key: moved(getattr(value, key), rest, by)})


@pytest.mark.parametrize("name", BOXES)
def test_a_handle_moves_with_its_value(name: str) -> None:
    """Changing the field by a little moves the handle by as much, along its axis, the way its sign says."""
    drawn = picture(name)
    every = {handle.field: handle for handle in handles(drawn)}
    assert {"length"} < set(every)
    for key, handle in every.items():
        build: Box = moved(drawn.box, key.split("."), MOVED)
        after = replace(drawn, box=build, made=layout(build, drawn.section))
        (now,) = [each for each in handles(after) if each.field == key]
        axis = 0 if handle.axis == "x" else 1
        assert now.value - handle.value == pytest.approx(MOVED), key
        assert now.at[axis] - handle.at[axis] == pytest.approx(handle.sign * MOVED), key
        assert handle.low <= handle.value <= handle.high


def test_the_picture_says_how_far_a_unit_goes() -> None:
    drawn = picture("roof")
    frame = box_frame(drawn, False, 4.0, (0.0, 0.0))
    assert frame.view.at(1.0, 0.0)[0] - frame.view.at(0.0, 0.0)[0] == pytest.approx(frame.view.scale)
    root = ElementTree.fromstring(box_section(drawn, "roof", "metric"))
    grips = {each.get("data-field"): each for each in root.iter(f"{SVG}g") if each.get("class") == "handle"}
    (length, slope) = (grips["length"], grips["right_slope.run"])
    places = [[float(n) for n in re.findall(r"-?[\d.]+", grip[1].get("transform", ""))] for grip in (length, slope)]
    metres = float(length.get("data-metres-per-unit", ""))
    assert (places[0][0] - places[1][0]) * metres == pytest.approx(drawn.box.right_slope.run, abs=2e-4)  # type: ignore[union-attr]
    assert float(slope.get("data-metres-per-unit", "")) == pytest.approx(-metres)
    up = places[0][1] - places[1][1]
    wanted = drawn.made.prism.height - next(h.at[1] for h in handles(drawn) if h.field == "length")
    assert up * metres == pytest.approx(wanted, abs=2e-4)


@pytest.mark.parametrize("name", BOXES)
def test_the_size_across_moves_with_its_handle(name: str) -> None:
    """It is the one that the section lacks, drawn in the section's scale, deeper by as much as it grows."""
    drawn = picture(name)
    handle = across(drawn)
    assert handle.field == ("height" if drawn.box.family == "shallow" else "width")
    assert handle.field not in {each.field for each in handles(drawn)}
    build: Box = moved(drawn.box, [handle.field], MOVED)
    after = replace(drawn, box=build, made=layout(build, drawn.section))
    now = across(after)
    assert now.value - handle.value == pytest.approx(MOVED)
    assert now.at[1] - handle.at[1] == pytest.approx(handle.sign * MOVED)
    frame = box_frame(drawn, False, 4.0, (0.0, 0.0))
    seen = plan(drawn, frame, 90.0)
    assert seen.view.scale == frame.view.scale
    left, edge = seen.view.at(0.0, -drawn.made.prism.width)
    assert left == frame.view.at(0.0, 0.0)[0]
    assert 90.0 < edge < seen.bottom
    every = [point for item in plan_items(drawn, seen) for point in _points(item)]
    assert all(90.0 <= y <= seen.bottom for _, y in every)


def _points(item: Any) -> list[tuple[float, float]]:
    if isinstance(item, Area):
        return [point for ring in item.rings for point in ring]
    return list(item.points) if isinstance(item, Stroke) else [item.at]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("name", BOXES)
def test_handles_are_labelled_sliders_apart_from_one_another(name: str, narrow: bool) -> None:
    root = ElementTree.fromstring(box_section(picture(name), name, "metric", narrow))
    grips = [each for each in root.iter(f"{SVG}g") if each.get("class") == "handle"]
    labels = [grip.get("aria-label", "") for grip in grips]
    assert len(set(labels)) == len(labels) >= 2
    places: list[tuple[float, float]] = []
    for grip in grips:
        assert grip.get("role") == "slider"
        assert grip.get("tabindex") == "0"
        assert re.search(r"\d", grip.get("aria-valuetext", ""))
        x, y = (float(n) for n in re.findall(r"-?[\d.]+", grip[1].get("transform", ""))[:2])
        assert not [other for other in places if abs(x - other[0]) < 15.0 and abs(y - other[1]) < 15.0]
        places.append((x, y))


def test_a_mouth_has_a_handle_only_where_the_plan_states_it() -> None:
    assert not [each for each in handles(picture("labyrinth")) if "inlet" in each.field]
    stated = picture("labyrinth", inlet='{ face = "left", along = "100 mm" }')
    assert [each.value for each in handles(stated) if each.field == "inlet.along"] == pytest.approx([0.1])


@pytest.mark.parametrize("name", ["labyrinth", "serpentine"])
def test_losses_are_those_of_the_answer(name: str) -> None:
    found = answer(name)
    solved, beyond = courses(found)
    assert solved.loss == pytest.approx(found.thirds.loss)
    assert beyond.frequency[0] == solved.frequency[-1]
    assert beyond.loss[0] == solved.loss[-1]
    assert beyond.frequency[-1] == pytest.approx(CENTRES[-1])
    assert np.all(np.diff(beyond.frequency) > 0.0)
    assert beyond.loss[1:] == pytest.approx(found.octaves.loss[-len(beyond.loss) + 1 :])


def test_octaves_are_evenly_spaced_and_losses_even() -> None:
    frame = Frame(wide=720.0, top=80.0)
    xs = [frame.at(float(centre), 0.0)[0] for centre in CENTRES[1:]]
    assert np.ptp(np.diff(xs)) < 1e-9
    ys = [frame.at(100.0, level)[1] for level in (0.0, 20.0, 40.0, 60.0)]
    assert np.ptp(np.diff(ys)) < 1e-9
    assert ys[0] > ys[1]


@pytest.mark.parametrize("name", ["labyrinth", "serpentine"])
def test_a_figure_that_the_arithmetic_does_not_carry_is_hollow(name: str) -> None:
    found = answer(name)
    unsure = int(np.sum(~found.thirds.certain))
    in_legend = 1 if unsure else 0
    assert box_loss(found, name).count('class="loss-dot unsure"') == unsure + in_legend
    worse = replace(found, thirds=replace(found.thirds, loss=found.thirds.loss + 70.0, error=found.thirds.error + 9.0))
    assert box_loss(worse, name).count('class="loss-dot unsure"') == found.thirds.loss.size + 1


def test_dips_below_the_picture_are_left_out_of_it() -> None:
    found = answer("serpentine")
    deep = Dip(frequency=31.0, loss=30.0, depth=9.0, reason="")
    assert "31 Hz" not in box_loss(replace(found, dips=(deep,)), "it")
    assert "210 Hz" in box_loss(replace(found, dips=(deep, replace(deep, frequency=210.0))), "it")


def test_words_name_the_weakest_band_and_what_goes_round() -> None:
    found = answer("serpentine")
    words = loss_words(found, "it")
    hertz = OCTAVES[found.weakest]
    assert (f"{hertz:g} Hz" if hertz < 1000 else f"{hertz / 1000:g} kHz") in words
    assert f"{found.counted[found.weakest]:.0f} dB" in words
    assert ("More goes round" in words) == bool(found.ruled)


def test_the_field_is_that_of_the_nearest_frequency() -> None:
    plan = boxed("labyrinth")
    built = standing(plan, "labyrinth").built
    seen = box_picture(built.build, built.section, indoor_air(plan), (80.0, 320.0))
    drawn = field(seen, "labyrinth", 300.0)
    assert "320 Hz" in (ElementTree.fromstring(drawn)[0].text or "")
    assert f"takes {seen.slices[1].loss:.0f} dB" in field_words(seen.slices[1])
    used = [colour for colour in palette.colours() if drawn.count(colour) > 1]
    level = seen.slices[1].level
    span = float(np.nanmax(level) - np.nanmin(level))
    assert span / palette.STEP - 2.0 <= len(used) <= span / palette.STEP + 3.0
