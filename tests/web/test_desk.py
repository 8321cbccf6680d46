"""Undo and redo, tabs that don't overwrite one another, and a file that is whole at every moment."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.web.project.desk import Desk, DiskChanged, Stale


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    path = tmp_path / "studio.toml"
    path.write_text('title = "a"\n', encoding="utf-8")
    return Desk(path, tmp_path)


@given(moves=st.lists(st.sampled_from(["undo", "redo", "b", "c", "d"]), max_size=30))
def test_undo_and_redo_are_those_of_a_list(moves: list[str]) -> None:
    """Against the plainest model: a list of texts and a place in it."""
    desk, texts, at = Desk(None, Path()), ["x"], 0
    desk.change("x", "begun", "t", 0)
    for move in moves:
        if move == "undo":
            desk.undo("t", desk.number)
            at = max(at - 1, 0)
        elif move == "redo":
            desk.redo("t", desk.number)
            at = min(at + 1, len(texts) - 1)
        elif move != texts[at]:
            desk.change(move, move, "t", desk.number)
            texts, at = [*texts[: at + 1], move], at + 1
        assert desk.text == texts[at]


def test_quick_changes_of_one_place_are_undone_as_one(desk: Desk) -> None:
    for text in ("1", "12", "123"):
        desk.change(text, text, "t", desk.number, ("title",))
    desk.change("other", "other", "t", desk.number, ("units",))
    desk.undo("t", desk.number)
    assert desk.text == "123"
    desk.undo("t", desk.number)
    assert desk.text == 'title = "a"\n'


def test_a_tab_that_was_left_behind_is_refused(desk: Desk) -> None:
    seen = desk.number
    desk.change("b", "said b", "one", seen)
    with pytest.raises(Stale) as refused:
        desk.change("c", "said c", "two", seen)
    assert [move.words for move in refused.value.since] == ["said b"]
    with pytest.raises(Stale):
        desk.undo("two", seen)
    assert desk.text == "b"
    desk.change("c", "said c", "one", seen)  # its own change is no reason to refuse it: it may type ahead
    assert desk.text == "c"


def test_a_file_that_was_changed_elsewhere_is_not_overwritten(desk: Desk) -> None:
    assert desk.path is not None
    desk.change("mine", "mine", "t", desk.number)
    desk.path.write_text("theirs", encoding="utf-8")
    assert desk.disk_changed()
    with pytest.raises(DiskChanged):
        desk.save()
    assert desk.path.read_text("utf-8") == "theirs"
    desk.save(force=True)
    assert desk.path.read_text("utf-8") == "mine"
    assert not desk.disk_changed()
    assert not desk.unsaved


def test_a_new_project_gets_a_name_that_is_free(tmp_path: Path) -> None:
    (tmp_path / "studio.toml").write_text("theirs", encoding="utf-8")
    desk = Desk(None, tmp_path)
    desk.change("mine", "begun", "t", 0)
    desk.save()
    assert desk.path == tmp_path / "studio-2.toml"
    assert (tmp_path / "studio.toml").read_text("utf-8") == "theirs"


SAVING = """
import sys
from pathlib import Path
from sordino.web.project.desk import Desk
desk = Desk(Path(sys.argv[1]), Path(sys.argv[1]).parent)
print("ready", flush=True)
for number in range(100_000):
    desk.change(f"{number:06d}\\n" * 20_000, "x", "t", desk.number)
    desk.save()
"""


def test_killed_in_the_middle_of_saving_the_file_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "studio.toml"
    path.write_text("000000\n" * 20_000, encoding="utf-8")
    for pause in (0.02, 0.05, 0.11):
        program = subprocess.Popen(
            [sys.executable, "-c", SAVING, str(path)], stdout=subprocess.PIPE, text=True, env=dict(os.environ)
        )
        assert program.stdout is not None
        assert program.stdout.readline() == "ready\n"
        time.sleep(pause)
        program.send_signal(signal.SIGKILL)
        program.wait()
        program.stdout.close()
        rows = path.read_text("utf-8").splitlines()
        assert len(rows) == 20_000
        assert len(set(rows)) == 1
