"""What would help: offered with what is missed, in the words of the command, tried on the file, and told of after."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from paged import client, page_of
from sordino.assess.assessment import Assessment, assess
from sordino.assess.finding import MISSED
from sordino.cli.new import EXAMPLE, bundled
from sordino.plan.project import plan_of
from sordino.plan.reading import variants
from sordino.report.text import answer
from sordino.report.verdict import targets
from sordino.search.comparison import compared
from sordino.search.help import can_be_helped, helping
from sordino.web.views import telling
from sordino.web.views.page import Page
from sordino.web.views.side_by_side import side_by_side


@pytest.fixture
def loft(tmp_path: Path) -> TestClient:
    path = tmp_path / "loft.toml"
    path.write_text(bundled(EXAMPLE), encoding="utf-8")
    return client(path, tmp_path)


def missed(page: Page) -> dict[str, telling.Told]:
    """What is missed of the project as it is now, by its name."""
    told = telling.told(page.looked().found)
    return {each.name: each for each in told if each.finding.missed}


def send(page: TestClient, to: str, **values: str) -> str:
    number = str(page_of(page).desk.number)
    got = page.post(to, data={"number": number, "tab": "one", **values}, headers={"hx-request": "true"})
    assert got.status_code == 200, got.text
    return got.text


def test_every_missed_finding_of_the_front_page_says_what_helps_as_the_command_does(loft: TestClient) -> None:
    page = page_of(loft)
    found, front = page.looked().found, loft.get("/").text
    modes = tuple(found.plan.mode)
    told = " ".join(answer(found, modes, helping(found, modes)).split())
    assert len(missed(page)) == 11
    for name, each in missed(page).items():
        assert each.can_be_helped, each.finding.sentence
        assert f"help={name}" in front
        cures = page.chest.cures(page.looked(), name)
        assert cures is not None
        assert cures.found
        for cure in cures.found:
            assert cure.way.words in told
            assert cure.text is not None, cure.way.words
        assert cures.rest in told


def test_each_cure_tried_on_the_file_gives_the_figure_that_was_told(loft: TestClient) -> None:
    """Of each question, the first: written, read again and assessed anew, it is met if it was said to be."""
    page = page_of(loft)
    first = {each.finding.question: each for each in reversed(missed(page).values())}
    assert len(first) == 5
    for question, each in first.items():
        cures = page.chest.cures(page.looked(), each.name)
        assert cures is not None
        way = cures.found[0].way
        shown = send(loft, "/try", finding=each.name, words=way.words)
        assert "Tried: " in shown
        after = telling.named(page.looked().found, each.name)
        assert after is None or after.missed is not way.meets, way.words
        if question == "noise":
            assert after is not None
            assert after.value == pytest.approx(float(way.words.split()[1]), abs=0.5)
        send(loft, "/undo")
        assert page.desk.text == bundled(EXAMPLE)


def test_what_a_trial_did_stands_until_something_else_is_done(loft: TestClient) -> None:
    page = page_of(loft)
    noise = next(each for each in missed(page).values() if each.finding.question == "noise")
    assert noise.href == "/room/practice?mode=boost"
    cures = page.chest.cures(page.looked(), noise.name)
    assert cures is not None
    shown = send(loft, "/try", finding=noise.name, words=cures.found[0].way.words)
    assert re.search(r"<strong>11 of 41</strong>, before it 11 of 40", shown)
    assert "return-practice, metal duct 1 in the eaves" in shown.partition("What got worse")[2]
    assert "Tried: " in loft.get("/file").text
    assert "Tried: " not in send(loft, "/keep")
    assert "Tried: " not in send(loft, "/undo")
    send(loft, "/redo")
    assert "Tried: " not in loft.get("/").text


def test_a_cure_of_another_state_is_not_tried(loft: TestClient) -> None:
    form = {"number": "1", "tab": "one", "finding": "0123456789ab", "words": "all of it"}
    got = loft.post("/try", data=form, headers={"hx-request": "true"})
    assert got.status_code == 422
    assert "ask again what would help" in got.text
    assert loft.get("/part/cures/0123456789ab").status_code == 404


def test_a_room_opens_in_its_worst_way_of_running_and_all_of_it_tells_of_that(loft: TestClient) -> None:
    shown = loft.get("/room/practice").text
    assert "What it will sound like, boost" in shown
    assert "The air over a session, boost" in shown
    ledger = unescape(loft.get("/part/ledger/practice?mode=boost").text)
    assert "Practice room, boost" in ledger
    assert "Practice room, quiet" not in ledger


def test_only_what_is_missed_or_worth_a_look_is_offered_help(loft: TestClient) -> None:
    found: Assessment = assess(page_of(loft).looked().plan)
    offered = [each for each in found.findings if can_be_helped(found, each)]
    assert all(each.missed or each.heed for each in offered)
    assert len(offered) < len(found.findings)


def test_variants_are_set_side_by_side_by_their_targets(loft: TestClient) -> None:
    """What each misses, how each target stands, and which is best, from what the assessment says of each."""
    page = page_of(loft)
    source = page.looked().source
    names = variants(source)
    columns = compared({"as written": plan_of(source)} | {name: plan_of(source, name) for name in names})
    told = side_by_side(columns)
    for score, column in zip(told.scores, columns, strict=True):
        held = targets(column.assessment, tuple(column.assessment.plan.mode))
        assert (score.missed, score.held) == (sum(each.missed for each in held), len(held))
        assert score.first == (score.missed == min(each.missed for each in told.scores))
    noise = {line.label: line for line in told.lines if ": noise" in line.label}
    assert "Practice room: noise, boost, against NC 25" in noise
    for line in told.lines:
        said = {cell.words for cell in line.cells if cell.stands}
        assert any(cell.best for cell in line.cells) or len(said) == 1
        assert len({cell.words for cell in line.cells if cell.best}) < 2 or ": noise" not in line.label
    for at, column in enumerate(columns):
        missed = [line.cells[at] for line in told.lines if line.cells[at].stands in MISSED]
        assert len(missed) == told.scores[at].missed, column.name


def test_a_variant_is_taken_over_from_the_comparison_and_told_of(loft: TestClient) -> None:
    page = page_of(loft)
    shown = send(loft, "/variant/open", variant="on-its-side", back="/compare")
    assert "Work with the variant on-its-side" in shown.partition('id="h-tried"')[2]
    assert re.search(r"<strong>9 of 40</strong>, before it 11 of 40", shown)
    assert page.looked().plan.stand["read-supply"].on_side
    send(loft, "/undo")
    assert page.desk.text == bundled(EXAMPLE)
