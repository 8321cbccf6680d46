"""The folder of a book stays whole whatever happens, and takes nothing of anybody else's with it."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from sordino.errors import PlanError
from sordino.report.book import folder as place
from sordino.report.book.folder import MARK, check, last_book, write_folder

OLD = [("book.pdf", b"old"), ("parts/a1.dxf", b"old part")]


def tree(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def old(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    write_folder(folder, OLD, {"number": 1})
    return folder


def test_a_book_says_what_belongs_to_it(old: Path) -> None:
    assert tree(old).keys() == {"book.pdf", "parts/a1.dxf", MARK}
    assert last_book(old) == {"number": 1, "files": ["book.pdf", "parts/a1.dxf"]}
    assert old.stat().st_mode & 0o777 == 0o777 & ~_mask()


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def test_a_new_book_takes_the_old_ones_place_whole(old: Path) -> None:
    write_folder(old, [("book.pdf", b"new")], {"number": 2})
    assert tree(old).keys() == {"book.pdf", MARK}, "nothing stale stays"
    assert (old / "book.pdf").read_bytes() == b"new"
    assert os.listdir(old.parent) == ["book"]


def test_what_somebody_put_there_stays(old: Path) -> None:
    (old / "notes.txt").write_text("screws from the corner shop")
    (old / "parts" / "photo.jpg").write_bytes(b"jpg")
    write_folder(old, [("book.pdf", b"new")], {"number": 2})
    assert tree(old).keys() == {"book.pdf", MARK, "notes.txt", "parts/photo.jpg"}
    assert last_book(old) == {"number": 2, "files": ["book.pdf"]}


def interrupted() -> Iterator[tuple[str, bytes]]:
    yield "book.pdf", b"new"
    raise KeyboardInterrupt


def test_interruption_leaves_the_old_book(old: Path) -> None:
    before = tree(old)
    with pytest.raises(KeyboardInterrupt):
        write_folder(old, interrupted(), {"number": 2})
    assert tree(old) == before
    assert os.listdir(old.parent) == ["book"], "nothing half-written remains"


def test_a_full_disk_leaves_the_old_book(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tree(old)

    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", "draft")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left") as caught:
        write_folder(old, [("book.pdf", b"new")], {"number": 2})
    assert caught.value.filename == str(old)
    assert tree(old) == before
    assert os.listdir(old.parent) == ["book"]


def test_interruption_of_the_first_book_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(KeyboardInterrupt):
        write_folder(tmp_path / "book", interrupted(), {})
    assert not os.listdir(tmp_path)


@pytest.mark.parametrize("fails", [False, True])
def test_where_names_cannot_be_exchanged(old: Path, monkeypatch: pytest.MonkeyPatch, fails: bool) -> None:
    monkeypatch.setattr(place, "_exchanged", lambda one, other: False)
    before = tree(old)
    if not fails:
        write_folder(old, [("book.pdf", b"new")], {"number": 2})
        assert (old / "book.pdf").read_bytes() == b"new"
    else:
        real = os.rename

        def rename(one: Path, other: Path) -> None:
            if Path(one).name.endswith(".part"):
                raise OSError(errno.EIO, "Input/output error")
            real(one, other)

        monkeypatch.setattr(os, "rename", rename)
        with pytest.raises(OSError, match="Input/output"):
            write_folder(old, [("book.pdf", b"new")], {"number": 2})
        assert tree(old) == before
    assert os.listdir(old.parent) == ["book"]


def test_names_are_exchanged_in_one_step_here(old: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    if place._exchanged(other, old):
        assert not tree(old)
        assert (other / MARK).exists()


def test_interruption_while_the_draft_is_taken_away_leaves_nothing(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, calls = shutil.rmtree, list[Path]()

    def rmtree(path: Path, ignore_errors: bool) -> None:
        calls.append(path)
        if len(calls) == 1:
            raise KeyboardInterrupt
        real(path, ignore_errors=ignore_errors)

    monkeypatch.setattr(shutil, "rmtree", rmtree)
    with pytest.raises(KeyboardInterrupt):
        write_folder(old, [("book.pdf", b"new")], {"number": 2})
    assert os.listdir(old.parent) == ["book"]
    assert tree(old).keys() == {"book.pdf", MARK}


def test_what_a_killed_build_left_is_swept_later(old: Path) -> None:
    stale, fresh = old.parent / ".book.abc.part", old.parent / ".book.xyz.part"
    stale.mkdir()
    fresh.mkdir()
    os.utime(stale, (0.0, 0.0))
    write_folder(old, OLD, {"number": 2})
    assert sorted(os.listdir(old.parent)) == [".book.xyz.part", "book"]


def test_a_folder_of_other_things_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"jpg")
    with pytest.raises(PlanError, match="other things than a book"):
        check(tmp_path)
    with pytest.raises(PlanError, match="this is a file"):
        check(tmp_path / "photo.jpg")
    check(tmp_path / "new")
    (tmp_path / "empty").mkdir()
    check(tmp_path / "empty")
    monkeypatch.chdir(tmp_path / "empty")
    with pytest.raises(PlanError, match="you stand in this folder"):
        check(Path("."))


def test_a_broken_mark_is_no_book(old: Path) -> None:
    (old / MARK).write_text("{")
    assert last_book(old) is None
    with pytest.raises(PlanError, match="other things"):
        check(old)
