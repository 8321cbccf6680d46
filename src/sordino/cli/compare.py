"""`sordino compare`: variants side by side."""

from __future__ import annotations

import click

from sordino.assess.assessment import Assessment
from sordino.cli.assess import status
from sordino.cli.choosing import chosen
from sordino.cli.ending import MET, MISSED
from sordino.errors import Fault, PlanError
from sordino.plan.project import document, variants
from sordino.report import record
from sordino.report.comparison import comparison_record, comparison_text
from sordino.search.comparison import comparison


@click.command("compare", short_help="Set variants of a project side by side.")
@click.argument("file", type=click.Path())
@click.argument("variant", nargs=-1, metavar="VARIANT...")
@click.option("--room", metavar="ROOM", help="Speak of this room or window only.")
@click.option("--mode", metavar="NAME", help="Speak of this mode only; the exit status too.")
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON, in SI units, for machines.")
def command(file: str, variant: tuple[str, ...], room: str | None, mode: str | None, as_json: bool) -> int:
    """Assess the project in FILE as written and each VARIANT, and print them beside each other.

    Noise per band at each room, flow and pressure of every run, what the fans move, and what the runs that differ
    take from the fan's sound.
    """
    source = document(file)
    if not variant:
        raise PlanError([_none_named(file, variants(source))])
    for name in variant:
        chosen(file, name, variants(source), "variant")
    columns = comparison(source, tuple(dict.fromkeys(variant)))
    found = tuple(column.assessment for column in columns)
    modes = chosen(file, mode, dict.fromkeys(name for each in found for name in each.plan.mode), "mode")
    shown = {place: each.plan.place_name(place) for each in found for place in _places(each)}
    places = chosen(file, room, shown, "room or window", shown)
    if as_json:
        click.echo(record.text(comparison_record(columns, modes, places)), nl=False)
    else:
        click.echo(comparison_text(columns, modes, places), nl=False)
    return MISSED if any(status(each, modes) for each in found) else MET


def _none_named(file: str, names: tuple[str, ...]) -> Fault:
    known = (
        f"Variants here: {', '.join(names)}." if names else "The file states none: add one, as [variant.wider.run.x]."
    )
    return Fault(file=file, line=None, key="", problem="name the variants to set beside the project.", cure=known)


def _places(found: Assessment) -> list[str]:
    return [place for place, _ in found.noise]
