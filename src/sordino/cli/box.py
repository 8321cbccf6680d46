"""`sordino box`: one lined box, its sound field and what a change would do."""

from __future__ import annotations

import math
from pathlib import Path

import click

from sordino.assess.box_answer import BoxAnswer, box_answer, standing
from sordino.cli.assess import checked
from sordino.cli.choosing import chosen
from sordino.cli.ending import MET
from sordino.elements.box_field import FINE, LIVE
from sordino.plan.project import Document, document
from sordino.plan.statement import Plan
from sordino.report import record
from sordino.report.box import box_text
from sordino.report.box_record import box_record
from sordino.search.box_changes import box_changes
from sordino.search.box_compared import BoxChange
from sordino.search.departures import departures

PICTURED = (63.0, 125.0, 250.0)
LOWEST, MOST_PANELS = 20.0, 6


@click.command("box", short_help="Say what one lined box takes and why, and draw its sound field.")
@click.argument("file", type=click.Path())
@click.argument("name")
@click.option("--variant", metavar="NAME", help="Speak of this variant instead of the project as written.")
@click.option("--mode", metavar="NAME", help="Air in this mode; else in the mode with the most air through the box.")
@click.option("--json", "as_json", is_flag=True, help="Print all of it as JSON, in SI units, for machines.")
@click.option("--picture", metavar="FILE", type=click.Path(), help="Draw the sound field too, as .svg or .png.")
@click.option("--at", metavar="HZ,HZ", help="Frequencies of the picture.  [default: 63,125,250]")
@click.option("--fine", is_flag=True, help="Solve on the fine grid: slower, with less numerical error.")
@click.option("--quick", is_flag=True, help="Leave out the table of changes.")
def command(
    file: str,
    name: str,
    variant: str | None,
    mode: str | None,
    as_json: bool,
    picture: str | None,
    at: str | None,
    fine: bool,
    quick: bool,
) -> int:
    """Assess the box NAME of the project in FILE.

    Prints what it takes band by band, where it is weak and why, what goes round it and which faces must be heavy, its
    pressure loss line by line, its own noise, and what usual changes would do. Results are kept and found again.
    """
    if picture is not None:
        _check_picture(picture)
    source = document(file)
    plan = checked(source, variant)
    chosen(file, name, plan.box, "box")
    wanted = None if mode is None else chosen(file, mode, plan.mode, "mode")[0]
    size = FINE if fine else LIVE
    answer = box_answer(plan, name, wanted, size)
    frequencies = _frequencies(at, answer.validity.field_limit)
    changes = None if quick else _changes(plan, answer)
    departed = () if quick or variant is None else _departures(source, answer)
    if as_json:
        click.echo(record.text(box_record(plan, answer, changes, variant, departed)), nl=False)
    else:
        click.echo(box_text(plan, answer, changes, variant, departed), nl=False)
    if picture is not None:
        _draw(plan, answer, frequencies, size, Path(picture))
        click.echo(f"The picture is in {picture}.", err=as_json)
    return MET


def _changes(plan: Plan, answer: BoxAnswer) -> tuple[BoxChange, ...]:
    return box_changes(answer.built, answer.air, answer.through.flow, plan.units)


def _departures(source: Document, answer: BoxAnswer) -> tuple[BoxChange, ...]:
    """What sets the box of a variant apart from that of the project as written, if both have it."""
    drawn = checked(source, None)
    if answer.name not in drawn.box:
        return ()
    built = standing(drawn, answer.name).built
    return departures(built, answer.built.build, answer.air, answer.through.flow, drawn.units)


def _check_picture(picture: str) -> None:
    if Path(picture).suffix.lower() not in (".svg", ".png"):
        raise click.UsageError(f"a picture is a .svg or a .png file, not {picture!r}.")


def _frequencies(at: str | None, limit: float) -> tuple[float, ...]:
    """The frequencies asked for; unasked, those of the usual ones that the field reaches."""
    if at is None:
        return tuple(one for one in PICTURED if one <= limit) or (limit,)
    try:
        found = tuple(dict.fromkeys(float(one) for one in at.split(",")))
    except ValueError:
        raise click.UsageError(f"--at wants frequencies in Hz, as 63,125,250; {at!r} is none.") from None
    if len(found) > MOST_PANELS:
        raise click.UsageError(f"--at takes at most {MOST_PANELS} frequencies; these are {len(found)}.")
    for one in found:
        if not (math.isfinite(one) and LOWEST <= one <= limit):
            raise click.UsageError(f"{one:g} Hz can't be drawn: this box's field reaches from 20 to {limit:.0f} Hz.")
    return found


def _draw(plan: Plan, answer: BoxAnswer, frequencies: tuple[float, ...], size: float, path: Path) -> None:
    from sordino.assess.box_picture import box_picture
    from sordino.report.drawing.box_sheet import box_sheet
    from sordino.report.drawing.png import png
    from sordino.report.drawing.svg import svg
    from sordino.report.files import write

    built = answer.built
    field = box_picture(built.build, built.section, answer.air, frequencies, size)
    sheet = box_sheet(field, answer.name, plan.units)
    write(path, svg(sheet) if path.suffix.lower() == ".svg" else png(sheet))
