"""The parts of the written pages that are the program's own output. Run this file to write them anew."""

from __future__ import annotations

import tempfile
from pathlib import Path

from click.testing import CliRunner

from sordino.cli.main import COMMANDS, main

ROOT = Path(__file__).resolve().parents[2]
CLI, README = ROOT / "docs" / "cli.md", ROOT / "README.md"
BEGIN, END = "<!-- the demo's answer, written by tests/cli/pages.py -->", "<!-- end of it -->"


def cli_page() -> str:
    """Every command's help, one after the other."""
    parts = ["# The command line", "The help of every command, as printed; `tests/cli/pages.py` writes this page."]
    for words in ([], *([name] for name in COMMANDS)):
        text = CliRunner().invoke(main, [*words, "--help"], prog_name="sordino").stdout
        parts.append(f"## {' '.join(['sordino', *words])}\n\n```text\n{text.strip()}\n```")
    return "\n\n".join(parts) + "\n"


def demo_answer() -> str:
    """What `make demo` prints."""
    with tempfile.TemporaryDirectory() as folder:
        text = CliRunner().invoke(main, ["demo", "--out", folder]).stdout
        return text.replace(folder, "results")


def readme() -> str:
    """The page with the demo's answer between its marks."""
    before, _, rest = README.read_text(encoding="utf-8").partition(BEGIN)
    return f"{before}{BEGIN}\n\n```text\n{demo_answer().strip()}\n```\n\n{END}{rest.partition(END)[2]}"


if __name__ == "__main__":
    CLI.write_text(cli_page(), encoding="utf-8")
    README.write_text(readme(), encoding="utf-8")
