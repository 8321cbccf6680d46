"""Every parameter of a public function stands in the glossary, docs/words.md, and every name there is in use."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from pathlib import Path

import pytest

import sordino

SRC = Path(sordino.__file__).parent
PAGE = Path(__file__).parents[1] / "docs" / "words.md"
FOLDERS = ("physics", "elements", "assess")


def explained() -> set[str]:
    """Names in the first column of the tables of the page."""
    rows = [line.split("|")[1] for line in PAGE.read_text("utf-8").splitlines() if line.startswith("| `")]
    return {name for cell in rows for name in re.findall(r"`(\w+)`", cell)}


def parameters(path: Path) -> dict[str, str]:
    """Names of parameters of the public functions and methods of a file, with one function that has each."""
    tree = ast.parse(path.read_text("utf-8"))
    owners: list[ast.Module | ast.ClassDef] = [tree, *(node for node in tree.body if isinstance(node, ast.ClassDef))]
    found: dict[str, str] = {}
    for owner in owners:
        for node in owner.body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                for each in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs):
                    found[each.arg] = node.name
    return {name: function for name, function in found.items() if name not in ("self", "cls")}


FILES = sorted(path for folder in FOLDERS for path in (SRC / folder).rglob("*.py"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(SRC).as_posix())
def test_every_name_is_explained(path: Path) -> None:
    """A name that is not on the page needs a row there, or is one of the page's names misspelt."""
    missing = {name: function for name, function in parameters(path).items() if name not in explained()}
    assert not missing, f"add to docs/words.md: {missing}"


def test_the_page_explains_nothing_that_is_gone() -> None:
    """Each name on the page is a parameter somewhere, so the page can't go stale."""
    used: dict[str, set[str]] = defaultdict(set)
    for path in FILES:
        for name, function in parameters(path).items():
            used[name].add(function)
    assert explained() <= used.keys(), sorted(explained() - used.keys())


def test_no_name_tells_what_it_is_not() -> None:
    """No function is called get or calculate: it is named for what it returns."""
    for path in FILES:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef):
                assert not node.name.startswith(("get_", "calc_", "compute_")), f"{path.name}: {node.name}"
