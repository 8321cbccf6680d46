"""The written pages show what the program prints now."""

from __future__ import annotations

import importlib.util
from types import ModuleType

import pytest


@pytest.fixture(scope="module")
def pages() -> ModuleType:
    from pathlib import Path

    spec = importlib.util.spec_from_file_location("pages", Path(__file__).with_name("pages.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_of_commands_is_current(pages: ModuleType) -> None:
    assert pages.CLI.read_text(encoding="utf-8") == pages.cli_page(), "run tests/cli/pages.py"


def test_the_readme_shows_the_answer_of_the_demo(pages: ModuleType) -> None:
    text = pages.README.read_text(encoding="utf-8")
    assert pages.BEGIN in text
    assert text == pages.readme(), "run tests/cli/pages.py"


def test_the_readme_names_both_commands_and_every_command_of_the_program(pages: ModuleType) -> None:
    text = pages.README.read_text(encoding="utf-8")
    for words in ("make demo", "make test", *(f"sordino {name}" for name in pages.COMMANDS)):
        assert f"`{words}" in text or f"\n    {words}" in text, words
