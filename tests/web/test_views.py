"""Every view of every example, and what the forms do to a project."""

from __future__ import annotations

import html
import json
import re
import time
import tomllib
from importlib.resources import files
from pathlib import Path
from statistics import median

import pytest
from starlette.testclient import TestClient

from paged import client, page_of
from sordino.assess.assessment import assess
from sordino.cli.new import EXAMPLE, STARTER, bundled
from sordino.plan.project import plan_of, read
from sordino.plan.reading import parsed
from sordino.report.verdict import targets
from sordino.web.begin.answers import in_units
from sordino.web.project.edit import MISSING, value_at
from sordino.web.solved.work import look
from sordino.web.views.fields import KINDS, fields, typed

EXAMPLES = sorted(path.name for path in files("sordino.examples").iterdir() if path.name.endswith(".toml"))


@pytest.fixture
def booth(tmp_path: Path) -> TestClient:
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    return client(path, tmp_path)


def send(page: TestClient, to: str, **values: str) -> int:
    """Send a form as the page does; its status."""
    number = page_of(page).desk.number
    answer = page.post(to, data={"number": str(number), "tab": "one", **values}, headers={"hx-request": "true"})
    return answer.status_code


def change(page: TestClient, place: list[str | int], value: str, **more: str) -> int:
    return send(page, "/change", path=json.dumps(place), value=value, **more)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_thing_of_every_example_has_its_view(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_text(bundled(name), encoding="utf-8")
    page = client(path, tmp_path)
    plan = page_of(page).looked().plan
    things = [f"/{kind}/{key}" for kind in KINDS for key in getattr(plan, kind)]
    for at in ("/", "/file", "/compare", "/build", "/measure", *things):
        assert page.get(at).status_code == 200, at
    assert page.get("/box/none").status_code == 404
    assert page.get("/nowhere").status_code == 404


def test_the_pieces_of_views_come(booth: TestClient) -> None:
    ways = ("box/way-in", "section/way-in", "field/way-in?at=125", "changes/way-in")
    for at in (*ways, "session/booth?mode=record", "ledger/booth?mode=record", "compare?with=larger-duct"):
        answer = booth.get(f"/part/{at}")
        assert answer.status_code == 200, at
        assert len(answer.text) > 60, at
    assert booth.get("/part/box/none").status_code == 404


def test_once_fields_are_solved_it_says_what_assess_says(booth: TestClient, tmp_path: Path) -> None:
    """The first answer is quick; the one that follows is that of the command."""
    page = page_of(booth)
    change(booth, ["box", "way-in", "length"], "0.93 m")
    assert "way-in" in page.looked().waiting
    assert send(booth, "/save") == 200
    found = assess(read(tmp_path / "booth.toml"))
    assert page.looked().waiting == ()
    assert page.looked().found.findings == found.findings


def test_a_change_is_seen_undone_and_done_again(booth: TestClient) -> None:
    desk = page_of(booth).desk
    assert change(booth, ["box", "way-in", "length"], "1.20 m") == 200
    assert tomllib.loads(desk.text)["box"]["way-in"]["length"] == "1.20 m"
    assert desk.unsaved
    assert send(booth, "/undo") == 200
    assert desk.text == bundled(STARTER)
    assert send(booth, "/redo") == 200
    assert send(booth, "/units", units="inch") == 200
    assert send(booth, "/save") == 200
    text = bundled(STARTER).replace('length = "1.00 m"', 'length = "1.20 m"', 1).replace('"metric"', '"inch"', 1)
    assert desk.path is not None
    assert desk.path.read_text("utf-8") == text


@pytest.mark.parametrize(
    ("place", "value", "words"),
    [
        (["box", "way-in", "length"], "1.20", "has no unit"),
        (["box", "way-in", "length"], "9 m", "no size for a box"),
        (["box", "way-in", "family"], "maze", "maze"),
        (["box", "way-in", "height"], "0.2 m", "duct"),
        (["run", "supply", "parts", 0, "pull"], "hard", "hard"),
        (["room", "booth", "length"], "", "missing"),
    ],
)
def test_what_can_not_be_is_refused_beside_its_field(
    booth: TestClient, place: list[str | int], value: str, words: str
) -> None:
    form = {"path": json.dumps(place), "value": value, "number": "1", "tab": "one", "back": f"/{place[0]}/{place[1]}"}
    answer = booth.post("/change", data=form, headers={"hx-request": "true"})
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.text
    assert words in answer.text
    assert page_of(booth).desk.text == bundled(STARTER)


def test_a_dragged_length_is_written_as_people_measure(booth: TestClient) -> None:
    desk = page_of(booth).desk
    place = json.dumps(["box", "way-in", "length"])
    assert send(booth, "/change", path=place, metres="1.23456") == 200
    assert tomllib.loads(desk.text)["box"]["way-in"]["length"] == "1.235 m"
    send(booth, "/units", units="inch")
    assert send(booth, "/change", path=place, metres="1.0") == 200
    assert tomllib.loads(desk.text)["box"]["way-in"]["length"] == "3 ft 3 3/8 in"
    assert send(booth, "/change", path=place, metres="nan") == 422


def test_a_drag_too_far_is_refused_in_words_and_changes_nothing(booth: TestClient) -> None:
    form = {"path": '["box","way-in","lining"]', "metres": "0.25", "number": "1", "tab": "one", "back": "/box/way-in"}
    answer = booth.post("/change", data=form, headers={"hx-request": "true"})
    assert answer.status_code == 422
    assert re.search('data-kind="refused">[^<]*lining of 250 mm', answer.text)
    assert re.search('id="f-box-way_in-lining" name="value" value="50 mm"', answer.text)
    assert page_of(booth).desk.text == bundled(STARTER)


def test_a_tab_left_behind_gets_a_choice(booth: TestClient) -> None:
    send(booth, "/units", units="inch")
    form = {"number": "1", "tab": "two", "path": '["box","way-in","length"]', "value": "1.2 m"}
    answer = booth.post("/change", data=form, headers={"hx-request": "true"})
    assert answer.status_code == 409
    assert "shown in inch units" in answer.text
    assert "Do it all the same" in answer.text
    assert "1.00 m" in page_of(booth).desk.text


def test_a_file_that_changed_gets_a_choice(booth: TestClient) -> None:
    desk = page_of(booth).desk
    change(booth, ["box", "way-in", "length"], "1.2 m")
    assert desk.path is not None
    theirs = bundled(STARTER).replace("My quiet room", "Theirs")
    desk.path.write_text(theirs, encoding="utf-8")
    assert booth.get("/pulse").json()["disk"] is True
    assert send(booth, "/save") == 409
    assert desk.path.read_text("utf-8") == theirs
    assert send(booth, "/reread") == 200
    assert desk.text == theirs
    assert send(booth, "/undo") == 200
    assert "1.2 m" in desk.text


def test_a_file_that_can_not_be_used_says_why_and_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(bundled(STARTER).replace('"1.00 m"', '"1.00"', 1), encoding="utf-8")
    page = client(path, tmp_path)
    assert "Working it out" in page.get("/").text
    answer = page.get("/", params={"now": "1"})
    assert "has no unit" in answer.text
    assert "Read the file again" in answer.text
    path.write_text(bundled(STARTER), encoding="utf-8")
    assert send(page, "/reread") == 200
    assert "What is not right" in page.get("/").text


def test_a_file_that_is_gone_is_told_so_and_written_anew(booth: TestClient) -> None:
    desk = page_of(booth).desk
    assert desk.path is not None
    change(booth, ["box", "way-in", "length"], "1.2 m")
    desk.path.unlink()
    assert booth.get("/pulse").json()["gone"] is True
    answer = booth.post("/save", data={"number": str(desk.number), "tab": "one"}, headers={"hx-request": "true"})
    assert answer.status_code == 409
    assert "booth.toml was deleted, renamed or moved" in answer.text
    assert "Take what the file says" not in answer.text
    assert send(booth, "/reread") == 422
    assert "1.2 m" in desk.text
    assert send(booth, "/save", force="1") == 200
    assert desk.path.read_text("utf-8") == desk.text


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
@pytest.mark.parametrize("spoilt", ['length = "1.00"', 'length = "1.00 m'])
def test_a_file_that_can_not_be_used_is_mended_on_the_page(tmp_path: Path, spoilt: str, ends: str) -> None:
    """Whether it is no TOML or no project: its text with its faults by line, then the project, not saved yet."""
    path, good = tmp_path / "bad.toml", bundled(STARTER).replace("\n", ends)
    bad = good.replace('length = "1.00 m"', spoilt, 1)
    path.write_bytes(bad.encode())
    page = client(path, tmp_path)
    answer = page.get("/", params={"now": "1"}).text
    assert "<h1>bad.toml</h1>" in answer
    line = bad[: bad.index(spoilt)].count("\n") + 1
    assert f"<strong>Line {line}</strong> <code>{html.escape(spoilt, quote=True).replace('&quot;', '&#34;')}" in answer
    form = {"number": str(page_of(page).desk.number), "tab": "one", "text": bad.replace("1.00", "1.00 m, says he")}
    again = page.post("/text", data=form, headers={"hx-request": "true"})
    assert again.status_code == 422
    assert "says he" in again.text, "what was typed stays"
    assert send(page, "/text", text=good.replace("\r\n", "\n")) == 200
    assert page_of(page).desk.unsaved
    assert "What is not right" in page.get("/", headers={"hx-request": "true"}).text
    assert send(page, "/save") == 200
    assert path.read_bytes() == good.encode()


@pytest.mark.parametrize("words", ["one more pass, same pass height", "a quarter longer", "twice as dense a fibre"])
def test_a_change_of_a_box_is_made_on_the_project(booth: TestClient, words: str) -> None:
    """What was tried is written in the file's own words, and the plan that is read from it is the one tried."""
    before = page_of(booth).looked().plan.box["way-in"]
    assert send(booth, "/try", box="way-in", words=words) == 200
    after = page_of(booth).looked().plan.box["way-in"]
    assert after != before
    gained = {"passes": after.passes - before.passes, "length": after.length / before.length}
    gained["fibre"] = after.fill.density / before.fill.density
    wanted = {"passes": 1} if "pass" in words else {"length": 1.25} if "longer" in words else {"fibre": 2.0}
    assert {name: gained[name] for name in wanted} == pytest.approx(wanted, rel=1e-3)
    send(booth, "/undo")
    assert page_of(booth).desk.text == bundled(STARTER)


BEGUN = {
    **{
        f"room{room}-{side}": size
        for room in "12"
        for side, size in zip(("length", "width", "height"), ("3.2 m", "2.6 m", "7 ft 6 in"), strict=True)
    },
    **{"spare-length": "1.4 m", "spare-width": "0.6 m", "spare-height": "0.7 m"},
}


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"rooms": "2", "use2": "drums", "people2": "2"},
        {"units": "inch", "space": "void"},
        {"spare-height": "0.35 m"},
        {"title": '"]\nx', "name1": "'''\\"},
    ],
)
def test_questions_give_a_plan_that_works(tmp_path: Path, more: dict[str, str]) -> None:
    """Not an empty form: air for its people, rooms near their targets, nothing dangerous."""
    page = client(None, tmp_path)
    assert "Begin with a few questions" in page.get("/").text
    assert send(page, "/begin", **{**BEGUN, **more}) == 200
    text = page_of(page).desk.text
    found = assess(plan_of(parsed(text, "new")))
    assert not [each for each in found.findings if each.standing == "stop"]
    held = targets(found, tuple(found.plan.mode))
    assert len(held) >= 4
    assert sum(each.missed for each in held) <= len(held) // 4, [each.sentence for each in held if each.missed]
    assert send(page, "/save") == 200
    assert (tmp_path / "studio.toml").read_text("utf-8") == text


def test_a_plan_begun_in_inches_is_written_in_inches(tmp_path: Path) -> None:
    """The sizes of the questions follow the units, and what is made of them too."""
    page = client(None, tmp_path)
    asked = page.get(
        "/", params={**BEGUN, "units": "inch", "room1-width": "2.5 m"}, headers={"hx-request": "true"}
    ).text
    for shown in ("10 ft 6 in", "8 ft 2 7/16 in", "2 ft 4 in"):
        assert f'value="{shown}"' in asked
    sizes = {name: text for name, text in in_units(BEGUN, "inch").items() if name != "units"}
    assert send(page, "/begin", **sizes, units="inch") == 200
    text = page_of(page).desk.text
    assert not re.search(r"[0-9] (m|mm|m2|m3|m³/h|Pa|kg/m3)\"", re.sub(r'at = "1 m"|surface = "[^"]*"', "", text))


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"room1-length": "3.2"}, "room 1, length"),
        ({"people1": "many"}, "people in room 1"),
        ({"spare-height": "0.15 m"}, "room"),
        ({"space": "cellar"}, "none of those"),
    ],
)
def test_an_answer_that_is_none_is_asked_again(tmp_path: Path, more: dict[str, str], words: str) -> None:
    page = client(None, tmp_path)
    form = {**BEGUN, **more, "number": "0", "tab": "one"}
    answer = page.post("/begin", data=form, headers={"hx-request": "true"})
    assert answer.status_code == 422
    assert words in answer.text.lower()
    assert page_of(page).desk.empty


def test_a_change_is_answered_at_once(tmp_path: Path) -> None:
    """Time of the processor alone, since others may share the machine: what one key press on the example costs."""
    look(bundled(EXAMPLE), "x")
    texts = [bundled(EXAMPLE).replace('"1.25 m"', f'"1.{number} m"', 1) for number in range(30, 37)]
    spent = []
    for text in texts:
        start = time.process_time()
        look(text, "x")
        spent.append(time.process_time() - start)
    assert median(spent) < 0.6


def test_every_value_has_its_help_and_reads_back_as_it_is_shown(tmp_path: Path) -> None:
    """All things of all examples: help from the statements, choices where they are few, lists in plain words."""
    for name in EXAMPLES:
        data = tomllib.loads(bundled(name))
        for kind in KINDS:
            for key in data.get(kind, {}):
                for each in fields(data, kind, key, "metric"):
                    before = value_at(data, each.path)
                    assert each.hint or each.label.endswith("kind"), (name, each.path)
                    assert "[" not in each.value, (name, each.path)
                    assert before is MISSING or typed(each.value, before) == before, (name, each.path)
    practice = {each.label: each for each in fields(tomllib.loads(bundled(EXAMPLE)), "room", "practice", "metric")}
    assert practice["ear"].value == "2.6 m, 1.7 m, 1.5 m"
    cooler = {each.label: each for each in fields(tomllib.loads(bundled(EXAMPLE)), "mover", "cooler", "metric")}
    assert cooler["curve"].hint == "fan curve at full speed; a comma within a point, a semicolon after it"
    assert "singing" in practice["people 1: activity"].options
    assert "thick carpet on pad" in practice["surfaces: floor"].names
    box = {each.label: each.default for each in fields(tomllib.loads(bundled(EXAMPLE)), "box", "read-supply", "inch")}
    assert (box["divider"], box["fill: density"]) == ("11/16 in", "0.75 lb/ft3")


@pytest.mark.parametrize(
    ("text", "before", "value"),
    [
        ("1 m, 2 m", ["3 m", "4 m"], ["1 m", "2 m"]),
        ("0 m, 0 m; 3 m, 0 m", [["0 m", "1 m"]], [["0 m", "0 m"], ["3 m", "0 m"]]),
        ("60, 61.5", [1, 2.0], [60, 61.5]),
        ("drum kit", [60.0, 61.0], "drum kit"),
        ('["a", "b"]', ["c"], ["a", "b"]),
    ],
)
def test_a_list_is_typed_with_commas(text: str, before: list[object], value: object) -> None:
    assert typed(text, before) == value
