"""`sordino build` as a person runs it."""

from __future__ import annotations

import json
import os
import signal
import struct
import subprocess
import sys
import time
from functools import partial
from pathlib import Path

import pypdfium2
import pytest
from click.testing import Result

import running
from boxed import plan_text

run = partial(running.run, "build")


@pytest.fixture(scope="module")
def built(project: Path) -> tuple[Path, Result]:
    folder = project.parent / "book"
    return folder, run(project, "--out", folder)


def test_it_writes_all_kinds_of_files_and_says_where(built: tuple[Path, Result]) -> None:
    folder, result = built
    assert result.exit_code == 0, result.output
    names = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    (pdf,) = [name for name in names if name.endswith(".pdf")]
    assert {"sheets/sheet-1.dxf", "parts/labyrinth-a1.dxf", "lists/shopping.csv", "models/labyrinth.glb"} <= names
    assert set(json.loads((folder / "book.json").read_text())["files"]) | {"book.json"} == names
    assert result.stdout.startswith("1 box from 1 sheet and ")
    assert f"{folder / pdf}" in result.stdout
    assert "lower bound" in result.stdout
    assert "licensed engineer" in " ".join(result.stdout.split())
    assert len(pypdfium2.PdfDocument(folder / pdf)) > 10
    assert struct.unpack("<I", (folder / "models/labyrinth.glb").read_bytes()[:4]) == (0x46546C67,)


def test_a_second_book_counts_on_and_tells_what_differs(project: Path, tmp_path: Path) -> None:
    folder = tmp_path / "book"
    assert run(project, "--out", folder).exit_code == 0
    result = run(project, "--out", folder, "--variant", "long")
    assert "Book 2 is in" in result.stdout
    (pdf,) = folder.glob("*.pdf")
    text = "".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))
    words = " ".join(text.split())
    assert "Compared with book 1 of" in words
    assert "before plywood 18 mm, 636 x" in words


def test_json_needs_no_folder(project: Path) -> None:
    result = run(project, "--only", "sheets", "--json")
    told = json.loads(result.stdout)
    assert set(told) == {"title", "display_units", "cutting"}
    (plan,) = told["cutting"]["boards"]
    assert plan["sheets_used"] >= plan["sheets_lower_bound"] >= 1
    pieces = [piece["label"] for sheet in plan["sheets"] for piece in sheet["pieces"]]
    whole = json.loads(run(project, "--json").stdout)
    assert sorted(pieces) == sorted(board["label"] for box in whole["boxes"] for board in box["boards"])
    assert whole["shopping"]["lines"]
    parted = [label for box in whole["boxes"] for step in box["steps"] for label in step["parts"]]
    assert sorted(parted) == sorted(
        [each["label"] for box in whole["boxes"] for each in (*box["boards"], *box["sticks"])]
    )


def test_json_beside_a_folder_is_all_that_stdout_holds(project: Path, tmp_path: Path) -> None:
    result = run(project, "--out", tmp_path / "book", "--only", "lists", "--json")
    assert "shopping" in json.loads(result.stdout)
    assert {path.name for path in (tmp_path / "book").iterdir()} == {"book.json", "lists"}


@pytest.mark.parametrize("page", ["shopping", "cutting", "weight", "steps", "brief", "schedule"])
def test_pages_can_be_read_as_text(project: Path, page: str) -> None:
    result = run(project, "--show", page)
    assert result.exit_code == 0
    assert all(len(line) <= 120 for line in result.stdout.splitlines())


def test_prices_come_from_an_edited_list(project: Path, built: tuple[Path, Result], tmp_path: Path) -> None:
    listed = (built[0] / "lists/shopping.csv").read_text(encoding="utf-8")
    edited = tmp_path / "prices.csv"
    edited.write_text(listed.replace("invented placeholder", "my shop"), encoding="utf-8")
    assert "marked *" not in run(project, "--show", "shopping", "--prices", edited).stdout
    assert "marked *" in run(project, "--show", "shopping").stdout
    edited.write_text("name,low\nacoustic sealant,cheap\n", encoding="utf-8")
    result = run(project, "--show", "shopping", "--prices", edited)
    assert result.exit_code == 2
    assert "row 2 of the prices reads 'cheap'" in result.stderr


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "name a folder with --out"),
        (["--show", "costs"], "--show wants one of shopping"),
        (["--only", "all", "--json"], "is not one of"),
        (["--variant", "none", "--json"], "no run of this project has a lined box"),
        (["--json", "--prices", "nowhere.csv"], "nowhere.csv: no such file"),
    ],
)
def test_what_cannot_be_done_is_told_in_a_line(project: Path, words: list[str], told: str) -> None:
    result = run(project, *words)
    assert result.exit_code == 2
    assert told in result.stderr


def test_a_folder_of_other_things_is_left_alone(project: Path) -> None:
    result = run(project, "--out", project.parent)
    assert result.exit_code == 2
    assert "the folder holds other things than a book. Name an empty or a new one." in result.stderr
    assert project.exists()


def test_a_box_that_cannot_be_closed_is_told_with_its_cure(tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    path.write_text(plan_text() + '\n[build]\naccess = { labyrinth = "ceiling" }\n', encoding="utf-8")
    result = run(path, "--json")
    assert result.exit_code == 2
    assert (
        'from the ceiling nobody reaches behind the dividers. Close the box by its "front" or its "back".'
        in result.stderr
    )


@pytest.mark.parametrize("wait", [0.0, 0.4, 0.8])
def test_a_killed_build_leaves_the_old_book_whole(project: Path, tmp_path: Path, wait: float) -> None:
    folder = tmp_path / "book"
    assert run(project, "--out", folder, "--only", "parts").exit_code == 0
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    words = [
        sys.executable,
        "-c",
        "from sordino.cli.main import main; main()",
        "build",
        str(project),
        "--out",
        str(folder),
    ]
    with subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True) as process:
        began = time.monotonic()
        while (
            not list(tmp_path.glob(".book.*.part/parts")) and process.poll() is None and time.monotonic() < began + 60.0
        ):
            time.sleep(0.01)
        time.sleep(wait)
        process.send_signal(signal.SIGINT)
        _, told = process.communicate()
    assert "Traceback" not in told
    assert process.returncode in (130, 0)
    after = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    mark = json.loads((folder / "book.json").read_text(encoding="utf-8"))
    if process.returncode == 0 or mark["number"] == 2:  # stopped when it was done
        assert {folder / name for name in (*mark["files"], "book.json")} == set(after)
    else:
        assert after == before
    assert os.listdir(tmp_path) == ["book"]
