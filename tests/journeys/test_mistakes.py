"""Mistakes that people make in a project file: the whole of what each is answered with."""

from __future__ import annotations

import errno
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from sordino.errors import PlanError
from sordino.plan.project import plan_of, read
from sordino.plan.reading import parsed

HERE = Path(__file__).parent
TEXTS = {
    "shed.toml": (HERE / "shed.toml").read_text(encoding="utf-8"),
    "mill-loft.toml": (files("sordino") / "examples" / "mill-loft.toml").read_text(encoding="utf-8"),
}
MISTAKES: list[dict[str, Any]] = tomllib.loads((HERE / "mistakes.toml").read_text(encoding="utf-8"))["mistake"]
MACHINERY = ("input should", "pydantic", "validat", "dict", "tuple", "nonetype", "float", "traceback", "basemodel")


def name(mistake: dict[str, Any]) -> str:
    edits = mistake["edits"]
    return str(edits[0][1][:40] or "left out") if edits else str(mistake.get("variant"))


def messages(text: str, file: str, variant: str | None) -> list[str]:
    with pytest.raises(PlanError) as refusal:
        plan_of(parsed(text, file), variant)
    return [str(fault) for fault in refusal.value.faults]


@pytest.mark.parametrize("file", TEXTS)
def test_without_the_mistakes_the_files_are_good(file: str) -> None:
    assert plan_of(parsed(TEXTS[file], file)).room


@pytest.mark.parametrize("mistake", MISTAKES, ids=name)
def test_each_mistake_has_its_message(mistake: dict[str, Any]) -> None:
    file = mistake.get("file", "shed.toml")
    text = TEXTS[file]
    for was, now in mistake["edits"]:
        assert was in text
        text = text.replace(was, now, 1)
    assert messages(text, file, mistake.get("variant")) == mistake["says"]


def test_there_are_enough_mistakes_and_none_is_answered_twice_or_in_jargon() -> None:
    assert len(MISTAKES) >= 60
    for mistake in MISTAKES:
        assert len(set(mistake["says"])) == len(mistake["says"])
        assert not [word for said in mistake["says"] for word in MACHINERY if word in said.casefold()]


def test_every_mistake_is_told_what_would_do() -> None:
    """The last sentence of each message is the cure: a message is a place, a problem and a cure."""
    for mistake in MISTAKES:
        for said in mistake["says"]:
            assert said.count(". ") >= 1 or "? " in said, said


STUDIO = "give a project file, as studio.toml"
FRESH = "Start from a fresh one: sordino new studio.toml."
CONTENTS = {
    "empty": (b"", f"the file is empty. {FRESH}"),
    "blank lines": (b"\n\n \t\n", f"the file is empty. {FRESH}"),
    "only a remark": (b"# my studio\n", f"the file states nothing. {FRESH}"),
    "a picture": (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", f"the file is not a text. {STUDIO.capitalize()}."),
    "another encoding": (
        "title = 'Büro'".encode("latin-1"),
        "the text is not UTF-8. Save the file with UTF-8 encoding.",
    ),
}


@pytest.mark.parametrize("kind", CONTENTS)
def test_files_that_are_no_project(kind: str, tmp_path: Path) -> None:
    content, message = CONTENTS[kind]
    file = tmp_path / "s.toml"
    file.write_bytes(content)
    with pytest.raises(PlanError) as refusal:
        read(file)
    place = f"{file}:1" if kind == "another encoding" else str(file)
    assert str(refusal.value) == f"{place}: {message}"


def test_files_that_can_not_be_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(number: int) -> None:
        def raising(*_: object, **__: object) -> None:
            raise OSError(number, "refused")

        monkeypatch.setattr(Path, "open", raising)

    def said(path: Path) -> str:
        with pytest.raises(PlanError) as refusal:
            read(path)
        return str(refusal.value)

    missing, folder = tmp_path / "none.toml", tmp_path
    assert said(missing) == f"{missing}: there is no such file. Check the name, or start one: sordino new studio.toml."
    assert said(folder) == f"{folder}: this is a folder. Give a project file inside it, as studio.toml."
    refuse(errno.EACCES)
    assert said(missing) == f"{missing}: the file may not be read. Ask for the right to read it."
    refuse(errno.EIO)
    assert said(missing) == f"{missing}: the file can't be read. Check its name and the disk."
