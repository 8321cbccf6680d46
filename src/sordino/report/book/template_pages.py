"""Full-size templates of the holes, each size once."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.build.part import Hole
from sordino.report.book.blocks import Page, Picture, Words
from sordino.report.book.cautions import SCALE
from sordino.report.book.material import Material
from sordino.report.drawing.templates import template

WORDS = 14.0
"""Room for the words over a tile, mm."""


def template_pages(book: Material) -> Iterator[Page]:
    """The tiles of every hole."""
    room = book.paper.room
    for hole, labels in holes(book).items():
        serves = _serves(labels, int(room[0] / (2.1 * 0.61)))
        for sheet in template(hole, serves, (room[0], room[1] - WORDS), book.units):
            yield Page(title=sheet.title, blocks=(Words(text=SCALE), Picture(sheet=sheet)))


def holes(book: Material) -> dict[Hole, list[str]]:
    """Each size of hole, about its own middle, with the boards that have it; the smallest first."""
    found: dict[Hole, list[str]] = {}
    for one in book.boxes:
        for part in one.kit.parts:
            for hole in part.holes:
                alike = Hole(
                    label="",
                    centre=(0.0, 0.0),
                    diameter=_rounded(hole.diameter),
                    sides=_sides(hole.sides),
                    axes=_sides(hole.axes),
                )
                found.setdefault(alike, []).append(part.label)
    return dict(sorted(found.items(), key=lambda each: each[0].area))


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)


def _sides(sides: tuple[float, float] | None) -> tuple[float, float] | None:
    return None if sides is None else (round(sides[0], 2), round(sides[1], 2))


def _serves(labels: list[str], letters: int) -> str:
    names = ", ".join(dict.fromkeys(labels))
    words = f"in {names}; join tiles where the broken lines and axes meet"
    return words if len(words) <= letters else f"in {len(dict.fromkeys(labels))} boards; join tiles where axes meet"
