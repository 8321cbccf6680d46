"""What a book was made of, in plain values, and how that differs from the last book in its folder."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sordino.build.part import Part, Stick
from sordino.report.book.blocks import Block, Heading, Page, Points, Words
from sordino.report.book.material import Material
from sordino.report.drawing.measures import measure, pair
from sordino.report.layout import BAND_NAMES, whole
from sordino.report.phrases import flow

FORM = 1
"""Of the summary; one of another form is not compared with."""
Summary = dict[str, Any]
TITLES = {
    "boards": "Boards",
    "sticks": "Sticks",
    "holes": "Holes",
    "boxes": "Boxes",
    "flows": "Flows",
    "buy": "To buy",
}


def summary(book: Material) -> Summary:
    """What is compared from book to book, as words by name."""
    units = book.units
    pieces = [piece for one in book.boxes for piece in one.kit.pieces]
    boards = [piece for piece in pieces if isinstance(piece, Part)]
    return {
        "form": FORM,
        "number": book.number,
        "day": book.day,
        "boards": {
            part.label: f"{part.board} {measure(part.thickness, units)}, {pair(part.size, units)}" for part in boards
        },
        "sticks": {
            stick.label: f"{pair(stick.size, units)}, {measure(stick.length, units)}"
            for stick in pieces
            if isinstance(stick, Stick)
        },
        "holes": {
            f"{hole.label} in {part.label}": _hole_words(part, index, book)
            for part in boards
            for index, hole in enumerate(part.holes)
        },
        "boxes": {f"box {one.name}": _box_words(book, one.name) for one in book.boxes},
        "flows": {
            f"{name}, {mode}": flow(book.plan, book.found.state(mode).flows[name])
            for name in book.plan.run
            for mode in book.plan.mode
        },
        "buy": {line.name: f"{line.packs} ({line.pack})" for line in book.quantities.lines},
    }


def _hole_words(part: Part, index: int, book: Material) -> str:
    hole = part.holes[index]
    size = f"Ø {measure(hole.diameter, book.units)}" if hole.diameter is not None else pair(hole.whole, book.units)
    kind = " ellipse" if hole.axes else ""
    return f"{size}{kind}, middle {measure(hole.centre[0], book.units)} and {measure(hole.centre[1], book.units)}"


def _box_words(book: Material, name: str) -> str:
    one = next(each for each in book.boxes if each.name == name)
    bands = ", ".join(
        f"{whole(float(value))} dB at {band}"
        for band, value in list(zip(BAND_NAMES, one.answer.counted, strict=True))[1:6]
    )
    return f"weighs {one.weight.whole:.0f} kg, takes {bands}"


def changes_page(book: Material) -> Page:
    """What differs from the last book made in the same folder."""
    return Page(title="Changes since the last book", blocks=tuple(_blocks(book)))


def _blocks(book: Material) -> Iterator[Block]:
    last = book.last
    if last is None or last.get("form") != FORM:
        yield Words(text="This is the first book in its folder, so nothing is compared here.")
        return
    now = summary(book)
    yield Words(text=f"Compared with book {last['number']} of {last['day']}. Throw older drawings and templates away.")
    found = {key: tuple(differences(last.get(key, {}), now[key])) for key in TITLES}
    for key, told in found.items():
        if told:
            yield Heading(text=TITLES[key])
            yield Points(items=told)
    if not any(found.values()):
        yield Words(text="Nothing differs.")


def differences(before: dict[str, str], after: dict[str, str]) -> Iterator[str]:
    """What was added, what went, and what is otherwise."""
    for name, words in after.items():
        if name not in before:
            yield f"New: {name}: {words}"
        elif before[name] != words:
            yield f"{name}: now {words}; before {before[name]}"
    for name, words in before.items():
        if name not in after:
            yield f"Gone: {name}: {words}"
