"""`sordino assess`: the main job."""

from __future__ import annotations

from dataclasses import replace

import click

from sordino.assess.assessment import Assessment, assess
from sordino.cli.choosing import chosen
from sordino.cli.ending import MET, MISSED
from sordino.errors import Fault, PlanError
from sordino.plan.project import Document, document, plan_of, variants
from sordino.plan.statement import Plan
from sordino.report import text
from sordino.search.help import helping


@click.command("assess", short_help="Say what every room will sound like and what the air will do.")
@click.argument("file", type=click.Path())
@click.option("--variant", metavar="NAME", help="Assess this variant instead of the project as written.")
@click.option("--ledger", metavar="ROOM", help="Print every path to this room or window, station by station.")
@click.option("--air", is_flag=True, help="Add the pressure ledger of every run, line by line.")
@click.option("--mode", metavar="NAME", help="Speak of this mode only; the exit status too.")
@click.option("--json", "as_json", is_flag=True, help="Print all of it as JSON, in SI units, for machines.")
def command(file: str, variant: str | None, ledger: str | None, air: bool, mode: str | None, as_json: bool) -> int:
    """Assess the project in FILE.

    Prints one plain sentence for each room, then the findings, worst first, then the tables. Without --variant
    the variants in FILE are read as well, so that a mistake in any of them is told.
    """
    source = document(file)
    plan = checked(source, variant)
    modes = chosen(file, mode, plan.mode, "mode")
    rooms = chosen(file, ledger, _receivers(plan), "room or window", _shown(plan)) if ledger is not None else ()
    found = assess(plan)
    if as_json:
        if rooms or air:
            click.echo("sordino: the JSON holds everything: --ledger and --air add nothing to it", err=True)
        from sordino.report import record  # only here: it is not needed to print a text

        click.echo(record.text(record.record(found, modes, helping(found, modes), variant)), nl=False)
    elif rooms:
        click.echo(text.schedule(found, rooms[0], modes), nl=False)
    else:
        click.echo(text.report(found, modes, helping(found, modes), variant, lines_of_air=air), nl=False)
    return status(found, modes)


def checked(source: Document, variant: str | None) -> Plan:
    """The plan that is wanted; every mistake in it, and in the variants if none is named, at once."""
    faults: dict[Fault, None] = {}
    plan = None
    names = variants(source) if variant is None else ()
    for name in (variant, *names):
        try:
            made = plan_of(source, name)
            plan = made if plan is None else plan
        except PlanError as error:
            faults |= dict.fromkeys(
                _of(name if name in names else None, fault) for fault in error.faults if fault not in faults
            )
    if faults or plan is None:
        raise PlanError(sorted(faults, key=lambda fault: fault.line or 0))
    return plan


def _of(variant: str | None, fault: Fault) -> Fault:
    """A mistake that only a variant makes, of something written elsewhere, with the variant's name."""
    if variant is None or fault.key.startswith("variant."):
        return fault
    return replace(fault, problem=f"in variant {variant}, {fault.problem}")


def status(found: Assessment, modes: tuple[str, ...]) -> int:
    """Whether some target of these modes is missed, as an exit status."""
    return MISSED if any(each.missed for each in found.findings if each.mode in ("", *modes)) else MET


def _shown(plan: Plan) -> dict[str, str]:
    """What each receiver is called in reports."""
    return {key: plan.place_name(key) for key in _receivers(plan)}


def _receivers(plan: Plan) -> tuple[str, ...]:
    return (*plan.room, *(key for key, space in plan.space.items() if space.kind == "window"))
