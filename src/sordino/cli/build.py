"""`sordino build`: the book from which boxes are built, with drawings, lists and files for machines beside it."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from itertools import count as count_up
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sordino.cli.assess import checked
from sordino.cli.ending import MET
from sordino.elements.box_clash import Clash
from sordino.errors import Fault, PlanError, Refusal
from sordino.plan.project import document
from sordino.plan.statement import Plan
from sordino.report.phrases import count

if TYPE_CHECKING:
    from click._termui_impl import ProgressBar

    from sordino.build.kit import Kit
    from sordino.build.lists import Price
    from sordino.report.book.material import BoxMaterial, Material
    from sordino.report.book.paper import Paper

KINDS = ("book", "sheets", "parts", "lists", "models")
WORKING, WRITING = (0, 70), (70, 99)
"""Percent from and to which the two halves of the work are told."""
Told = Callable[[str], None]
Prices = Mapping[str, "Price"]


@click.command("build", short_help="Write the build book: drawings, cut plan, shopping list, steps.")
@click.argument("file", type=click.Path())
@click.option("--out", metavar="DIR", type=click.Path(), help="Folder of the book; an older book there is replaced.")
@click.option("--variant", metavar="NAME", help="Build this variant instead of the project as written.")
@click.option(
    "--only",
    multiple=True,
    type=click.Choice(KINDS),
    help="Make only this: the PDF, DXF of stock sheets, DXF of parts, CSV lists, or GLB models.",
)
@click.option(
    "--show", metavar="PAGE", help="Print a page as text: shopping, cutting, weight, steps, brief or schedule."
)
@click.option(
    "--prices", metavar="FILE", type=click.Path(), help="Prices as CSV: lists/shopping.csv of a book, edited."
)
@click.option("--paper", type=click.Choice(["a4", "letter"]), help="[default: letter where units are inch, else a4]")
@click.option("--json", "as_json", is_flag=True, help="Print what is made as JSON, in millimetres, for machines.")
@click.option("--percent", is_flag=True, hidden=True, help="Tell progress as lines on stderr, for the page.")
def command(
    file: str,
    out: str | None,
    variant: str | None,
    only: tuple[str, ...],
    show: str | None,
    prices: str | None,
    paper: str | None,
    as_json: bool,
    percent: bool,
) -> int:
    """Write the build book of the boxes of the project in FILE into a folder.

    One PDF with drawings, cut plan, shopping list, steps, cautions, a brief for the contractor and full-size templates
    of the holes; beside it DXF files of sheets and parts, CSV lists, and a model of each box. The folder is written
    whole or not at all. Without --out, --json prints and writes nothing.
    """
    from sordino.report.book.folder import check
    from sordino.report.book.paper import PAPERS, usual
    from sordino.report.book.text import shown

    if out is None and show is None and not as_json:
        raise click.UsageError("name a folder with --out, or print with --show or --json.")
    if show is not None:
        _check_page(show)
    folder = None if out is None else Path(out)
    if folder is not None:
        check(folder)
    plan = checked(document(file), variant)
    boxes = _kits(file, plan)
    listed = _prices(prices)
    kinds = only or KINDS
    size = PAPERS[paper] if paper is not None else usual(plan.units)
    book = None if folder is None and show is None else _material(plan, boxes, listed, size, folder, variant)
    if book is not None and folder is not None:
        _write(book, folder, kinds, as_json or show is not None)
    if book is not None and show is not None:
        click.echo(shown(book, show), nl=False)
    if as_json:
        from sordino.report import record

        click.echo(record.text(_record(plan, boxes, listed, kinds)), nl=False)
    return MET


def _kits(file: str, plan: Plan) -> tuple[Kit, ...]:
    """The boxes; what can't be built is told as a fault of the file."""
    from sordino.build.kit import kits

    try:
        found = kits(plan)
    except Clash as clash:
        problem, cure = clash.shown(plan.units)
        raise PlanError([_fault(file, f"{problem}.", f"{_capital(cure)}.")]) from None
    if not found:
        raise PlanError([_fault(file, "no run of this project has a lined box.", "Put one into a run, then build it.")])
    return found


def _prices(file: str | None) -> Prices:
    """Prices from a list, which come before those of the project."""
    from sordino.build.prices import read_prices

    if file is None:
        return {}
    try:
        return read_prices(Path(file).read_text(encoding="utf-8"))
    except Refusal as refusal:
        raise PlanError([_fault(file, f"{refusal.problem}.", f"{_capital(refusal.cure)}.")]) from None
    except UnicodeDecodeError:
        raise PlanError([_fault(file, "this is no text in UTF-8.", "Save the list as CSV in UTF-8.")]) from None


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _fault(file: str, problem: str, cure: str) -> Fault:
    return Fault(file=file, line=None, key="", problem=problem, cure=cure)


def _record(plan: Plan, boxes: tuple[Kit, ...], listed: Prices, kinds: tuple[str, ...]) -> dict[str, Any]:
    """What belongs to the kinds that are wanted; nothing of it needs a sound field."""
    from sordino.build.cost import cost
    from sordino.build.cutting.plan import cutting
    from sordino.build.quantities import quantities
    from sordino.build.steps import steps
    from sordino.report.book import record

    told: dict[str, Any] = {"title": plan.title, "display_units": plan.units}
    cut = cutting(boxes, plan.build, plan.units)
    if {"book", "sheets"} & set(kinds):
        told["cutting"] = record.cutting_record(cut)
    if {"book", "parts", "models"} & set(kinds):
        told["boxes"] = [record.kit_record(one, steps(one, plan.units)) for one in boxes]
    if {"book", "lists"} & set(kinds):
        needed = quantities(plan, boxes, cut, listed)
        told["shopping"] = record.shopping_record(needed, cost(needed, plan.build))
    return told


def _check_page(name: str) -> None:
    from sordino.report.book.text import SHOWN

    if name not in SHOWN:
        raise click.UsageError(f"--show wants one of {', '.join(SHOWN)}; {name!r} is none.")


def _write(book: Material, folder: Path, kinds: tuple[str, ...], quiet: bool) -> None:
    from sordino.report.book.changes import summary
    from sordino.report.book.files import files_of
    from sordino.report.book.folder import write_folder
    from sordino.report.book.text import answer

    files = tuple(files_of(book, kinds))
    with _progress(len(files), WRITING) as tell:
        write_folder(folder, _made(files, tell), summary(book))
    if quiet:
        return
    click.echo(answer(book))
    click.echo(f"Book {book.number} is in {folder}: {count(len(files), 'file')}.")
    pdf = next((name for name, _ in files if name.endswith(".pdf")), None)
    if pdf is not None:
        click.echo(f"Read {folder / pdf} first: cautions, then what changed.")


def _made(files: tuple[tuple[str, Callable[[], bytes]], ...], tell: Told) -> Iterator[tuple[str, bytes]]:
    for name, make in files:
        tell(name)
        yield name, make()


def _material(
    plan: Plan,
    boxes: tuple[Kit, ...],
    listed: Prices,
    paper: Paper,
    folder: Path | None,
    variant: str | None,
) -> Material:
    """Everything worked out once, and the book's number."""
    from sordino.assess.assessment import assess
    from sordino.build.cost import cost
    from sordino.build.cutting.plan import cutting
    from sordino.build.quantities import quantities
    from sordino.report.book.folder import last_book
    from sordino.report.book.material import Material

    with _progress(4 + len(boxes), WORKING) as tell:
        tell("sheets and bars")
        cut = cutting(boxes, plan.build, plan.units)
        tell("what to buy")
        needed = quantities(plan, boxes, cut, listed)
        tell("air and noise")
        found = assess(plan)
        each = tuple(_box(found.plan, one, tell) for one in boxes)
        tell("pages")
    last = None if folder is None else last_book(folder)
    return Material(
        found=found,
        boxes=each,
        cutting=cut,
        quantities=needed,
        cost=cost(needed, plan.build),
        paper=paper,
        number=1 + int((last or {}).get("number", 0)),
        day=date.today().isoformat(),
        last=last,
        variant=variant,
    )


def _box(plan: Plan, one: Kit, tell: Told) -> BoxMaterial:
    from sordino.assess.box_answer import box_answer
    from sordino.build.steps import steps
    from sordino.build.weight import weight
    from sordino.report.book.material import BoxMaterial

    tell(f"box {one.name}")
    answer = box_answer(plan, one.name)
    return BoxMaterial(kit=one, steps=steps(one, plan.units), weight=weight(one), answer=answer)


@contextmanager
def _progress(length: int, span: tuple[int, int]) -> Iterator[Told]:
    """A bar on stderr with what is being made, where there is a terminal; lines of percent where they are asked for."""
    if click.get_current_context().params.get("percent"):
        yield _percents(length, span)
        return
    made: ProgressBar[str] = click.progressbar(
        length=length, file=sys.stderr, item_show_func=lambda item: item or "", hidden=not sys.stderr.isatty()
    )
    with made as bar:

        def tell(words: str) -> None:
            bar.update(1, words)

        yield tell


def _percents(length: int, span: tuple[int, int]) -> Told:
    told = count_up(1)

    def tell(words: str) -> None:
        share = min(next(told) / length, 1.0)
        click.echo(f"{span[0] + share * (span[1] - span[0]):.0f} % {words}", err=True)

    return tell
