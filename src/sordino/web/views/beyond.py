"""What other parts of the program do for the page: the build book, recordings beside the project, and their tests."""

from __future__ import annotations

import os
import shutil
import tempfile
import unicodedata
from collections.abc import AsyncIterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect

from sordino.errors import PlanError, Refusal
from sordino.plan.statement import Plan
from sordino.report.files import draft
from sordino.web.solved.jobs import Job, begun

if TYPE_CHECKING:  # both bring in what reads recordings
    from sordino.bands import Bands
    from sordino.measure.result import Measurement, Predicted

PROGRAM = "from sordino.cli.main import main; main()"
KINDS = {".wav": (b"RIFF", b"RF64"), ".flac": (b"fLaC",)}
"""Recordings that are taken, with what such a file begins with."""
MOST = 400
"""Megabytes that a recording may have."""
LONGEST = 160
"""Bytes of a recording's name, without its ending."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Kept:
    """A recording that was taken: its name in the folder, what it is, and what should be known of it."""

    name: str
    words: str
    flags: tuple[str, ...]


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
    told = {"title": found.title, "answer": found.answer, "flags": found.flags, "tables": _tables(found)}
    return told | {"sure": found.paste is not None, "text": measured_text(plan, found)}


def _tables(found: Measurement) -> list[dict[str, Any]]:
    """Octaves measured beside predicted, a table for each quantity."""
    from sordino.report.layout import BAND_NAMES
    from sordino.report.measured import figures, marked

    tables = []
    for row in found.rows:
        decimals, unit = (2, "s") if row.sign == "time" else (0, "dB")
        lines = [("measured", marked(row.levels.octaves, decimals))]
        if row.predicted is not None:
            said = row.predicted
            lines += [(word, figures(each, decimals)) for word, each in _predicted(said)]
        tables.append({"label": f"{row.label}, {unit} per octave of Hz", "heads": BAND_NAMES, "lines": lines})
    return tables


def _predicted(said: Predicted) -> tuple[tuple[str, Bands], ...]:
    return ("predicted", said.level), ("as low as", said.low), ("as high as", said.high)


def tests(plan: Plan) -> tuple[str, ...]:
    """Names of the tests that the project states."""
    return tuple(plan.test)


def recordings(folder: Path) -> tuple[str, ...]:
    """Names of the recordings in a folder."""
    found = (path.name for path in folder.iterdir() if path.suffix.lower() in KINDS and path.is_file())
    return tuple(sorted(found))


def safe_name(name: str) -> str:
    """A plain file name in one folder, in letters of any script; a Refusal if it is no recording's."""
    last = unicodedata.normalize("NFC", name).replace("\\", "/").rpartition("/")[2]
    path = Path("".join(map(_fitting, last)).strip(" .") or "recording")
    if path.suffix.lower() not in KINDS:
        raise Refusal("this is no recording that can be read", "drop WAV or FLAC files")
    stem = path.stem.encode()[:LONGEST].decode(errors="ignore").strip(" .")
    return f"{stem if stem.strip('_ .-') else 'recording'}{path.suffix.lower()}"


def _fitting(sign: str) -> str:
    """Letters with their marks, figures and a few signs stay; what can't be seen goes, the rest is a line."""
    kind = unicodedata.category(sign)
    if sign in " ._-" or kind[0] in "LMN":
        return sign
    return "" if kind == "Cf" else "_"


async def received(folder: Path, name: str, stream: AsyncIterator[bytes]) -> Kept | None:
    """Keep a recording in a folder under a name that is free; what can't be read is not kept, nor what breaks off."""
    wanted = safe_name(name)
    handle, beside = draft(folder, "recording")
    try:
        with os.fdopen(handle, "wb") as file:
            await _filled(file.fileno(), stream, KINDS[Path(wanted).suffix])
        return await run_in_threadpool(_heard, Path(beside), folder, wanted)
    except ClientDisconnect:
        return None
    finally:
        Path(beside).unlink(missing_ok=True)


def _heard(beside: Path, folder: Path, wanted: str) -> Kept:
    from sordino.measure.recording import begins, heading

    try:
        told = heading(beside)
    except PlanError as error:
        raise Refusal(error.faults[0].problem.rstrip("."), _lowered(error.faults[0].cure)) from None
    if not begins(beside):
        raise Refusal("there is no sound in it that can be read", "record it once more")
    name = _placed(beside, folder, wanted)
    return Kept(name=name, words=told.words, flags=tuple(flag.replace(beside.name, name) for flag in told.flags))


def _lowered(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:].rstrip(".")


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


def _placed(beside: Path, folder: Path, wanted: str) -> str:
    """Under the wanted name or the next that is free; a link made there is never followed."""
    stem, suffix = Path(wanted).stem, Path(wanted).suffix
    for number in range(1, 1000):
        name = wanted if number == 1 else f"{stem}-{number}{suffix}"
        try:
            os.link(beside, folder / name, follow_symlinks=False)
        except FileExistsError:
            continue
        return name
    raise Refusal("there are too many recordings of that name", "give it another name")
