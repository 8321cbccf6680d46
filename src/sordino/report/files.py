"""Writing files whole or not at all."""

from __future__ import annotations

import glob
import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path


def write(path: Path, content: str | bytes) -> None:
    """Write a file atomically, text in UTF-8: beside its place first, then moved there.

    So no half file ever stands.
    """
    target = Path(os.path.realpath(path))
    try:
        _write(target, content.encode() if isinstance(content, str) else content)
    except OSError as error:
        error.filename = str(path)  # the draft's name says nothing to a reader
        raise


def draft(folder: Path, name: str) -> tuple[int, str]:
    """A new file in a folder to write to first, opened, and its path; what dead processes left of it is cleared."""
    for left in folder.glob(f".{glob.escape(name)}.*.part"):
        if _is_left(left.name.removeprefix(f".{name}.")):
            with suppress(OSError):
                left.unlink()
    return tempfile.mkstemp(dir=folder, prefix=f".{name}.{os.getpid()}-", suffix=".part")


def _is_left(rest: str) -> bool:
    """Whether a draft's writer has ended; it stands in the draft's name."""
    writer = re.match(r"([0-9]{1,9})-[^.]*\.part$", rest)
    if writer is None or os.name != "posix":
        return False
    try:
        os.kill(int(writer[1]), 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False


def _write(target: Path, content: bytes) -> None:
    handle, beside = draft(target.parent, target.name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(beside, _rights(target))
        os.replace(beside, target)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise


def _rights(target: Path) -> int:
    """Those of the file that is replaced, or what a new file gets."""
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
