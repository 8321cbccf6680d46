"""Cut list, sheets, sticks, fibre, shopping list and prices as CSV, plain numbers in mm, m, m2 and L."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from sordino.build.cutting.records import Bar, Cutting
from sordino.build.lists import FibrePiece, Quantities
from sordino.build.part import Part, Stick

ROUND = 1
"""Decimals of millimetres."""


def _csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(head)
    writer.writerows([[_safe(cell) for cell in row] for row in rows])
    return text.getvalue()


def _safe(cell: object) -> object:
    """A text that no spreadsheet takes for a formula."""
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t") else cell


def parts_csv(parts: tuple[Part, ...], cut: Cutting) -> str:
    """Every board once, with the sheet it is cut from."""
    where = {one.label: layout.label for layout in cut.layouts for one in layout.placed}
    head = ("label", "board", "thickness mm", "length mm", "width mm", "grain", "bevelled", "holes", "mass kg", "sheet")
    return _csv(
        head,
        (
            (
                part.label,
                part.board,
                round(part.thickness, ROUND),
                *(round(side, ROUND) for side in part.size),
                {"u": "length", "v": "width", "none": ""}[part.grain],
                "yes" if part.bevelled else "",
                len(part.holes),
                round(part.mass, 2),
                where.get(part.label, "no sheet is large enough"),
            )
            for part in parts
        ),
    )


def sheets_csv(cut: Cutting) -> str:
    """Every part where it lies: lower left corner and sides along the sheet's length and width."""
    head = ("sheet", "stock", "on hand", "label", "x mm", "y mm", "along mm", "across mm", "turned")
    return _csv(
        head,
        (
            (
                layout.label,
                layout.sheet.name,
                "yes" if layout.sheet.owned else "",
                one.label,
                *(round(number, ROUND) for number in (one.x, one.y, *one.size)),
                "yes" if one.turned else "",
            )
            for layout in cut.layouts
            for one in layout.placed
        ),
    )


def sticks_csv(sticks: tuple[Stick, ...], cut: Cutting) -> str:
    """Every stick once, with the bar it is cut from and how far from its start."""
    where = {one.label: (bar, one.x) for bar in cut.bars for one in bar.cut}
    head = ("label", "use", "section mm", "length mm", "ripped", "bar", "stock", "from mm")
    return _csv(head, (_stick_row(stick, where) for stick in sticks))


def _stick_row(stick: Stick, where: dict[str, tuple[Bar, float]]) -> tuple[object, ...]:
    found = where.get(stick.label)
    placed = ("no bar is long enough", "", "") if found is None else _on(*found)
    wide, high = stick.size
    section = f"{wide:.{ROUND}f} x {high:.{ROUND}f}"
    return stick.label, stick.use, section, round(stick.length, ROUND), "" if stick.square else "yes", *placed


def _on(bar: Bar, x: float) -> tuple[str, str, float]:
    return bar.label, bar.stock.name, round(x, ROUND)


def fibre_csv(pieces: tuple[FibrePiece, ...]) -> str:
    """Every piece of fibre."""
    head = ("label", "box", "place", "length mm", "width mm", "thickness mm", "loose mm", "pieces", "area m2")
    return _csv(
        head,
        (
            (
                piece.label,
                piece.box,
                piece.place,
                *(round(side, ROUND) for side in (piece.length, piece.width, piece.thickness, piece.loose)),
                piece.count,
                round(piece.area, 2),
            )
            for piece in pieces
        ),
    )


UNITS = {"pieces": (1.0, "pieces"), "length": (1.0, "m"), "area": (1.0, "m2"), "volume": (1e3, "L")}


def shopping_csv(found: Quantities, currency: str) -> str:
    """Every line with its need, packs, prices, cost and rule."""
    head = ("group", "name", "need", "unit", "packs", "pack", f"low {currency}", f"high {currency}", "dated", "source")
    rows = []
    for line in found.lines:
        factor, unit = UNITS[line.measure]
        money = round(line.cost.low, 2), round(line.cost.high, 2)
        need = round(factor * line.need, 2)
        tail = (line.price.dated, line.price.source, line.rule)
        rows.append((line.group, line.name, need, unit, line.packs, line.pack, *money, *tail))
    return _csv((*head, "counted"), rows)


def prices_csv(found: Quantities) -> str:
    """The price of one pack of each line, to be edited and read again; take the mark of a placeholder away with it."""
    return _csv(
        ("name", "low", "high", "dated", "source", "pack"),
        (
            (line.key, line.price.each.low, line.price.each.high, line.price.dated, line.price.source, line.pack)
            for line in found.lines
        ),
    )
