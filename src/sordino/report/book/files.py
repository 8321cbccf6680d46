"""Every file of a book by its name, made one after the other, so that progress can be told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from sordino.build.kit import Kit
from sordino.build.model import model
from sordino.report.book.lists import csv_lists
from sordino.report.book.material import Material
from sordino.report.book.pages import cover, pages
from sordino.report.book.pdf import pdf
from sordino.report.drawing.dxf import layout_dxf, part_dxf

Made = Callable[[], bytes]


def file_name(words: str) -> str:
    """A name for a file: letters, figures and dashes."""
    plain = "".join(letter if letter.isalnum() else "-" for letter in words.lower())
    return "-".join(filter(None, plain.split("-")))


def book_files(book: Material) -> Iterator[tuple[str, Made]]:
    """The PDF."""
    yield f"{file_name(book.title) or 'book'}.pdf", partial(printed, book)


def printed(book: Material) -> bytes:
    """The book as one PDF."""
    return pdf(book.title, book.footer, cover(book), tuple(pages(book)), book.paper)


def files_of(book: Material, kinds: tuple[str, ...]) -> Iterator[tuple[str, Made]]:
    """Name and maker of every file of these kinds."""
    kits = tuple(one.kit for one in book.boxes)
    if "book" in kinds:
        yield from book_files(book)
    if "sheets" in kinds:
        for layout in book.cutting.layouts:
            yield f"sheets/{file_name(layout.label)}.dxf", partial(layout_dxf, layout)
    if "parts" in kinds:
        yield from _parts(kits)
    if "lists" in kinds:
        for name, data in csv_lists(kits, book.cutting, book.quantities):
            yield f"lists/{name}", partial(bytes, data)
    if "models" in kinds:
        for kit in kits:
            yield f"models/{file_name(kit.name)}.glb", partial(model, kit)


def _parts(kits: tuple[Kit, ...]) -> Iterator[tuple[str, Made]]:
    for kit in kits:
        for part in kit.parts:
            short = part.label.split()[-1]
            yield f"parts/{file_name(f'{kit.name} {short}')}.dxf", partial(part_dxf, part)
