"""What takes long: begun, followed, stopped, found again after leaving the page, and told apart from an older state."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from paged import client, page_of, until
from sordino.cli.new import STARTER, bundled
from sordino.web.solved.jobs import Job, begun
from sordino.web.views import beyond, longer

SLOW = "import sys, time; print('made', flush=True); time.sleep(60)"


@pytest.fixture
def booth(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> TestClient:
    """The starter; its book and its fine fields are made by processes that only wait."""
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    monkeypatch.setattr(
        beyond, "book", lambda text, name: (waiting("book", "the build book"), tmp_path / "b" / "b.zip")
    )
    monkeypatch.setattr(longer, "solved", lambda words, wanted, total: waiting("fields", words))
    return client(path, tmp_path)


def waiting(kind: str, words: str) -> Job:
    return begun(kind, words, 1, ("-c", SLOW))


def ended(page: TestClient, kind: str) -> None:
    """As if the process had come to its end."""
    job = page_of(page).jobs.asked[kind]
    job.cancel()
    job.end()
    job.stand = "done"


def longer_room(page: TestClient, size: str) -> None:
    desk = page_of(page).desk
    values = {"path": json.dumps(["room", "booth", "length"]), "value": size, "number": str(desk.number), "tab": "one"}
    assert page.post("/change", data=values, headers={"hx-request": "true"}).status_code == 200


def test_the_book_is_made_while_a_fine_field_is_solved(booth: TestClient) -> None:
    """Each has its own progress; a second box is told to wait, and by which."""
    assert "way-in on the fine grid" in booth.post("/fine/way-in").text
    made = booth.post("/build").text
    assert "Working on the build book" in made
    assert "way-in" not in made
    other = booth.post("/fine/way-out").text
    assert "Working on the sound field of way-in" in other
    assert "once that is done or stopped" in other
    jobs = page_of(booth).jobs
    assert jobs.asked["fine"].key == "way-in"
    jobs.close()
    assert {job.process.poll() is not None for job in jobs.asked.values()} == {True}


def test_a_book_is_found_again_and_told_apart_from_an_older_one(booth: TestClient) -> None:
    """The view shows it at work, done, and of an older state; undone to that state it is of the present one again."""
    assert "Make the book" in booth.get("/build").text
    booth.post("/build")
    assert "Working on the build book" in booth.get("/build").text
    assert "has changed since" not in booth.get("/job/book").text
    longer_room(booth, "2.6 m")
    assert "has changed since" in booth.get("/job/book").text
    ended(booth, "book")
    told = booth.get("/build").text
    assert "Download the older book" in told
    assert "since then" in told
    assert "2.6 m" in told
    assert "Make the book anew" in told
    page_of(booth).desk.undo("one", page_of(booth).desk.number)
    told = booth.get("/build").text
    assert "of the project as it is now" in told
    assert "Download the book" in told


@pytest.mark.parametrize(
    ("begin", "kind", "again"), [("/build", "book", "/build"), ("/fine/way-in", "fine", "/fine/way-in")]
)
def test_what_was_stopped_can_be_begun_again(booth: TestClient, begin: str, kind: str, again: str) -> None:
    booth.post(begin)
    until(lambda: page_of(booth).jobs.asked[kind].said)
    told = booth.post(f"/job/{kind}/cancel", params={"key": "way-in" if kind == "fine" else ""}).text
    assert "Stopped" in told
    assert f'hx-post="{again}"' in told
    page_of(booth).jobs.asked[kind].end()
    assert "Working on" in booth.post(begin).text
    assert "Working on" not in booth.get("/job/none").text
    page_of(booth).jobs.close()
