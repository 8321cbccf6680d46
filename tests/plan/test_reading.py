"""Reading a project: the whole message of every kind of mistake, and nothing but refusals for any text."""

from __future__ import annotations

import errno
import time
import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plan.small import TEXT, Small
from sordino.errors import PlanError
from sordino.plan.faults import Complaint
from sordino.plan.reading import LARGEST, document, parsed, validate, variants

MISTAKES: list[dict[str, Any]] = tomllib.loads(Path(__file__).with_name("mistakes.toml").read_text(encoding="utf-8"))[
    "mistake"
]


def messages(text: str, variant: str | None = None) -> list[str]:
    """Every message that a text gets."""
    with pytest.raises(PlanError) as refusal:
        validate(parsed(text, "s.toml"), Small, variant)
    return [str(fault) for fault in refusal.value.faults]


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake["now"][:30] or "left out")
def test_each_mistake_has_its_message(mistake: dict[str, Any]) -> None:
    assert TEXT.count(mistake["was"]) >= 1
    text = TEXT.replace(mistake["was"], mistake["now"], 1)
    assert messages(text, mistake.get("variant")) == mistake["says"]


def test_several_mistakes_are_listed_in_file_order() -> None:
    text = TEXT.replace("'8\"'", "8").replace("people", "poeple").replace('"3 m"', '"3 cfm"')
    assert [message.split(": ")[:2] for message in messages(text)] == [
        ["s.toml:5", "room.booth.poeple"],
        ["s.toml:15", "run.cool.size"],
        ["s.toml:20", "run.cool.parts.1.length"],
    ]


def test_no_message_speaks_of_the_machinery() -> None:
    said = " ".join(message for mistake in MISTAKES for message in mistake["says"]).casefold()
    assert not [word for word in ("input should", "pydantic", "validat", "dict", "tuple", "float") if word in said]


def test_a_good_text_and_its_variant_are_read() -> None:
    plan = validate(parsed(TEXT, "s.toml"), Small)
    assert plan.run["cool"].size.diameter == pytest.approx(0.2032)
    assert plan.run["cool"].parts[0].name == "flex"
    slack = validate(parsed(TEXT, "s.toml"), Small, "slack")
    assert "slack" in repr(slack.run["cool"].parts[0])
    assert variants(parsed(TEXT, "s.toml")) == ("slack",)


def test_checks_of_the_whole_are_given_their_lines() -> None:
    def ends(plan: Small) -> Iterable[Complaint]:
        yield ("run", "cool", "to"), "there is no room 'booth'", "rooms here: hall"
        yield ("run", "cool", "parts", 1, "radius"), "the bend is tight", ""

    with pytest.raises(PlanError) as refusal:
        validate(parsed(TEXT, "s.toml"), Small, checks=ends)
    assert [str(fault) for fault in refusal.value.faults] == [
        "s.toml:14: run.cool.to: there is no room 'booth'. Rooms here: hall.",
        "s.toml:22: run.cool.parts.2.radius: the bend is tight.",
    ]


def test_after_a_part_is_left_out_the_next_keeps_its_line_and_number() -> None:
    text = TEXT.replace("parts.flex]\npull", "parts]\n1 = false\n2.pull")
    assert messages(text, "slack")[0].startswith("s.toml:27: variant.slack.run.cool.parts.2.pull: this key")


FILES = {
    "empty": (b"", "the file is empty. Start from a fresh one: sordino new studio.toml."),
    "blank": (b" \n\t\n", "the file is empty. Start from a fresh one: sordino new studio.toml."),
    "remark": (b"# nothing\n", "the file states nothing. Start from a fresh one: sordino new studio.toml."),
    "binary": (b"PK\x03\x04\0\0", "the file is not a text. Give a project file, as studio.toml."),
    "large": (b"#" * (LARGEST + 1), "the file has more than 2 MB. Give a project file, as studio.toml."),
    "deep": (
        b"a = " + b"[" * 4000 + b"]" * 4000,
        "tables or lists are nested too deeply. A project needs few levels.",
    ),
    "dotted": (b"a" + b".a" * 40 + b" = 1", "tables or lists are nested too deeply. A project needs few levels."),
    "huge": (
        b"a = " + b"9" * 6000,
        "a number or date in the file can't be read. Look for a huge number.",
    ),
}


@pytest.mark.parametrize("name", FILES)
def test_files_that_can_not_be_used(name: str, tmp_path: Path) -> None:
    content, message = FILES[name]
    (tmp_path / "s.toml").write_bytes(content)
    with pytest.raises(PlanError) as refusal:
        document(tmp_path / "s.toml")
    assert str(refusal.value) == f"{tmp_path / 's.toml'}: {message}"


def test_other_encodings_and_endless_lines_are_refused_with_their_line(tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_bytes('a = 1\nb = "é"'.encode("latin-1"))
    with pytest.raises(PlanError, match=r"s.toml:2: the text is not UTF-8\. Save the file with UTF-8 encoding\.$"):
        document(tmp_path / "s.toml")
    with pytest.raises(PlanError, match=r"^s.toml:2: the line has more than 10000 characters\. Break it up\.$"):
        parsed("a = 1\n#" + "x" * 20_000, "s.toml")


def test_missing_files_and_folders(tmp_path: Path) -> None:
    with pytest.raises(PlanError, match=r"there is no such file\. Check the name, or start one: sordino new"):
        document(tmp_path / "none.toml")
    with pytest.raises(PlanError, match=r"this is a folder\. Give a project file inside it, as studio\.toml\.$"):
        document(tmp_path)
    with pytest.raises(PlanError, match=r"the file can't be read\. Check its name and the disk\.$"):
        document("a\0b")


def test_a_locked_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def locked(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", locked)
    with pytest.raises(PlanError, match=r"s.toml: the file may not be read\. Ask for the right to read it\.$"):
        document(tmp_path / "s.toml")


def test_a_mark_at_the_start_is_no_mistake(tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_bytes(b"\xef\xbb\xbf" + TEXT.encode())
    assert document(tmp_path / "s.toml").data["title"] == "a booth"


SCRAPS = [
    '"',
    "'",
    "[",
    "]",
    "{",
    "}",
    "=",
    ".",
    ",",
    "\n",
    "#",
    "nan",
    "-1",
    "true",
    "[]",
    "{}",
    '"8 in"',
    "\\",
    "é",
    "9",
]
ROWS = TEXT.splitlines(keepends=True)


@settings(max_examples=400, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, len(TEXT)), st.integers(0, 12), st.sampled_from(SCRAPS)), max_size=3),
    st.lists(st.tuples(st.integers(0, len(ROWS) - 1), st.integers(0, len(ROWS) - 1)), max_size=2),
    st.sampled_from([None, "slack"]),
)
def test_any_mutation_is_read_or_refused(
    cuts: list[tuple[int, int, str]], swaps: list[tuple[int, int]], variant: str | None
) -> None:
    rows = list(ROWS)
    for one, other in swaps:
        rows[one], rows[other] = rows[other], rows[one]
    text = "".join(rows)
    for at, length, scrap in cuts:
        text = text[:at] + scrap + text[at + length :]
    try:
        validate(parsed(text, "s.toml"), Small, variant)
    except PlanError as refusal:
        faults = refusal.faults
    else:
        return
    assert faults
    assert all("\n" not in str(fault) and "Input should" not in str(fault) for fault in faults)


HUGE = {
    "keys": "".join(f"k{number} = 1\n" for number in range(20_000)),
    "rooms": "".join(f"[room.r{number}]\nwidth = 2\n" for number in range(10_000)),
    "parts": '[run.x]\nfrom="a"\nto="b"\nsize="9 in"\n' + '[[run.x.parts]]\nis="bnd"\n' * 10_000,
    "dots": "".join(f"b{number}" + ".a" * 900 + " = 1\n" for number in range(900)),
    "headers": "".join(f"[b{number}" + ".a" * 60 + "]\n" for number in range(900)),
}


@pytest.mark.parametrize("name", HUGE)
def test_thousands_of_mistakes_are_refused_in_time(name: str) -> None:
    start = time.perf_counter()
    found = messages(HUGE[name])
    assert time.perf_counter() - start < 4.0
    assert len(found) < 250
