"""Pages of the book as plain text, and the answer that comes first."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sordino.build.words import mass
from sordino.report import layout
from sordino.report.book.blocks import Block, Caution, Heading, Page, Points, Table, Words
from sordino.report.book.box_pages import weight_page
from sordino.report.book.material import Material
from sordino.report.book.run_pages import brief, schedule_page
from sordino.report.book.step_pages import step_page
from sordino.report.book.stock_pages import cost_words, fibre_page, proofs, shopping_page, summary_page
from sordino.report.phrases import count

SHOWN: dict[str, Callable[[Material], Iterator[Page]]] = {
    "shopping": lambda book: iter((shopping_page(book), fibre_page(book))),
    "cutting": lambda book: iter((summary_page(book),)),
    "weight": lambda book: (weight_page(book, one) for one in book.boxes),
    "steps": lambda book: (step_page(book, one) for one in book.boxes),
    "brief": lambda book: iter((brief(book),)),
    "schedule": lambda book: iter((schedule_page(book),)),
}
"""Pages that can be read as text."""


def shown(book: Material, name: str) -> str:
    """Some pages as text; drawings are left out."""
    return layout.page([line for page in SHOWN[name](book) for line in page_lines(page)])


def answer(book: Material) -> str:
    """What to buy, what it costs, what it weighs, in a few lines."""
    heaviest = max((each for one in book.boxes for each in one.weight.pieces), key=lambda each: each[1])
    weights = ", ".join(f"{one.name} {mass(one.weight.whole, book.units)}" for one in book.boxes)
    lines = [
        f"{count(len(book.boxes), 'box', 'boxes')} from {count(len(book.cutting.layouts), 'sheet')} and "
        f"{count(len(book.cutting.bars), 'bar')}. {cost_words(book)}",
        f"They weigh: {weights}, without duct, screws and sealant; the heaviest single piece is {heaviest[0]} with "
        f"{mass(heaviest[1], book.units)}. A licensed engineer decides how anything is hung.",
        *proofs(book),
    ]
    return layout.page([wrapped for line in lines for wrapped in layout.paragraph(line)])


def page_lines(page: Page) -> list[str]:
    """One page."""
    lines, after_heading = layout.heading(page.title), True
    for block in page.blocks:
        told = list(_block(block))
        lines += [*([] if after_heading or not told else [""]), *told]
        after_heading = isinstance(block, Heading)
    return lines


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield block.text
    elif isinstance(block, Words):
        yield from layout.paragraph(block.text)
    elif isinstance(block, Points):
        for number, item in enumerate(block.items, 1):
            lead = {"dash": "-", "box": "[ ]", "number": str(number)}[block.mark]
            yield from layout.hanging(lead, item, 4)
    elif isinstance(block, Table):
        yield from layout.grid(block.head, block.rows, block.left)
    elif isinstance(block, Caution):
        for item in block.items:
            yield from layout.hanging("!", item, 4)
