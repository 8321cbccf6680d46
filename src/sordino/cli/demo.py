"""`sordino demo`: the main job on the bundled example."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from sordino.assess.assessment import Assessment, assess
from sordino.cli.assess import checked
from sordino.cli.new import EXAMPLE, bundled
from sordino.plan.project import document
from sordino.report import record, text
from sordino.report.files import write
from sordino.search.help import Help, helping


@click.command("demo", short_help="Assess the bundled example and leave the results in a folder.")
@click.option(
    "--out", "out", type=click.Path(file_okay=False), required=True, metavar="DIR", help="Folder to write to."
)
def command(out: str) -> int:
    """Assess the bundled example and leave everything in a folder.

    Writes the project file, assessment.txt, assessment.json and one schedule for each room there, over those of an
    earlier demo; a project file there that was changed is kept beside it as mill-loft.toml.old. Ends with status 0
    although the example misses targets on purpose.
    """
    folder = Path(out)
    folder.mkdir(parents=True, exist_ok=True)
    project = folder / EXAMPLE
    _keep(project)
    write(project, bundled(EXAMPLE))
    found = assess(checked(document(project), None))
    modes = tuple(found.plan.mode)
    helps = helping(found, modes)
    results = dict(_results(found, modes, helps))
    for name, content in results.items():
        write(folder / name, content)
    click.echo(text.answer(found, modes, helps))
    click.echo(f"The project, the whole report, its JSON and a schedule for each room are in {out}:")
    for name in (EXAMPLE, *results):
        click.echo(f"  {folder / name}")
    click.echo(f"Next: change {project} and run: sordino assess {project}")
    click.echo(f"Or work on it in the browser: sordino open {project}")
    return 0


def _keep(project: Path) -> None:
    """Save a project file that somebody worked on."""
    if project.exists() and project.read_bytes() != bundled(EXAMPLE).encode():
        project.replace(project.with_name(f"{EXAMPLE}.old"))


def _results(found: Assessment, modes: tuple[str, ...], helps: Help) -> Iterator[tuple[str, str]]:
    yield "assessment.txt", text.report(found, modes, helps, lines_of_air=True)
    yield "assessment.json", record.text(record.record(found, modes, helps))
    for room in found.plan.room:
        yield f"schedule-{room}.txt", text.schedule(found, room, modes)
