"""A drawing as a page of PDF, as large as the drawing, through a typesetter that brings its own lettering."""

from __future__ import annotations

from sordino.report.drawing.png import FONT, PAGE
from sordino.report.drawing.records import Sheet
from sordino.report.drawing.svg import svg


def pdf(sheet: Sheet) -> bytes:
    """The bytes of a PDF file."""
    import typst

    made = typst.compile(PAGE, format="pdf", sys_inputs={"drawing": svg(sheet, FONT)}, ignore_system_fonts=True)
    assert isinstance(made, bytes), "one page makes one file"
    return made
