"""What differs from the last book."""

from __future__ import annotations

import json

from booked import book, book_of
from boxed import boxed
from sordino.report.book.blocks import Block, Points, Words
from sordino.report.book.changes import changes_page, differences, summary


def told(blocks: tuple[Block, ...]) -> str:
    points = [item for block in blocks if isinstance(block, Points) for item in block.items]
    return "\n".join([*(block.text for block in blocks if isinstance(block, Words)), *points])


def test_the_first_book_has_nothing_to_compare() -> None:
    assert "first book" in told(changes_page(book("straight")).blocks)


def test_a_summary_survives_its_file_and_nothing_differs_from_itself() -> None:
    before = summary(book("straight"))
    read = json.loads(json.dumps(before))
    assert read == before
    again = book_of(boxed("straight"), last=read)
    assert again.number == 2
    assert told(changes_page(again).blocks).endswith("Nothing differs.")


def test_a_longer_box_is_told_with_what_was() -> None:
    before = summary(book("straight"))
    after = book_of(boxed("straight", length='"0.9 m"'), last=before)
    words = told(changes_page(after).blocks)
    assert "A3: now plywood 18 mm, 936 x 250 mm; before plywood 18 mm, 836 x 250 mm" in words
    assert "box straight: now weighs" in words
    assert "Throw older drawings" in words
    assert "A1" not in words, "the ends are as they were"


def test_what_came_and_what_went_is_told() -> None:
    assert list(differences({"A1": "x", "A2": "y"}, {"A2": "z", "A3": "w"})) == [
        "A2: now z; before y",
        "New: A3: w",
        "Gone: A1: x",
    ]


def test_a_summary_of_another_form_is_not_compared() -> None:
    after = book_of(boxed("straight"), last={"form": 0, "number": 4, "files": []})
    assert after.number == 5
    assert "first book" in told(changes_page(after).blocks)
