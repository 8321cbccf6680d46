"""Plain text a hundred columns wide: headings, hanging paragraphs, tables, band rows."""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Iterable, Sequence

from sordino.bands import Bands
from sordino.physics.signal.thirds import NOMINAL

WIDTH = 100
BAND_WIDTH = 5
BAND_NAMES = ("31.5", "63", "125", "250", "500", "1k", "2k", "4k", "8k")
THIRD_NAMES = tuple(f"{hertz:g}" if hertz % 1000 else f"{hertz / 1000:g}k" for hertz in NOMINAL)
LABEL = WIDTH - BAND_WIDTH * len(BAND_NAMES)
"""Columns left for the words before nine bands."""
NOTHING = "–"
SILENT = -99.5
"""Levels below this are no sound at all: a source that is off, dB."""

_KEPT = re.compile(
    r"(?<=[0-9]) (?=(?:k?Hz|dBA?|L/s|cfm|m/s|fpm|Pa|ft|in|mm|m|N|lbf|%|°C|°F|k?W|ppm)(?![A-Za-z]))"
    r"|(?<=\bN[CR]) (?=[0-9])"
)
"""Spaces at which no line may break: between a number and its unit, and in `NC 20`."""
_FIXED = "\u00a0"


def page(lines: Iterable[str]) -> str:
    """Lines as the text that is printed."""
    return "\n".join(line.rstrip() for line in lines) + "\n"


def heading(title: str) -> list[str]:
    """A section's heading with a rule."""
    return ["", title, "-" * len(title)]


def hanging(lead: str, text: str, indent: int) -> list[str]:
    """A paragraph with `lead` in the margin of its first line."""
    return _wrapped(text, WIDTH, f"{lead:<{indent - 1}} ", " " * indent)


def paragraph(text: str) -> list[str]:
    """A plain paragraph."""
    return _wrapped(text, WIDTH)


def _wrapped(text: str, width: int, first: str = "", rest: str = "", at_hyphens: bool = False) -> list[str]:
    kept = _KEPT.sub(_FIXED, text)
    lines = textwrap.wrap(kept, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=at_hyphens)
    return [line.replace(_FIXED, " ") for line in lines] or [first.rstrip()]


def grid(head: Sequence[str], rows: Iterable[Sequence[str]], left: int = 1) -> list[str]:
    """A table; the first `left` columns are words, the others figures set to the right."""
    table = [list(head), *[list(row) for row in rows]]
    widths = [max(len(row[column]) for row in table) for column in range(len(head))]
    spare = WIDTH - sum(widths) - 2 * (len(widths) - 1)
    widths[0] = max(widths[0] + min(spare, 0), min(widths[0], 10))
    return [line for row in table for line in _set(row, widths, left)]


def _set(row: Sequence[str], widths: Sequence[int], left: int) -> list[str]:
    words = _label(row[0], widths[0])
    cells = [
        f"{cell:<{width}}" if column < left else f"{cell:>{width}}"
        for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        if column
    ]
    last = "  ".join([f"{words[-1]:<{widths[0]}}", *cells]).rstrip()
    return [*words[:-1], last]


def _label(text: str, width: int) -> list[str]:
    """Words that begin a row, indented as written, their later lines a little more."""
    bare = text.lstrip()
    indent = " " * (len(text) - len(bare))
    return _wrapped(bare, width, indent, indent + "  ", at_hyphens=True)


def band_head(title: str) -> str:
    """The heading of a table by bands."""
    return f"{title:<{LABEL}}" + "".join(f"{name:>{BAND_WIDTH}}" for name in BAND_NAMES)


def band_row(label: str, values: Bands | Sequence[float], signed: bool = False) -> list[str]:
    """One row of whole decibels; long labels go on to lines before it."""
    words = _label(label, LABEL - 1)
    figures = "".join(f"{whole(float(value), signed):>{BAND_WIDTH}}" for value in values)
    return [*words[:-1], f"{words[-1]:<{LABEL}}{figures}"]


def whole(value: float, signed: bool = False) -> str:
    """A level without decimals; a dash where nothing is known."""
    if math.isnan(value):
        return NOTHING
    if value < SILENT:
        return "<-99"
    return f"{round(value):+d}" if signed else f"{round(value):d}"
