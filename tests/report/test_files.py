"""Files are written whole or not at all."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from sordino.report.files import write


def test_a_file_is_written_with_its_rights_kept(tmp_path: Path) -> None:
    target = tmp_path / "kept.txt"
    target.write_text("before")
    target.chmod(0o600)
    write(target, "nachher ä")
    assert target.read_text(encoding="utf-8") == "nachher ä"
    assert target.stat().st_mode & 0o777 == 0o600
    assert os.listdir(tmp_path) == ["kept.txt"]


def test_a_failed_write_leaves_the_old_file_and_no_draft(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "kept.txt"
    target.write_text("before")

    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, "disk full")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(OSError, match="disk full") as caught:
        write(target, "after")
    assert caught.value.filename == str(target)
    assert target.read_text() == "before"
    assert os.listdir(tmp_path) == ["kept.txt"]


def test_a_link_is_followed_not_replaced(tmp_path: Path) -> None:
    target, link = tmp_path / "real.txt", tmp_path / "link.txt"
    target.write_text("before")
    link.symlink_to(target)
    write(link, "after")
    assert link.is_symlink()
    assert target.read_text() == "after"


def test_what_a_killed_process_left_is_cleared_by_the_next_write(tmp_path: Path) -> None:
    script = (
        "import os, sys, pathlib; os.fsync = lambda handle: os.kill(os.getpid(), 9);"
        "from sordino.report.files import write; write(pathlib.Path(sys.argv[1]), 'half')"
    )
    target = tmp_path / "kept [1].txt"
    target.write_text("before")
    subprocess.run([sys.executable, "-c", script, str(target)], check=False)
    assert len(os.listdir(tmp_path)) == 2, "the killed process left its draft"
    alive = tmp_path / f".{target.name}.{os.getpid()}-x.part"
    alive.touch()
    write(target, "after")
    assert sorted(os.listdir(tmp_path)) == sorted([alive.name, target.name]), "one that is being written stays"
