"""`sordino measure`: what a test gave, beside what was predicted."""

from __future__ import annotations

from pathlib import Path

import click

from sordino.cli.assess import checked
from sordino.cli.choosing import chosen
from sordino.cli.ending import MET, MISSED
from sordino.measure.result import Measurement
from sordino.plan.project import document

DRAWN = (".svg", ".pdf", ".png")


@click.command("measure", short_help="Say what a test gave, beside what was predicted.")
@click.argument("file", type=click.Path())
@click.option("--test", "test", metavar="NAME", help="The test [test.NAME]; needed if the file states several.")
@click.option("--variant", metavar="NAME", help="Hold it against this variant instead of the project as written.")
@click.option(
    "--plot", metavar="FILE", type=click.Path(), help="Draw measured beside predicted, as .svg, .pdf or .png."
)
@click.option("--json", "as_json", is_flag=True, help="Print all of it as JSON, in SI units, for machines.")
def command(file: str, test: str | None, variant: str | None, plot: str | None, as_json: bool) -> int:
    """Read a test of the project in FILE: recordings beside it, levels typed from a meter, or readings of air.

    Each band is a value, an `at least` or an `at most`, by the background and the microphone's own noise. Status 1
    says that a target is missed, or that the result is worse than predicted by more than both ranges allow.
    """
    if plot is not None and Path(plot).suffix.lower() not in DRAWN:
        raise click.UsageError(f"a plot is a .svg, a .pdf or a .png file, not {plot!r}.")
    plan = checked(document(file), variant)
    names = chosen(file, test, plan.test, "test")
    if len(names) != 1:
        there = f"there are {', '.join(names)}" if names else "the file states none: sordino signal says how to"
        raise click.UsageError(f"say which test, as --test NAME: {there}.")
    from sordino.measure.measurement import measure  # only here: it brings in what reads recordings
    from sordino.report import measured, measured_record, record

    found = measure(plan, names[0], Path(file).parent)
    if as_json:
        click.echo(record.text(measured_record.measured_record(plan, found, variant)), nl=False)
    else:
        click.echo(measured.measured_text(plan, found, variant), nl=False)
    if plot is not None:
        _draw(found, Path(plot))
        click.echo(f"The plot is in {plot}.", err=as_json)
    return MISSED if found.missed else MET


def _draw(found: Measurement, path: Path) -> None:
    from sordino.report.drawing.pdf import pdf
    from sordino.report.drawing.png import png
    from sordino.report.drawing.svg import svg
    from sordino.report.files import write
    from sordino.report.measured_plot import measured_plot

    sheet, kind = measured_plot(found), path.suffix.lower()
    write(path, svg(sheet) if kind == ".svg" else pdf(sheet) if kind == ".pdf" else png(sheet))
