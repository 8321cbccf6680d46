"""The page of questions: every quote is what its command prints, and no question is left out."""

from __future__ import annotations

import re

import pytest

from journeys.answers import BLOCK, PAGE, output, quoted

TEXT = PAGE.read_text(encoding="utf-8")
ASKED = tuple(range(1, 47))
BLOCKS = [match.groups() for match in BLOCK.finditer(TEXT)]


@pytest.mark.parametrize(("wanted", "command", "quote"), BLOCKS, ids=lambda text: text[:50])
def test_each_quote_is_what_its_command_prints(wanted: str, command: str, quote: str) -> None:
    """If this fails after a wanted change, write the quotes anew: python tests/journeys/answers.py."""
    assert quote.strip()
    assert quoted(output(command), wanted) == quote


def test_every_question_has_an_answer() -> None:
    parts = re.split(r"(?m)^### (\d+)\. ", TEXT)
    answered = {int(number): body for number, body in zip(parts[1::2], parts[2::2], strict=True)}
    assert tuple(answered) == ASKED
    assert all(BLOCK.search(body) for body in answered.values())
    assert TEXT.count("$ sordino") == len(BLOCKS), "a command stands outside a checked block"


def test_a_quote_that_is_not_printed_is_noticed() -> None:
    assert quoted("a\nb 1\nc\n\nd\n", "b +1; d") == "b 1\nc\n[…]\nd\n"
    with pytest.raises(LookupError, match="'e' after line 0"):
        quoted("a\nb\n", "e")
