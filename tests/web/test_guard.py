"""Only this machine's browser may ask, from this page; what is sent is limited and stays in the project's folder."""

from __future__ import annotations

import json
import os
import socket
import struct
import subprocess
import sys
from pathlib import Path

import httpx2
import pytest
from starlette.testclient import TestClient

from paged import KEY, client, served, until
from sordino.cli.new import STARTER, bundled
from sordino.web.app import application
from sordino.web.views import beyond

HOSTILE = "<img src=x onerror=alert(1)>\"'&{{7*7}}"


@pytest.fixture
def page(tmp_path: Path) -> TestClient:
    path = tmp_path / "project" / "booth.toml"
    path.parent.mkdir()
    path.write_text(bundled(STARTER), encoding="utf-8")
    return client(path, path.parent)


@pytest.mark.parametrize("at", ["/", "/static/look.css", "/pulse", "/file", "/?key=wrong", "/?key="])
def test_without_the_key_nothing_is_told(page: TestClient, at: str) -> None:
    page.cookies.clear()
    answer = page.get(at)
    assert answer.status_code == 403
    assert "booth" not in answer.text
    assert KEY not in answer.text


def test_the_key_goes_into_a_cookie_and_out_of_the_address(tmp_path: Path) -> None:
    found = TestClient(application(None, tmp_path, KEY), base_url="http://127.0.0.1")
    answer = found.get("/", params={"key": KEY}, follow_redirects=False)
    assert answer.headers["location"] == "/"
    assert "HttpOnly" in answer.headers["set-cookie"]
    assert "SameSite=strict" in answer.headers["set-cookie"]


def test_another_host_is_refused(page: TestClient) -> None:
    """A name that was made to point here (DNS rebinding)."""
    assert page.get("/", headers={"host": "evil.example"}).status_code == 400
    assert page.get("/", headers={"host": "127.0.0.1.evil.example"}).status_code == 400
    assert page.get("/").status_code == 200


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1", "http://127.0.0.1:1"])
def test_another_origin_is_refused(page: TestClient, origin: str) -> None:
    sent = {"number": "1", "units": "inch"}
    assert page.post("/units", data=sent, headers={"origin": origin}).status_code == 403
    assert page.get("/pulse", headers={"origin": origin}).status_code == 403
    assert page.post("/units", data=sent, headers={"sec-fetch-site": "cross-site"}).status_code == 403
    assert 'units = "metric"' in page.get("/file").text.replace("&#34;", '"')
    assert page.post("/units", data=sent, headers={"origin": "http://127.0.0.1"}).status_code == 200


def test_every_answer_forbids_what_the_page_does_not_need(page: TestClient) -> None:
    told = page.get("/").headers
    assert "default-src 'self'" in told["content-security-policy"]
    assert "script-src" not in told["content-security-policy"]
    assert told["x-content-type-options"] == "nosniff"
    assert told["cache-control"] == "no-store"


def test_hostile_names_are_shown_as_text(tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    text = bundled(STARTER)
    for name in ("My quiet room", "Voice booth", "Loft", "Fan"):
        text = text.replace(f'"{name}"', json.dumps(HOSTILE))
    path.write_text(text, encoding="utf-8")
    found = client(path, tmp_path)
    ways = ("/", "/room/booth", "/mover/fan", "/space/loft", "/file", "/box/way-in", "/part/ledger/booth")
    for at in ways:
        answer = found.get(at)
        assert answer.status_code == 200, at
        assert "<img" not in answer.text, at
        assert "onerror=alert(1)&gt;" in answer.text or at == "/box/way-in", at
    refused = found.post("/change", data={"path": '["box","way-in","length"]', "value": HOSTILE, "number": "1"})
    assert refused.status_code == 422
    assert "<img" not in refused.text


def wav(seconds: float = 1.0, rate: int = 8000, channels: int = 1, promised: int | None = None) -> bytes:
    """A recording as the format's description has it (44 bytes of header, 16 bits a sample)."""
    sound = (b"\x10\x00\xf0\xff" * int(seconds * rate * channels))[: 2 * int(seconds * rate) * channels]
    size = len(sound) if promised is None else promised
    form = struct.pack("<HHIIHH", 1, channels, rate, 2 * rate * channels & 0xFFFFFFFF, 2 * channels & 0xFFFF, 16)
    body = b"WAVEfmt " + struct.pack("<I", len(form)) + form + b"data" + struct.pack("<I", size) + sound
    return b"RIFF" + struct.pack("<I", len(body)) + body


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("../../out.wav", "out.wav"),
        ("..\\..\\out.wav", "out.wav"),
        ("/etc/passwd.wav", "passwd.wav"),
        ("a\0b<i>.WAV", "a_b_i_.wav"),
        ("e\u0301tude \u4f60\u597d \u0939\u093f\u0902.wav", "\u00e9tude \u4f60\u597d \u0939\u093f\u0902.wav"),
        ("take\u202evaw.\u2066x.wav", "takevaw.x.wav"),
        ("\U0001f3b5.wav", "recording.wav"),
        ("\u4f60" * 120 + ".wav", "\u4f60" * 53 + ".wav"),
        (".wav", None),
        ("..", None),
        ("booth.toml", None),
        ("run.sh", None),
    ],
)
def test_a_recording_is_kept_in_the_folder_or_not_at_all(
    page: TestClient, tmp_path: Path, name: str, kept: str
) -> None:
    before = set(tmp_path.rglob("*"))
    answer = page.post("/recording", params={"name": name}, content=wav())
    new = set(tmp_path.rglob("*")) - before
    assert new == ({tmp_path / "project" / kept} if kept else set())
    assert answer.status_code == (200 if kept else 422)


def test_a_recording_replaces_nothing_and_follows_no_link(page: TestClient, tmp_path: Path) -> None:
    (tmp_path / "project" / "take.wav").write_bytes(b"mine")
    outside = tmp_path / "outside.wav"
    os.symlink(outside, tmp_path / "project" / "link.wav")
    page.post("/recording", params={"name": "take.wav"}, content=wav())
    page.post("/recording", params={"name": "link.wav"}, content=wav())
    assert (tmp_path / "project" / "take.wav").read_bytes() == b"mine"
    assert (tmp_path / "project" / "take-2.wav").read_bytes() == wav()
    assert not outside.exists()


def test_recordings_are_limited_in_size_and_kind(
    page: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(beyond, "MOST", 0.01)
    assert page.post("/recording", params={"name": "a.wav"}, content=wav(20)).status_code == 422
    assert page.post("/recording", params={"name": "a.wav"}, content=b"MZ not sound").status_code == 422
    assert page.post("/recording", params={"name": "a.flac"}, content=wav()).status_code == 422
    assert page.post("/recording", params={"name": "a.wav"}, content=b"").status_code == 422
    assert sorted(path.name for path in (tmp_path / "project").iterdir()) == ["booth.toml"]
    stated = {"content-length": "99000000000"}
    assert page.post("/recording", params={"name": "a.wav"}, content=b"R", headers=stated).status_code == 413


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (wav()[:20], "broken"),
        (wav(0.0, promised=1000), "empty"),
        (wav(0.01, channels=65535), "broken"),
        (wav(channels=4), "4 channels"),
        (wav(rate=0), ""),
        (wav(rate=100), "not believed"),
    ],
)
def test_a_recording_that_can_not_be_read_is_not_kept(
    page: TestClient, tmp_path: Path, content: bytes, words: str
) -> None:
    answer = page.post("/recording", params={"name": "a.wav"}, content=content)
    assert answer.status_code == 422
    assert words in answer.text
    flac = page.post("/recording", params={"name": "a.flac"}, content=b"fLaC" + bytes(4000))
    assert flac.status_code == 422
    assert sorted(path.name for path in (tmp_path / "project").iterdir()) == ["booth.toml"]


def test_a_recording_is_told_what_it_is(page: TestClient) -> None:
    assert (
        "1.5 s, 48 kHz, two channels."
        in page.post("/recording", params={"name": "a.wav"}, content=wav(1.5, 48000, 2)).text
    )
    broken = page.post("/recording", params={"name": "a.wav"}, content=wav(promised=48000)).text
    assert "Kept as a-2.wav" in broken
    assert "a-2.wav breaks off: its header promises 0.048 MB of sound" in broken


def test_a_recording_that_breaks_off_leaves_nothing(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    with served(None, tmp_path) as found:
        port = int(found.base.rpartition(":")[2])
        with httpx2.Client(base_url=found.base) as asking:
            cookies = asking.get("/", params={"key": KEY}).cookies
            carried = "; ".join(f"{name}={value}" for name, value in cookies.items())
        with socket.create_connection(("127.0.0.1", port), 5.0) as door:
            head = f"POST /recording?name=a.wav HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nCookie: {carried}\r\n"
            door.sendall(f"{head}Content-Length: 100000\r\n\r\n".encode() + wav(0.1))
            until(lambda: list(tmp_path.glob(".recording.*.part")))
        until(lambda: not list(tmp_path.iterdir()))
    assert capfd.readouterr().err == ""


def test_a_path_that_is_a_pit_is_refused(page: TestClient) -> None:
    sent = {"number": "1", "path": "[" * 200_000, "value": "1"}
    assert page.post("/change", data=sent, headers={"hx-request": "true"}).status_code == 422


def test_a_form_is_limited_in_size(page: TestClient) -> None:
    assert page.post("/text", data={"text": "x" * 4_000_000}).status_code == 413


def test_it_listens_on_loopback_only(tmp_path: Path) -> None:
    """The program itself: what the machine's other addresses answer, and what it prints."""
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    words = ("-c", "from sordino.cli.main import main; main()", "open", str(path), "--no-browser")
    with subprocess.Popen([sys.executable, *words], stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        line = program.stdout.readline()
        port = int(line.split("127.0.0.1:")[1].split("/")[0])
        assert "?key=" in line
        with pytest.raises(OSError), socket.create_connection(("127.0.0.2", port), 1.0):
            pass
        with socket.create_connection(("127.0.0.1", port), 5.0):
            pass
        program.terminate()
        assert program.wait(10) is not None
