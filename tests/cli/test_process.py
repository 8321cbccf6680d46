"""The installed command as a shell sees it: status, closed pipe, plain terminals, what it imports."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from sordino.cli.new import STARTER, bundled

RUN = (sys.executable, "-c", "from sordino.cli.main import main; main()")


def ran(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    surroundings = {**os.environ, "OMP_NUM_THREADS": "1", **environment}
    return subprocess.run([*RUN, *words], capture_output=True, text=True, env=surroundings, timeout=60, check=False)


@pytest.fixture(scope="module")
def starter(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("plans") / "booth.toml"
    path.write_text(bundled(STARTER), encoding="utf-8")
    return str(path)


def test_status_tells_met_missed_and_unusable(starter: str, tmp_path: Path) -> None:
    strict = tmp_path / "strict.toml"
    strict.write_text(bundled(STARTER).replace("NC-20", "NR-0"), encoding="utf-8")
    assert ran("assess", starter).returncode == 0
    assert ran("assess", str(strict)).returncode == 1
    missing = ran("assess", str(tmp_path / "none.toml"))
    assert missing.returncode == 2
    assert missing.stderr.count("\n") == 1
    assert ran("assess", starter, "--no-such-option").returncode == 2


def test_a_closed_pipe_ends_quietly(starter: str) -> None:
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "w") as out:
        process = subprocess.run([*RUN, "assess", starter], stdout=out, stderr=subprocess.PIPE, timeout=60, check=False)
    assert process.returncode == 141
    assert process.stderr == b""


def test_a_closed_stdout_ends_as_quietly(starter: str) -> None:
    closed = ["sh", "-c", 'exec "$@" >&-', "sh", *RUN]
    for words, status, told in (
        (["assess", starter], 141, b""),
        (["assess", "none.toml"], 2, b"none.toml: there is no"),
    ):
        process = subprocess.run([*closed, *words], stderr=subprocess.PIPE, timeout=60, check=False)
        assert process.returncode == status
        assert process.stderr.startswith(told)
        assert told or process.stderr == b""


def test_a_terminal_that_lacks_a_dash_gets_a_question_mark(starter: str) -> None:
    process = subprocess.run(
        [*RUN, "assess", starter],
        capture_output=True,
        env={**os.environ, "OMP_NUM_THREADS": "1", "PYTHONIOENCODING": "latin-1"},
        timeout=60,
        check=False,
    )
    assert process.returncode == 0
    assert process.stderr == b""
    assert b"  predicted" in process.stdout
    assert b" ? " in process.stdout


def test_help_imports_neither_arrays_nor_models() -> None:
    code = (
        "import sys\n"
        "from sordino.cli.main import main\n"
        "try: main(['--help'])\n"
        "except SystemExit as end: status = end.code\n"
        "heavy = {'numpy', 'scipy', 'pydantic', 'tomlkit', 'fluids', 'sordino.cli.assess'} & set(sys.modules)\n"
        "print(status, sorted(heavy))"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert told.stdout.splitlines()[-1] == "0 []"
