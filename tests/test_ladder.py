"""Imports point only down the ladder of docs/architecture.md."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import sordino

SRC = Path(sordino.__file__).parent
LADDER = (
    "errors bands",
    "kinds",
    "units",
    "quantities tables cache",
    "names",
    "physics",
    "elements",
    "plan",
    "assess",
    "search measure build",
    "report",
    "web",
    "cli",
)
RANK = {name: step for step, names in enumerate(LADDER) for name in names.split()}
ASSESS = (
    "spread finding",
    "drops",
    "boxes routes airflow contribution",
    "places stations",
    "sources carriage",
    "acoustics",
    "ducted",
    "airborne",
    "noise",
    "loudness isolation speeds balance pressure draughts",
    "weight",
    "hanging lifting bridges fit",
    "passing",
    "structure",
    "wording",
    "surroundings gains",
    "shells",
    "climate skins",
    "session",
    "freshair airs",
    "rules",
    "cooling profiles",
    "choices damp mould",
    "moisture",
    "indoors",
    "safety",
    "drawn_air",
    "lining ends",
    "judgement caveats",
    "assessment",
    "box_loss box_faces box_picture box_pair",
    "box_answer",
)
WEB = ("project pictures", "begin solved", "views", "deeds guard", "app", "serving")


def imported(path: Path) -> Iterator[str]:
    """Every sordino module that a file imports, as `assess.noise`."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("sordino"):
            inside = (node.module or "").removeprefix("sordino").lstrip(".")
            yield from ([inside] if inside else [alias.name for alias in node.names])
            if inside in RANK:
                yield from (f"{inside}.{alias.name}" for alias in node.names)
        if isinstance(node, ast.Import):
            yield from (a.name.removeprefix("sordino.") for a in node.names if a.name.startswith("sordino."))


FILES = sorted(path for path in SRC.rglob("*.py") if path.name != "__init__.py" or path.parent.name == "tables")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(SRC).as_posix())
def test_imports_only_point_down(path: Path) -> None:
    """A module imports its own folder and the rungs below it, nothing above."""
    home = path.relative_to(SRC).parts[0].removesuffix(".py")
    for other in imported(path):
        there = other.split(".")[0]
        if there == "__version__":
            continue
        assert there in RANK, f"{there} has no rung on the ladder"
        assert there == home or RANK[there] < RANK[home], f"{home} may not import {there}"


def test_every_folder_has_a_rung() -> None:
    """A new folder or vocabulary module must be given its place."""
    homes = {path.relative_to(SRC).parts[0].removesuffix(".py") for path in FILES}
    assert homes <= RANK.keys()


def test_the_assessment_flows_one_way() -> None:
    """Within assess, too, each file uses only those before it."""
    rank = {name: step for step, names in enumerate(ASSESS) for name in names.split()}
    for path in (SRC / "assess").glob("[a-z]*.py"):
        for other in imported(path):
            folder, _, name = other.partition(".")
            if folder == "assess" and name.split(".")[0] in rank:
                assert rank[name.split(".")[0]] <= rank[path.stem], f"{path.stem} uses {name}"
    assert {path.stem for path in (SRC / "assess").glob("[a-z]*.py")} == rank.keys()


def test_the_page_is_built_one_way() -> None:
    """Text below, then what is worked out of it, what is shown of that, what can be done, and who serves it."""
    rank = {name: step for step, names in enumerate(WEB) for name in names.split()}
    for path in (SRC / "web").rglob("[a-z]*.py"):
        home = path.relative_to(SRC / "web").parts[0].removesuffix(".py")
        for other in imported(path):
            steps = other.split(".")
            if steps[0] == "web" and len(steps) > 1:
                assert steps[1] == home or rank[steps[1]] < rank[home], f"{path.name} may not import {other}"
