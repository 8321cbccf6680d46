"""What other parts of the program do for the page: the build book, recordings beside the project, and their tests."""

from __future__ import annotations

import os
import re
import shutil
import tempfile
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

from sordino.errors import Refusal
from sordino.plan.statement import Plan
from sordino.web.jobs import Job, begun

PROGRAM = "from sordino.cli.main import main; main()"
KINDS = {".wav": (b"RIFF", b"RF64"), ".flac": (b"fLaC",)}
"""Recordings that are taken, with what such a file begins with."""
MOST = 400
"""Megabytes that a recording may have."""
LONGEST = 80
_UNFIT = re.compile(r"[^A-Za-z0-9 ._-]+")


def model(plan: Plan, key: str) -> bytes:
    """A box as a model in space, a GLB file; a Refusal if it can't be made."""
    from sordino.build import kit as boxes
    from sordino.build import model as space

    made = next((each for each in boxes.kits(plan) if each.name == key), None)
    if made is None:
        raise Refusal("there is no such box to be built", "load the page again")
    return space.model(made)


def book(text: str, name: str) -> tuple[Job, Path]:
    """Begin to make the book of a project text; where its archive stands once that is done."""
    place = Path(tempfile.mkdtemp(prefix="sordino-book-"))
    project, folder = place / Path(name).name, place / "book"
    project.write_text(text, encoding="utf-8")
    arguments = ("-c", PROGRAM, "build", str(project), "--out", str(folder), "--percent")
    job = begun("book", "the build book", 100, arguments, finished=lambda: _packed(folder))
    return job, folder.with_suffix(".zip")


def _packed(folder: Path) -> None:
    shutil.make_archive(str(folder), "zip", folder)


def measured(plan: Plan, name: str, folder: Path) -> dict[str, Any]:
    """What a test of the project gave: its answer, what to know of it, whether it can be counted, and all of it."""
    from sordino.measure.measurement import measure
    from sordino.report.measured import measured_text

    found = measure(plan, name, folder)
    told = {"title": found.title, "answer": found.answer, "flags": found.flags, "missed": found.missed}
    return told | {"sure": found.paste is not None, "text": measured_text(plan, found)}


def tests(plan: Plan) -> tuple[str, ...]:
    """Names of the tests that the project states."""
    return tuple(plan.test)


def recordings(folder: Path) -> tuple[str, ...]:
    """Names of the recordings in a folder."""
    found = (path.name for path in folder.iterdir() if path.suffix.lower() in KINDS and path.is_file())
    return tuple(sorted(found))


def safe_name(name: str) -> str:
    """A plain file name in one folder; a Refusal if it is no recording's."""
    last = name.replace("\\", "/").rpartition("/")[2]
    path = Path(_UNFIT.sub("_", last).strip(" .") or "recording")
    if path.suffix.lower() not in KINDS:
        raise Refusal("this is no recording that can be read", "drop WAV or FLAC files")
    return f"{path.stem[:LONGEST].strip(' .') or 'recording'}{path.suffix.lower()}"


async def received(folder: Path, name: str, stream: AsyncIterator[bytes]) -> str:
    """Keep a recording in a folder under a name that is free; what is too long or of another kind is not kept."""
    wanted = safe_name(name)
    handle, draft = tempfile.mkstemp(dir=folder, prefix=".recording-", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            await _filled(file.fileno(), stream, KINDS[Path(wanted).suffix])
        return _placed(Path(draft), folder, wanted)
    finally:
        Path(draft).unlink(missing_ok=True)


async def _filled(file: int, stream: AsyncIterator[bytes], heads: tuple[bytes, ...]) -> None:
    size, head = 0, b""
    async for piece in stream:
        size += len(piece)
        if len(head) < 4:
            head += piece[:4]
            if len(head) >= 4 and not head.startswith(heads):
                raise Refusal("what is in this file is no such recording", "record or export it as WAV or FLAC")
        if size > MOST * 1_000_000:
            raise Refusal(f"the recording has more than {MOST} MB", "cut it to the part that counts")
        os.write(file, piece)
    if size < 4:
        raise Refusal("the recording is empty", "record it once more")


def _placed(draft: Path, folder: Path, wanted: str) -> str:
    """Under the wanted name or the next that is free; a link made there is never followed."""
    stem, suffix = Path(wanted).stem, Path(wanted).suffix
    for number in range(1, 1000):
        name = wanted if number == 1 else f"{stem}-{number}{suffix}"
        try:
            os.link(draft, folder / name, follow_symlinks=False)
        except FileExistsError:
            continue
        return name
    raise Refusal("there are too many recordings of that name", "give it another name")
