"""No lettering runs off its drawing or its page, and none lies on other lettering."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pypdfium2

from booked import PAPERS, book, book_of, pages_of, sheets_of
from boxed import boxed
from sordino.report.book.material import Material
from sordino.report.book.pages import cover
from sordino.report.book.pdf import pdf
from sordino.report.drawing.records import Sheet, meet

POINT = 72.0 / 25.4
"""Points in a millimetre."""


def faults(sheet: Sheet) -> list[str]:
    """Lettering that runs off a drawing or lies on other lettering."""
    found = []
    for text in sheet.texts:
        left, upper, right, lower = text.box
        if left < -0.05 or upper < -0.05 or right > sheet.width + 0.05 or lower > sheet.height + 0.05:
            found.append(f"{text.text} runs off")
    for one, other in combinations(sheet.texts, 2):
        if meet(one.box, other.box):
            found.append(f"{one.text} on {other.text}")
    return found


def page_faults(data: bytes) -> list[str]:
    """The same of the pages of a PDF, by the boxes of what was set on them; overlaps of a hair are spacing."""
    found = []
    for number, page in enumerate(pypdfium2.PdfDocument(data), 1):
        words = page.get_textpage()
        wide, high = page.get_size()
        boxes = [words.get_rect(index) for index in range(words.count_rects())]
        for box in boxes:
            inside = 14.0 * POINT < box[0] and box[2] < wide - 14.0 * POINT
            if not (inside and 8.0 * POINT < box[1] and box[3] < high - 12.0 * POINT):
                found.append(f"page {number}: {words.get_text_bounded(*box)!r} runs off")
        for one, other in combinations(boxes, 2):
            across = min(one[2], other[2]) - max(one[0], other[0])
            down = min(one[3], other[3]) - max(one[1], other[1])
            if across > 1.0 and down > 1.2:
                found.append(f"page {number}: {words.get_text_bounded(*one)!r} on {words.get_text_bounded(*other)!r}")
    return found


def set_pages(made: Material) -> bytes:
    return pdf(made.title, made.footer, cover(made), pages_of(made), made.paper)


def test_lettering_of_every_drawing_keeps_its_place(made: Material) -> None:
    for page in pages_of(made):
        for sheet in sheets_of(page.blocks):
            assert not faults(sheet), page.title
            assert sheet.width <= made.paper.content + 0.01
            assert sheet.height <= made.paper.room[1] + 0.01, page.title


def test_lettering_of_every_page_keeps_its_place(made: Material) -> None:
    assert not page_faults(set_pages(made))


def test_a_book_on_the_other_paper_keeps_it_too() -> None:
    for name in ("roof", "serpentine"):
        made = book_of(boxed(name), paper=PAPERS["letter"])
        assert not page_faults(set_pages(made))
        assert not [fault for page in pages_of(made) for sheet in sheets_of(page.blocks) for fault in faults(sheet)]


def test_lettering_out_of_place_is_noticed() -> None:
    (page,) = [page for page in pages_of(book("roof")) if page.title.endswith("pulled apart")]
    (sheet,) = sheets_of(page.blocks)
    first, second = list(sheet.texts)[:2]
    assert faults(replace(sheet, items=(first, replace(second, at=first.at))))
    assert faults(replace(sheet, items=(replace(first, at=(sheet.width - 1.0, 5.0), anchor="start"),)))
