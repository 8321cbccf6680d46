"""The whole book: its cover and its pages in order."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.build.words import mass
from sordino.report.book.blocks import Block, Caution, Page, Points, Table, Words
from sordino.report.book.box_pages import box_pages, outside_words
from sordino.report.book.cautions import AIR, DUST, ELECTRICITY, ENGINEER, FIRE, LIFTING, PREDICTED
from sordino.report.book.changes import changes_page
from sordino.report.book.material import Material
from sordino.report.book.run_pages import brief, run_pages, schedule_page
from sordino.report.book.step_pages import step_page
from sordino.report.book.stock_pages import money, stock_pages
from sordino.report.book.template_pages import template_pages
from sordino.report.phrases import count


def cover(book: Material) -> tuple[Block, ...]:
    """What it all comes to."""
    sheets = sum(plan.sheets for plan in book.cutting.plans)
    bound = sum(plan.bound for plan in book.cutting.plans)
    bars, cost = len(book.cutting.bars), f"{money(book.cost.whole)} {book.cost.currency}"
    rows = tuple(
        (one.name, one.kit.run, mass(one.weight.whole, book.units), str(len(one.kit.parts))) for one in book.boxes
    )
    return (
        Words(text=f"Book {book.number}, made on {book.day}."),
        Table(head=("box", "in", "weighs", "boards"), widths=(2.0, 2.0, 1.0, 1.0), left=2, rows=rows),
        Words(
            text=f"{count(sheets, 'sheet')} (no plan needs fewer than {bound}) and {count(bars, 'bar')}. All of it "
            f"costs {cost}."
        ),
        Caution(items=(PREDICTED, "Before you build, read the page of cautions and ask the people it names.")),
    )


def pages(book: Material) -> Iterator[Page]:
    """Every page but the cover, in order."""
    yield _cautions()
    yield changes_page(book)
    yield _site(book)
    yield brief(book)
    yield from run_pages(book)
    yield schedule_page(book)
    yield from stock_pages(book)
    for one in book.boxes:
        yield from box_pages(book, one)
        yield step_page(book, one)
    yield from template_pages(book)


def _cautions() -> Page:
    return Page(
        title="Cautions",
        blocks=(
            Words(text="Where a law, a standard or a licensed person says otherwise, they are right and this is not."),
            *(Caution(items=(words,)) for words in (ENGINEER, LIFTING, DUST, ELECTRICITY, FIRE, AIR)),
        ),
    )


def _site(book: Material) -> Page:
    """What to measure before anything is bought."""
    return Page(
        title="Before you buy: measure on site",
        blocks=(
            Words(text="What is wrong here is cheap to change now. Tick what agrees; else change the plan."),
            Points(items=tuple(_measures(book)), mark="box"),
            Words(text="Photograph:"),
            Points(
                mark="box",
                items=(
                    "the place of every box, with a tape in it, before and after",
                    "joists, rafters and studs that anything will hang from or be fixed to",
                    "every hole in a leaf, before and after it is sealed, both sides",
                ),
            ),
        ),
    )


def _measures(book: Material) -> Iterator[str]:
    for one in book.boxes:
        size = outside_words(one.weight.low, one.weight.high, book.units)
        yield (
            f"Box {one.name} fits: {size} outside, plus room for hands, screws and hangers all round, and for the "
            f"{one.kit.closing.face} to come off"
        )
        yield f"A way in: box {one.name}, or its largest board, passes doors, stairs and hatches"
    yield "Ducts as stated fit between joists and studs, and cross none that carries"
    yield "Boards in the shop are as thick as the plan says, to a millimetre: measure a sheet, don't read its label"
    yield "The fans' connections, and what their makers ask for beside them, leave room for the ducts drawn"
