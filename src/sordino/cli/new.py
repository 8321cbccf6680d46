"""`sordino new`: a file to start from."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import click

from sordino.errors import Fault, PlanError
from sordino.report.files import write

STARTER, EXAMPLE = "starter.toml", "mill-loft.toml"


@click.command("new", short_help="Write a commented project file to start from.")
@click.argument("file", type=click.Path())
@click.option("--example", is_flag=True, help="Write the bundled example, two rooms under a roof, instead.")
@click.option("--force", is_flag=True, help="Overwrite FILE if it is there.")
def command(file: str, example: bool, force: bool) -> int:
    """Write a commented project file to FILE: one room, one fan, one box, to change into your own."""
    path = Path(file)
    if path.exists() and not force:
        problem = "the file is already there."
        raise PlanError([Fault(file=file, line=None, key="", problem=problem, cure="Add --force to overwrite it.")])
    write(path, bundled(EXAMPLE if example else STARTER))
    click.echo(f"Wrote {file}. Change it to your rooms and ducts, then run: sordino assess {file}")
    return 0


def bundled(name: str) -> str:
    """The text of a project file that comes with the program."""
    return files("sordino.examples").joinpath(name).read_text(encoding="utf-8")
