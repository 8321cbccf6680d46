"""`sordino search`: a box that fits and does what is wanted."""

from __future__ import annotations

import click

from sordino.assess.box_answer import flow_through, indoor_air, standing
from sordino.bands import OCTAVES, Bands
from sordino.cli.assess import checked
from sordino.cli.choosing import chosen
from sordino.cli.ending import MET, MISSED
from sordino.plan.project import document
from sordino.report import record
from sordino.report.designs import search_record, search_text
from sordino.search.designs import Wanted, asked, search
from sordino.units import UnitError, parse

MOST = 90.0
"""Losses above this are not asked of one box, dB."""


@click.command("search", short_help="Look for a box that fits and loses what is wanted.")
@click.argument("file", type=click.Path())
@click.argument("name")
@click.option("--loss", multiple=True, required=True, metavar="HZ=DB", help="Wanted loss, as 125=20; once per octave.")
@click.option("--pressure", metavar="PRESSURE", help="Most pressure it may take, as '8 Pa' or '0.03 in w.g.'.")
@click.option("--variant", metavar="NAME", help="Take size, casing and duct from this variant.")
@click.option("--mode", metavar="NAME", help="Air in this mode; else in the mode with the most air through the box.")
@click.option("--json", "as_json", is_flag=True, help="Print all of it as JSON, in SI units, for machines.")
def command(
    file: str,
    name: str,
    loss: tuple[str, ...],
    pressure: str | None,
    variant: str | None,
    mode: str | None,
    as_json: bool,
) -> int:
    """Try every family of box in the inside sizes of the box NAME of the project in FILE.

    Prints the lightest that loses what is wanted for the pressure allowed, or the nearest miss and what holds it back.
    """
    wanted = Wanted(loss=_losses(loss), pressure=_pressure(pressure))
    plan = checked(document(file), variant)
    chosen(file, name, plan.box, "box")
    mode = None if mode is None else chosen(file, mode, plan.mode, "mode")[0]
    air, place = indoor_air(plan), standing(plan, name)
    spoken, flow = flow_through(plan, place.run, mode, air)
    found = search(place.built, wanted, air, flow, plan.units)
    if as_json:
        click.echo(record.text(search_record(plan, name, spoken, found)), nl=False)
    else:
        click.echo(search_text(plan, name, spoken, found), nl=False)
    return MET if found.found else MISSED


def _losses(given: tuple[str, ...]) -> Bands:
    pairs = [_loss(each) for text in given for each in text.split(",")]
    if len(dict(pairs)) < len(pairs):
        raise click.UsageError("--loss names an octave twice; give each octave once.")
    return asked(dict(pairs))


def _loss(text: str) -> tuple[int, float]:
    octave, _, decibels = text.partition("=")
    try:
        band = {f"{centre:g}": band for band, centre in enumerate(OCTAVES)}[octave.strip()]
        value = float(decibels)
    except (KeyError, ValueError):
        names = ", ".join(f"{centre:g}" for centre in OCTAVES)
        raise click.UsageError(
            f"--loss wants an octave and decibels, as 125=20, not {text!r}. Octaves: {names}."
        ) from None
    if not 0.0 < value <= MOST:
        raise click.UsageError(f"--loss takes 1 to {MOST:.0f} dB; {text!r} asks for {value:g}.")
    return band, value


def _pressure(text: str | None) -> float:
    if text is None:
        return float("inf")
    try:
        return parse(text, "pressure")
    except UnitError as error:
        raise click.UsageError(f"--pressure: {error}.") from None
