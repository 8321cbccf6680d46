"""Pages as one PDF, set offline with the lettering that the typesetter brings."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from importlib.resources import files
from typing import Any

from sordino.report.book.blocks import Block, Page, Picture, Pictures
from sordino.report.book.paper import BOTTOM, TOP, Paper
from sordino.report.drawing.png import FONT
from sordino.report.drawing.records import Sheet
from sordino.report.drawing.svg import svg


def pdf(title: str, footer: str, cover: Sequence[Block], pages: Sequence[Page], paper: Paper) -> bytes:
    """The bytes of a PDF with tags for readers of the screen (PDF/UA-1)."""
    import typst

    told = {
        "title": title,
        "footer": footer,
        "paper": paper.key,
        "region": "us" if paper.key == "us-letter" else "gb",
        "top": TOP,
        "bottom": BOTTOM,
        "margin": paper.margin,
        "cover": [plain(block) for block in cover],
        "pages": [_page(page) for page in pages],
    }
    source = files("sordino.report.book").joinpath("book.typ").read_bytes()
    made = typst.compile(
        source,
        format="pdf",
        sys_inputs={"book": json.dumps(told)},
        ignore_system_fonts=True,
        pdf_standards=["ua-1"],
    )
    assert isinstance(made, bytes), "a PDF is one file"
    return made


def _page(page: Page) -> dict[str, Any]:
    return {"title": page.title, "dense": page.dense, "blocks": [plain(block) for block in page.blocks]}


def plain(block: Block) -> dict[str, Any]:
    """A block as the typesetter is given it."""
    kind = type(block).__name__.lower()
    if isinstance(block, Picture):
        return {"kind": kind, **_drawn(block.sheet)}
    if isinstance(block, Pictures):
        sheets = [{"words": words, **_drawn(sheet)} for words, sheet in block.sheets]
        return {"kind": kind, "columns": block.columns, "sheets": sheets}
    return {"kind": kind, **asdict(block)}


def _drawn(sheet: Sheet) -> dict[str, Any]:
    return {"svg": svg(sheet, FONT), "width": sheet.width, "alt": f"{sheet.title}. {sheet.description}"}
