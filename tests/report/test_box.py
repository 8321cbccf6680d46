"""The page and the record of one box tell the same."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from boxed import boxed
from sordino.assess.box_answer import BoxAnswer, box_answer
from sordino.physics.signal.thirds import nearest
from sordino.plan.statement import Plan
from sordino.report import record
from sordino.report.box import box_text
from sordino.report.box_record import box_record
from sordino.report.layout import THIRD_NAMES, WIDTH
from sordino.search.box_changes import box_changes
from sordino.search.box_compared import BoxChange

Made = tuple[Plan, BoxAnswer, tuple[BoxChange, ...]]


@pytest.fixture(scope="module", params=["labyrinth", "serpentine"])
def made(request: pytest.FixtureRequest) -> Made:
    plan = boxed(request.param)
    answer = box_answer(plan, request.param)
    return plan, answer, box_changes(answer.built, answer.air, answer.through.flow, plan.units)


@pytest.fixture(scope="module")
def text(made: Made) -> str:
    return box_text(*made)


@pytest.fixture(scope="module")
def told(made: Made) -> dict[str, Any]:
    words = record.text(box_record(*made))

    def refuse(name: str) -> None:
        raise AssertionError(f"{name} is not JSON")

    found: dict[str, Any] = json.loads(words, parse_constant=refuse)
    return found


def figures(text: str, label: str, after: str = "") -> list[str]:
    """The nine cells of the first row of that name after a heading."""
    line = next(line for line in text[text.index(after) :].splitlines() if line.startswith(f"  {label}"))
    return [line[at : at + 5].strip() for at in range(55, 100, 5)]


def whole(values: list[float | None]) -> list[str]:
    return ["–" if value is None else f"{round(value):d}" for value in values]


def test_the_page_is_as_wide_as_others(text: str) -> None:
    assert max(len(line) for line in text.splitlines()) <= WIDTH


def test_the_answer_comes_first_with_the_records_figures(text: str, told: dict[str, Any]) -> None:
    answer = " ".join(text.split("\n\n")[1].split())
    for hertz, name in ((63, "63 Hz"), (250, "250 Hz"), (4000, "4 kHz")):
        band = told["octaves_hz"].index(hertz)
        shown = [round(told[key][band]) for key in ("counted_db", "counted_low_db", "counted_high_db")]
        assert f"{shown[0]} dB at {name} ({shown[1]} to {shown[2]})" in answer


@pytest.mark.parametrize(
    ("heading", "label", "keys"),
    [
        ("through the passage", "loss", ("passage_octaves", "loss_db")),
        ("what goes round it", "out through the casing", ("round_it", "casing_db")),
        ("what goes round it", "both together", ("round_it", "together_db")),
        ("what the box counts for", "both ways", ("counted_db",)),
        ("what the box counts for", "could be as low", ("counted_low_db",)),
        ("air's own noise", "sound power", ("air", "own_noise_db")),
    ],
)
def test_octaves_on_the_page_are_those_of_the_record(
    text: str, told: dict[str, Any], heading: str, label: str, keys: tuple[str, ...]
) -> None:
    values: Any = told
    for key in keys:
        values = values[key]
    shown = figures(text, label, heading)
    for cell, value in zip(shown, whole(values), strict=True):
        assert cell in (value, ">60", "<-99")


def test_thirds_on_the_page_are_those_of_the_record(text: str, told: dict[str, Any]) -> None:
    found = told["passage_thirds"]
    for at, centre in enumerate(found["centres_hz"]):
        line = next(row for row in text.splitlines() if re.match(rf"{THIRD_NAMES[nearest(centre)]} +[>0-9–]", row))
        cells = line.split()
        wanted = [found[key][at] for key in ("loss_db", "low_db", "high_db")] if found["certain"][at] else [None] * 3
        assert cells[1:4] == (whole(wanted) if found["certain"][at] else [">60", "–", "–"])


def test_changes_on_the_page_are_those_of_the_record(text: str, told: dict[str, Any]) -> None:
    for change in told["changes"]:
        if change["fits"]:
            line = next(row for row in text.splitlines() if row.startswith(f"{change['change']}  "))
            cells = line[len(change["change"]) :].split()
            assert cells[:8] == [f"{round(value):+d}" for value in change["counted_change_db"][1:]]
        else:
            assert change["why_not"].split(";")[0][:30] in " ".join(text.split())


def test_faces_air_and_mass_are_told(text: str, told: dict[str, Any]) -> None:
    flat = " ".join(text.split())
    for face in told["faces"]:
        assert re.search(rf"^{face['face']} .*{face['verdict']}$", text, re.MULTILINE)
    assert f"{told['air']['pressure_loss_pa']:.1f} Pa lost" in flat
    assert f"{told['mass_kg']['whole']:.0f} kg" in flat
    assert sum(line["drop_pa"] for line in told["air"]["ledger"]) == pytest.approx(told["air"]["pressure_loss_pa"])


def test_validity_is_told(text: str, told: dict[str, Any]) -> None:
    held = told["validity"]
    flat = " ".join(text.split())
    assert f"up to {held['field_limit_hz']:.0f} Hz" in flat
    assert f"from {held['fibre_from_hz']:.0f} to {held['fibre_to_hz']:.0f} Hz" in flat
    assert "numerical error is at most" in flat


def test_inches_are_told_in_inches() -> None:
    plan = boxed("labyrinth", units="inch")
    answer = box_answer(plan, "labyrinth")
    text = box_text(plan, answer, None)
    assert "What a change would do" not in text
    for unit in (" in ", "cfm", "fpm", "in w.g.", "lb/ft2"):
        assert unit in text
    assert not re.search(r"\d (mm|Pa|kg|L/s)\b(?! s/m2)", text)


@pytest.mark.parametrize(("centre", "name"), [(50.1, "50"), (31.6, "31.5"), (1258.9, "1250"), (7943.3, "8k")])
def test_thirds_have_their_nominal_names(centre: float, name: str) -> None:
    """IEC 61260-1:2014, nominal midbands."""
    assert THIRD_NAMES[nearest(centre)] == name
