"""What pages are made of: frozen records that know nothing of how they are set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sordino.report.drawing.records import Sheet


@dataclass(frozen=True, kw_only=True, slots=True)
class Heading:
    """A heading within a page."""

    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Words:
    """A paragraph."""

    text: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Points:
    """A list: of dashes, of boxes to tick, or numbered."""

    items: tuple[str, ...]
    mark: Literal["dash", "box", "number"] = "dash"


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """A table; the first `left` columns hold words, the others figures set to the right. Its head is repeated."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    """Shares of the width."""
    left: int = 1
    whole: bool = False
    """Whether it may not go on to another sheet."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Picture:
    """A drawing at its true size."""

    sheet: Sheet


@dataclass(frozen=True, kw_only=True, slots=True)
class Pictures:
    """Small drawings side by side, each under its words."""

    sheets: tuple[tuple[str, Sheet], ...]
    columns: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Caution:
    """Sentences in a heavy frame."""

    items: tuple[str, ...]


Block = Heading | Words | Points | Table | Picture | Pictures | Caution


@dataclass(frozen=True, kw_only=True, slots=True)
class Page:
    """Blocks under a title, on as many sheets of paper as they take."""

    title: str
    blocks: tuple[Block, ...]
    dense: bool = False
    """Whether it is set small, to stay on one sheet."""
