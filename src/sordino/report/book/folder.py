"""A folder that is written whole or not at all: made beside its place, then exchanged with the old one in one go."""

from __future__ import annotations

import ctypes
import glob
import json
import os
import shutil
import tempfile
import time
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any

from sordino.errors import Fault, PlanError

MARK = "book.json"
"""The file by which a folder is known as a book; it says which files belong to it and what it was made of."""
EXCHANGE = 2
"""RENAME_EXCHANGE of renameat2(2)."""
STALE = 3600.0
"""Age of a draft that nobody works on any more, s."""
HERE = -100
"""AT_FDCWD."""


def last_book(folder: Path) -> dict[str, Any] | None:
    """What the book in a folder says of itself; None if there is none, or none that can be read."""
    try:
        found = json.loads((folder / MARK).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) and isinstance(found.get("files"), list) else None


def check(folder: Path) -> None:
    """Refuse a folder that holds something else than a book, or in which the shell stands."""
    if folder.exists() and not folder.is_dir():
        raise _refused(folder, "this is a file.", "Name a folder for the book.")
    if not folder.exists():
        return
    if any(folder.iterdir()) and last_book(folder) is None:
        raise _refused(folder, "the folder holds other things than a book.", "Name an empty or a new one.")
    here, real = Path.cwd(), Path(os.path.realpath(folder))
    if real == here or real in here.parents:
        raise _refused(folder, "you stand in this folder.", "Go out of it, because it is exchanged as a whole.")


def _refused(folder: Path, problem: str, cure: str) -> PlanError:
    return PlanError([Fault(file=str(folder), line=None, key="", problem=problem, cure=cure)])


def write_folder(folder: Path, files: Iterable[tuple[str, bytes]], about: dict[str, Any]) -> None:
    """Write all files and the mark into a new folder and exchange it with the old one.

    Things in the old folder that no book wrote stay; files of the old book that are not made anew go, so that nothing
    stale lies beside what is new.
    """
    target = Path(os.path.realpath(folder))
    target.parent.mkdir(parents=True, exist_ok=True)
    _sweep(target)
    draft = Path(tempfile.mkdtemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part"))
    try:
        names = [_written(draft, name, data) for name, data in files]
        _carry_over(target, draft, set(names))
        mark = json.dumps({**about, "files": sorted(set(names))}, ensure_ascii=False, indent=1) + "\n"
        _written(draft, MARK, mark.encode("utf-8"))
        os.chmod(draft, 0o777 & ~_mask())
        _exchange(draft, target)
    except OSError as error:
        error.filename = str(folder)  # the draft's name says nothing to a reader
        raise
    finally:
        _remove(draft)  # after an exchange this is the old book


def _remove(draft: Path) -> None:
    """Take a draft away, all of it, even if somebody interrupts just now."""
    try:
        shutil.rmtree(draft, ignore_errors=True)
    except KeyboardInterrupt:
        shutil.rmtree(draft, ignore_errors=True)
        raise


def _sweep(target: Path) -> None:
    """Take away what a build left that was killed outright, once nobody can still be at work on it."""
    for kind in ("part", "old"):
        for stale in target.parent.glob(f".{glob.escape(target.name)}.*.{kind}"):
            with suppress(OSError):
                if time.time() - stale.stat().st_mtime > STALE and not (stale / "book").exists():
                    shutil.rmtree(stale, ignore_errors=True)


def _written(draft: Path, name: str, data: bytes) -> str:
    path = draft / name
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())
    return name


def _carry_over(target: Path, draft: Path, made: set[str]) -> None:
    """Copy what somebody else put into the old folder."""
    old = last_book(target)
    if old is None:
        return
    ours = {*old["files"], MARK}
    for path in sorted(target.rglob("*")):
        name = path.relative_to(target).as_posix()
        if (path.is_dir() and not path.is_symlink()) or name in made or name in ours:
            continue
        (draft / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(path, draft / name, follow_symlinks=False)


def _exchange(draft: Path, target: Path) -> None:
    """Put the draft in the target's place; whatever happens, a whole folder stands there."""
    if not target.exists():
        os.rename(draft, target)
        return
    if _exchanged(draft, target):
        return
    old = Path(tempfile.mkdtemp(dir=target.parent, prefix=f".{target.name}.", suffix=".old"))
    os.rename(target, old / "book")
    try:
        os.rename(draft, target)
    except BaseException:
        os.rename(old / "book", target)
        raise
    finally:
        shutil.rmtree(old, ignore_errors=True)


def _exchanged(one: Path, other: Path) -> bool:
    """Whether the system could exchange two names in one step."""
    with suppress(OSError, AttributeError):
        call = ctypes.CDLL(None, use_errno=True).renameat2
        return bool(call(HERE, os.fsencode(one), HERE, os.fsencode(other), EXCHANGE) == 0)
    return False


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
