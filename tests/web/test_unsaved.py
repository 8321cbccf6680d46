"""What was not saved when the program ended is kept beside the project, and offered at the next start."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import urllib.request
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.parse import urlencode

from starlette.testclient import TestClient

from paged import client, page_of
from sordino.cli.new import STARTER, bundled

KEPT = "booth.unsaved.toml"


def booth(folder: Path) -> Path:
    path = folder / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    return path


def send(page: TestClient, to: str, **values: str) -> str:
    number = page_of(page).desk.number
    data = {"number": str(number), "tab": "one", **values}
    return page.post(to, data=data, headers={"hx-request": "true"}).text


def test_ctrl_c_keeps_what_was_not_saved_and_says_where(tmp_path: Path) -> None:
    """On the program as it is started: the file is as it was, the change stands beside it, and its name is told."""
    path = booth(tmp_path)
    command = (sys.executable, "-c", "from sordino.cli.main import main; main()", "open", path.name, "--no-browser")
    with subprocess.Popen(
        command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as program:
        assert program.stdout is not None, "it is asked to speak"
        address = program.stdout.readline().split()[-1]
        base = address.partition("/?")[0]
        door = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
        door.open(address)
        form = {"path": json.dumps(["room", "booth", "length"]), "value": "2.6 m", "number": "1", "tab": "one"}
        door.open(f"{base}/change", data=urlencode(form).encode())
        program.send_signal(signal.SIGINT)
        said = program.communicate(timeout=30)[0]
    assert KEPT in said
    assert "Traceback" not in said
    assert path.read_text("utf-8") == bundled(STARTER)
    assert (tmp_path / KEPT).read_text("utf-8") == bundled(STARTER).replace('length = "2.4 m"', 'length = "2.6 m"', 1)


def test_it_is_offered_taken_and_gone_once_saved(tmp_path: Path) -> None:
    path = booth(tmp_path)
    other = bundled(STARTER).replace("2.4 m", "2.6 m", 1)
    (tmp_path / KEPT).write_text(other, encoding="utf-8")
    page = client(path, tmp_path)
    assert "Work that was not saved is still there" in page.get("/").text
    assert "still there" not in send(page, "/unsaved")
    assert page_of(page).desk.text == other
    send(page, "/undo")
    send(page, "/save")
    assert (tmp_path / KEPT).exists(), "it was not taken up after all"
    send(page, "/redo")
    send(page, "/save")
    assert path.read_text("utf-8") == other
    assert not (tmp_path / KEPT).exists()


def test_older_work_is_not_written_over(tmp_path: Path) -> None:
    """Nobody looked at it: what is kept next stands beside it; the latest is offered first; thrown away is gone."""
    path = booth(tmp_path)
    (tmp_path / KEPT).write_text("older", encoding="utf-8")
    os.utime(tmp_path / KEPT, (1.0, 1.0))
    page = client(path, tmp_path)
    unsaved = page_of(page).unsaved
    assert unsaved.keep() is None
    send(page, "/change", path=json.dumps(["room", "booth", "length"]), value="2.6 m")
    kept = unsaved.keep()
    assert kept == tmp_path / "booth.unsaved-2.toml"
    assert (tmp_path / KEPT).read_text("utf-8") == "older"
    again = client(path, tmp_path)
    assert "booth.unsaved-2.toml" in again.get("/").text
    assert f"kept in {KEPT}" in send(again, "/unsaved/away")
    assert not kept.exists()


def test_a_new_project_is_kept_too(tmp_path: Path) -> None:
    page = client(None, tmp_path)
    page_of(page).desk.change(bundled(STARTER), "begun", "one", 0)
    kept = page_of(page).unsaved.keep()
    assert kept == tmp_path / "studio.unsaved.toml"
    assert "Work that was not saved is still there" in client(None, tmp_path).get("/").text
