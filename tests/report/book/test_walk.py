"""Every board and stick once on a sheet or bar, once on a drawing and once in a step, with one label and one size."""

from __future__ import annotations

import re
from collections import Counter

from booked import pages_of, sheets_of
from sordino.build.part import Part, Stick
from sordino.report.book.blocks import Page, Table
from sordino.report.book.lists import csv_lists
from sordino.report.book.material import Material
from sordino.report.drawing.measures import measure, pair


def boards(made: Material) -> dict[str, Part]:
    return {part.label: part for one in made.boxes for part in one.kit.parts}


def sticks(made: Material) -> dict[str, Stick]:
    return {stick.label: stick for one in made.boxes for stick in one.kit.sticks}


def titled(made: Material, words: str) -> list[Page]:
    return [page for page in pages_of(made) if re.search(words, page.title)]


def rows(pages: list[Page], head: tuple[str, ...]) -> list[dict[str, str]]:
    tables = [block for page in pages for block in page.blocks if isinstance(block, Table) if block.head == head]
    return [dict(zip(head, row, strict=True)) for table in tables for row in table.rows]


def test_labels_are_unique(made: Material) -> None:
    labels = [piece.label for one in made.boxes for piece in one.kit.pieces]
    assert len(labels) == len(set(labels))


def test_every_board_lies_once_on_a_sheet_in_its_size(made: Material) -> None:
    found = Counter(one.label for layout in made.cutting.layouts for one in layout.placed)
    assert found == Counter(boards(made).keys())
    told = rows(
        titled(made, r"^Cut plan: "), ("label", "length x width", "from the left", "from below", "turned", "holes")
    )
    assert {row["label"]: row["length x width"] for row in told} == {
        label: pair(part.size, made.units) for label, part in boards(made).items()
    }
    assert len(told) == len(boards(made))


def test_every_stick_is_cut_once_from_a_bar_in_its_length(made: Material) -> None:
    found = Counter(one.label for bar in made.cutting.bars for one in bar.cut)
    assert found == Counter(sticks(made).keys())
    for bar in made.cutting.bars:
        for one in bar.cut:
            assert one.stick == sticks(made)[one.label]


def test_every_board_is_drawn_once_with_its_size(made: Material) -> None:
    drawn: Counter[str] = Counter()
    for page in titled(made, r"^Box .*: boards, "):
        for sheet in sheets_of(page.blocks):
            words = [text.text for text in sheet.texts]
            bold = [text.text for text in sheet.texts if text.bold and text.text in boards(made)]
            drawn.update(bold)
            for label in bold:
                after = " ".join(words[words.index(label) + 1 :])
                assert pair(boards(made)[label].size, made.units) in after.split(" : ")[0]
    assert drawn == Counter(boards(made).keys())


def test_every_piece_is_listed_once_for_its_box(made: Material) -> None:
    head = ("label", "where", "board", "thickness", "length x width", "grain", "weighs")
    told = {row["label"]: row["length x width"] for row in rows(titled(made, r": boards and sticks$"), head)}
    assert told == {label: pair(part.size, made.units) for label, part in boards(made).items()}
    columns = ("label", "what", "where", "section", "length", "weighs")
    lengths = {row["label"]: row["length"] for row in rows(titled(made, r": boards and sticks$"), columns)}
    assert lengths == {label: measure(stick.length, made.units) for label, stick in sticks(made).items()}


def test_every_piece_is_in_one_step_with_the_same_size(made: Material) -> None:
    found = Counter(label for one in made.boxes for step in one.steps for label in step.parts)
    assert found == Counter({**boards(made), **sticks(made)}.keys())
    told = {row["label"]: row["size"] for row in rows(titled(made, r": steps$"), ("label", "what", "where", "size"))}
    assert told == {
        **{label: pair(part.size, made.units) for label, part in boards(made).items()},
        **{
            label: f"{measure(stick.length, made.units)}, {pair(stick.size, made.units)}"
            for label, stick in sticks(made).items()
        },
    }


def test_every_piece_has_its_place_in_the_picture_of_the_box_pulled_apart(made: Material) -> None:
    for one in made.boxes:
        (page,) = titled(made, rf"^Box {one.name}: pulled apart$")
        (sheet,) = sheets_of(page.blocks)
        assert Counter(text.text for text in sheet.texts) == Counter(
            piece.label.split()[-1] for piece in one.kit.pieces
        )


def test_every_piece_is_in_the_lists_for_spreadsheets(made: Material) -> None:
    kits = tuple(one.kit for one in made.boxes)
    lists = {name: data.decode().splitlines() for name, data in csv_lists(kits, made.cutting, made.quantities)}
    for name, wanted in (("boards.csv", boards(made)), ("sheets.csv", boards(made))):
        column = lists[name][0].split(",").index("label")
        plain = re.compile(r'"[^"]*"')
        labels = [plain.sub("", row).split(",")[column] for row in lists[name][1:]]
        assert Counter(labels) == Counter(wanted.keys())


def test_a_hole_is_drawn_with_its_size_and_place(made: Material) -> None:
    for one in made.boxes:
        words = [
            text.text
            for page in titled(made, rf"^Box {one.name}: boards, ")
            for sheet in sheets_of(page.blocks)
            for text in sheet.texts
        ]
        for part in one.kit.parts:
            for hole in part.holes:
                if hole.diameter is not None:
                    assert f"Ø {measure(hole.diameter, made.units).removesuffix(' mm')}" in words
                for place in hole.centre:
                    assert measure(place, made.units).removesuffix(" mm") in words
