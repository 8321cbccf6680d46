"""Writing files whole or not at all."""

from __future__ import annotations

import os
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


def _write(target: Path, content: bytes) -> None:
    handle, draft = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(draft, _rights(target))
        os.replace(draft, target)
    except BaseException:
        with suppress(OSError):
            os.unlink(draft)
        raise


def _rights(target: Path) -> int:
    """Those of the file that is replaced, or what a new file gets."""
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
