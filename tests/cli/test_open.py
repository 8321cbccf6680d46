"""`sordino open` as a shell sees it: an address, a page behind it, a quiet end."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import urllib.request
from http.cookiejar import CookieJar
from pathlib import Path

from click.testing import CliRunner

from paged import until
from sordino.cli.main import main
from sordino.cli.new import STARTER, bundled

RUN = (sys.executable, "-c", "from sordino.cli.main import main; main()", "open", "--no-browser")


def test_a_file_that_is_not_there_is_told() -> None:
    result = CliRunner().invoke(main, ["open", "none.toml"], prog_name="sordino")
    assert result.exit_code == 2
    assert "there is no such file" in result.stderr


def test_what_is_no_file_is_told_with_what_would_do(tmp_path: Path) -> None:
    def told(*words: str) -> str:
        result = CliRunner().invoke(main, ["open", "--no-browser", *words], prog_name="sordino")
        assert result.exit_code == 2
        return result.stderr

    assert "this is a folder. Name a project file, as studio.toml." in told(str(tmp_path))
    (tmp_path / "booth.toml").write_text(bundled(STARTER), encoding="utf-8")
    assert f"Name a project file in it, as {tmp_path / 'booth.toml'}." in told(str(tmp_path))
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    assert "this link leads back to itself." in told(str(tmp_path / "loop.toml"))
    (tmp_path / "gone.toml").symlink_to("nowhere.toml")
    assert "this link leads to a file that is not there." in told(str(tmp_path / "gone.toml"))
    with socket.create_server(("127.0.0.1", 0)) as door:
        port = door.getsockname()[1]
        words = told(str(tmp_path / "booth.toml"), "--port", str(port))
    assert f"another program listens at port {port}; give another --port" in words


def test_it_prints_an_address_answers_there_and_ends_quietly(tmp_path: Path) -> None:
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True}
    with subprocess.Popen([*RUN, str(path)], env={**os.environ}, **pipes) as program:  # type: ignore[call-overload]
        address = program.stdout.readline().split()[-1]
        door = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
        with door.open(address, timeout=20) as answer:
            assert "booth.toml" in answer.read().decode()
        program.send_signal(signal.SIGINT)
        assert program.wait(15) in (0, 130)
        assert program.stderr.read().strip() == ""
    assert path.read_text("utf-8") == bundled(STARTER)
    assert [each.name for each in tmp_path.iterdir()] == ["booth.toml"]


def test_it_ends_quietly_while_something_is_under_way(tmp_path: Path) -> None:
    """A recording that never comes to its end."""
    path = tmp_path / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    with subprocess.Popen(
        [*RUN, str(path)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**os.environ}
    ) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        address = program.stdout.readline().split()[-1]
        jar = CookieJar()
        urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar)).open(address, timeout=20).close()
        host, cookie = address.split("/")[2], "; ".join(f"{each.name}={each.value}" for each in jar)
        with socket.create_connection(("127.0.0.1", int(host.partition(":")[2])), 10.0) as door:
            head = f"POST /recording?name=a.wav HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n"
            door.sendall(f"{head}Content-Length: 5000\r\n\r\nRIFF".encode())
            until(lambda: [*tmp_path.glob(".recording.*.part")])
            program.send_signal(signal.SIGINT)
            assert program.wait(20) in (0, 130)
        assert program.stderr.read().strip() == ""
    assert [each.name for each in tmp_path.iterdir()] == ["booth.toml"]
