"""The order of work of a box, step by step, each with its parts and their sizes."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.build.order import Piece
from sordino.build.part import Stick
from sordino.build.steps import Step
from sordino.report.book.blocks import Block, Caution, Heading, Page, Points, Table, Words
from sordino.report.book.box_pages import where
from sordino.report.book.material import BoxMaterial, Material
from sordino.report.drawing.measures import measure, pair
from sordino.units import System


def step_page(book: Material, one: BoxMaterial) -> Page:
    """All steps of one box."""
    pieces = {piece.label: piece for piece in one.kit.pieces}
    blocks = [block for step in one.steps for block in _step(step, pieces, book.units)]
    return Page(title=f"Box {one.name}: steps", blocks=tuple(blocks))


def _step(step: Step, pieces: dict[str, Piece], units: System) -> Iterator[Block]:
    yield Heading(text=f"{step.number}. {step.title}")
    if step.parts:
        yield Table(
            head=("label", "what", "where", "size"),
            widths=(1.6, 1.6, 2.0, 2.4),
            left=3,
            rows=tuple(_row(pieces[label], units) for label in step.parts),
        )
    yield Points(items=tuple(_sentence(words) for words in step.work), mark="dash")
    if step.checks:
        yield Words(text="Check:")
        yield Points(items=tuple(_sentence(words) for words in step.checks), mark="box")
    if step.photographs:
        yield Words(text="Photograph:")
        yield Points(items=tuple(_sentence(words) for words in step.photographs), mark="box")
    if step.cautions:
        yield Caution(items=tuple(_sentence(words) for words in step.cautions))


def _row(piece: Piece, units: System) -> tuple[str, str, str, str]:
    if isinstance(piece, Stick):
        size = f"{measure(piece.length, units)}, {pair(piece.size, units)}"
        return piece.label, f"{piece.use} stick", where(piece), size
    return piece.label, f"{piece.board} {measure(piece.thickness, units)}", where(piece), pair(piece.size, units)


def _sentence(words: str) -> str:
    """With its first letter large and a full stop."""
    end = "" if words.endswith((".", "!", "?")) else "."
    first = words[0].upper() if words[0].islower() and not _named(words) else words[0]
    return f"{first}{words[1:]}{end}"


def _named(words: str) -> bool:
    """Whether the first word is part of a label, which is written as it is."""
    second = words.split()[1] if len(words.split()) > 1 else ""
    return second[:1].isupper() and any(letter.isdigit() for letter in second)
