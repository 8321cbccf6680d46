"""The quotes on the page of questions: each is taken from the output of the command above it.

A block on the page is a comment that says what to quote, and a fence with the command and the quote:

    <!-- quote: Fans at; Cooler +1; -->
    ```console
    $ sordino assess mill-loft.toml
    ...
    ```

Each item names the next line that holds its words; `+n` adds the n lines after it, `...` all lines up to a blank one.
Run this file to write the quotes anew.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from functools import cache
from importlib.resources import as_file, files
from pathlib import Path

PAGE = Path(__file__).parents[2] / "docs" / "questions.md"
BLOCK = re.compile(r"<!-- quote: (.*?) -->\n```console\n\$ (sordino [^\n]*)\n(.*?)```\n", re.DOTALL)
_ITEM = re.compile(r"(.*?)(?: \+(\d+)| (\.\.\.))?$")
GAP = "[…]"


class NotFound(LookupError):
    """Words that the output of a command does not hold."""


def quoted(output: str, wanted: str) -> str:
    """The wanted lines of an output, in order, with a mark where lines are left out between them."""
    told: list[str] = []
    rows, at = output.splitlines(), 0
    for item in filter(None, (part.strip() for part in wanted.split(";"))):
        words, more, whole = _parted(item)
        start = next((i for i in range(at, len(rows)) if words in rows[i]), None)
        if start is None:
            raise NotFound(f"{words!r} after line {at}")
        end = _blank(rows, start) if whole else start + 1 + more
        told += ([GAP] if start > at and told else []) + rows[start:end]
        at = end
    return "\n".join(told) + "\n"


def _parted(item: str) -> tuple[str, int, bool]:
    match = _ITEM.fullmatch(item)
    assert match is not None
    return match[1], int(match[2] or 0), match[3] is not None


def _blank(rows: list[str], start: int) -> int:
    return next((i for i in range(start, len(rows)) if not rows[i].strip()), len(rows))


@cache
def output(command: str) -> str:
    """What a command prints, run where the bundled examples lie; an exit status above 1 is refused."""
    with tempfile.TemporaryDirectory() as folder, as_file(files("sordino") / "examples") as examples:
        shutil.copytree(examples, folder, dirs_exist_ok=True)
        run = subprocess.run(
            [sys.executable, "-c", "from sordino.cli.main import main; main()", *shlex.split(command)[1:]],
            capture_output=True,
            text=True,
            encoding="utf-8",
            cwd=folder,
            env=os.environ | {"PYTHONIOENCODING": "utf-8"},
            check=False,
        )
    if run.returncode > 1:
        raise NotFound(f"{command}: {run.stderr}")
    return run.stdout


def rewritten(page: str) -> str:
    """The page with every quote taken anew."""

    def block(match: re.Match[str]) -> str:
        quote = quoted(output(match[2]), match[1])
        return f"<!-- quote: {match[1]} -->\n```console\n$ {match[2]}\n{quote}```\n"

    return BLOCK.sub(block, page)


if __name__ == "__main__":
    PAGE.write_text(rewritten(PAGE.read_text(encoding="utf-8")), encoding="utf-8")
