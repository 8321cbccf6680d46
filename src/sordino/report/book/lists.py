"""Lists beside the book, as CSV for spreadsheets: boards, sticks, sheets, bars, fibre and what to buy."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from sordino.build.cutting.records import Cutting
from sordino.build.kit import Kit
from sordino.build.lists import Quantities

Row = Iterable[object]


def csv_lists(kits: tuple[Kit, ...], cutting: Cutting, quantities: Quantities) -> Iterator[tuple[str, bytes]]:
    """Each list by the name of its file."""
    yield "boards.csv", _text(_BOARDS, _boards(kits))
    yield "sticks.csv", _text(_STICKS, _sticks(kits))
    yield "sheets.csv", _text(_SHEETS, _sheets(cutting))
    yield "bars.csv", _text(_BARS, _bars(cutting))
    yield "fibre.csv", _text(_FIBRE, _fibre(quantities))
    yield "shopping.csv", _text(_SHOPPING, _shopping(quantities))


_BOARDS = (
    "label",
    "box",
    "face",
    "layer",
    "board",
    "thickness_mm",
    "length_mm",
    "width_mm",
    "grain",
    "holes",
    "mass_kg",
)
_STICKS = ("label", "box", "use", "thick_mm", "wide_mm", "length_mm", "ripped")
_SHEETS = ("sheet", "stock", "label", "x_mm", "y_mm", "turned", "length_mm", "width_mm")
_BARS = ("bar", "stock", "label", "x_mm", "length_mm")
_FIBRE = ("label", "box", "where", "length_mm", "width_mm", "thickness_mm", "loose_mm", "count")
_SHOPPING = (
    *("name", "group", "needed", "measure", "pack", "packs", "low", "high", "dated", "source"),
    *("cost_low", "cost_high", "rule"),
)


def _text(head: tuple[str, ...], rows: Iterable[Row]) -> bytes:
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return stream.getvalue().encode("utf-8")


def _cell(value: object) -> object:
    """Figures to a hundredth; nothing that a spreadsheet would take for a formula."""
    if isinstance(value, float):
        return f"{value:.2f}".rstrip("0").rstrip(".")
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t") else value


def _boards(kits: tuple[Kit, ...]) -> Iterator[Row]:
    for kit in kits:
        for part in kit.parts:
            layer = part.level + 1 if part.kind == "panel" else ""
            size = (part.thickness, *part.size)
            yield part.label, kit.name, part.face, layer, part.board, *size, part.grain, len(part.holes), part.mass


def _sticks(kits: tuple[Kit, ...]) -> Iterator[Row]:
    for kit in kits:
        for stick in kit.sticks:
            ripped = "" if stick.square else "yes"
            yield stick.label, kit.name, stick.use, *sorted(stick.size), stick.length, ripped


def _sheets(cutting: Cutting) -> Iterator[Row]:
    for layout in cutting.layouts:
        for one in layout.placed:
            turned = "yes" if one.turned else "no"
            yield layout.label, layout.sheet.name, one.label, one.x, one.y, turned, *one.part.size


def _bars(cutting: Cutting) -> Iterator[Row]:
    for bar in cutting.bars:
        for one in bar.cut:
            yield bar.label, bar.stock.name, one.label, one.x, one.stick.length


def _fibre(quantities: Quantities) -> Iterator[Row]:
    for piece in quantities.fibre:
        size = (piece.length, piece.width, piece.thickness, piece.loose)
        yield piece.label, piece.box, piece.place, *size, piece.count


def _shopping(quantities: Quantities) -> Iterator[Row]:
    for line in quantities.lines:
        each, cost = line.price.each, line.cost
        amounts = (line.key, line.group, line.need, line.measure, line.pack, line.packs, each.low, each.high)
        yield *amounts, line.price.dated, line.price.source, cost.low, cost.high, line.rule
