"""A drawing as PNG, through a typesetter that brings its own lettering, so that it looks the same everywhere."""

from __future__ import annotations

from sordino.report.drawing.records import Sheet
from sordino.report.drawing.svg import svg

FONT = "DejaVu Sans Mono"
"""Comes inside the typesetter."""
DOTS_PER_INCH = 220.0
PAGE = b"""#set page(width: auto, height: auto, margin: 0pt)
#image(bytes(sys.inputs.drawing), format: "svg")
"""


def png(sheet: Sheet) -> bytes:
    """The bytes of a PNG file."""
    import typst

    made = typst.compile(
        PAGE, format="png", ppi=DOTS_PER_INCH, sys_inputs={"drawing": svg(sheet, FONT)}, ignore_system_fonts=True
    )
    assert isinstance(made, bytes), "one page makes one file"
    return made
