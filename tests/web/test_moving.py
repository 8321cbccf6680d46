"""Edges that are moved and values that are typed over: one step to undo, nothing counted twice, nothing waited for."""

from __future__ import annotations

import json
import threading
import time
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from paged import client, page_of, until
from sordino.cli.new import STARTER, bundled
from sordino.elements.box_field import box_field
from sordino.errors import Refusal
from sordino.web.project.dragging import dragged

LENGTH = json.dumps(["box", "way-in", "length"])


@pytest.fixture
def booth(tmp_path: Path) -> TestClient:
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    return client(path, tmp_path)


def send(page: TestClient, **values: str) -> int:
    number = page_of(page).desk.number
    data = {"number": str(number), "tab": "one", "path": LENGTH, **values}
    return page.post("/change", data=data, headers={"hx-request": "true"}).status_code


def test_a_drag_is_one_step_however_long_it_takes(booth: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each of its changes counts at once; let go where it began, it never was."""
    desk, first = page_of(booth).desk, page_of(booth).desk.text
    monkeypatch.setattr("sordino.web.project.desk.ONE_STEP", 0.0)
    for metres in ("1.05", "1.08", "1.1"):
        assert send(booth, metres=metres, stroke="a") == 200
    assert 'length = "1.1 m"' in desk.text
    assert send(booth, metres="1.2", stroke="b") == 200
    desk.undo("one", desk.number)
    assert 'length = "1.1 m"' in desk.text
    desk.undo("one", desk.number)
    assert desk.text == first
    assert not desk.can_undo
    assert send(booth, metres="1.3", stroke="c") == 200
    assert send(booth, metres="1.0", stroke="c") == 200
    assert desk.text == first, "as it was written, 1.00 m"
    assert not desk.can_undo


@pytest.mark.parametrize(
    ("now", "first", "start", "metres", "written"),
    [
        ("1.00 m", "1.00 m", "1.0", "1.05", "1.05 m"),
        ("1.00 m", "1.00 m", "1.0", "1.0000001", "1.00 m"),
        ("1.10 m", "1.10 m", "1.0", "1.05", "1.15 m"),  # the drawing was older than the project
        ("1.05 m", "1.00 m", "1.0504", "1.07", "1.07 m"),  # what was written before is to the millimetre
        ("1.05 m", "1 m", "1.05", "1.0", "1 m"),  # back to where it began
        (None, None, "0.3", "0.31", "310 mm"),  # not stated before
    ],
)
def test_an_edge_goes_as_far_as_it_was_moved(now: Any, first: Any, start: str, metres: str, written: str) -> None:
    assert dragged({"metres": metres, "from": start}, now, first, "metric") == written


@pytest.mark.parametrize("metres", ["-0.2", "nan", "inf", "1e9", "far"])
def test_what_is_no_length_is_refused(metres: str) -> None:
    with pytest.raises(Refusal, match="no length"):
        dragged({"metres": metres}, "1.00 m", "1.00 m", "metric")


def test_what_is_typed_over_is_given_up(booth: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    """A text that would do holds up the one that is meant no longer than one piece of the work takes."""
    pieces, begun = 0, threading.Event()

    def slow(*of: Any, **more: Any) -> Any:
        nonlocal pieces
        if of[0].length != pytest.approx(1.237):
            return box_field(*of, **more)
        begun.set()
        for _ in range(500):
            more["give_up"]()
            pieces += 1
            time.sleep(0.02)
        return box_field(*of, **more)

    monkeypatch.setattr("sordino.web.solved.work.box_field", slow)
    answers: list[int] = []
    first = threading.Thread(target=lambda: answers.append(send(booth, value="1.237 m")))
    first.start()
    until(begun.is_set)
    assert send(booth, value="1.25 m") == 200
    first.join()
    assert answers == [204]
    assert pieces < 250
    assert 'length = "1.25 m"' in page_of(booth).desk.text
