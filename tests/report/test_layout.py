"""Plain text stays inside its hundred columns, with whole decibels and dashes for what is not known."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sordino.report import layout

WORDS = st.lists(st.text(st.characters(categories=["L", "N", "P"]), min_size=1, max_size=30), max_size=40).map(" ".join)


@given(text=WORDS, indent=st.integers(0, 20))
def test_paragraphs_fit_and_lose_no_word(text: str, indent: int) -> None:
    lines = layout.hanging("", text, indent) if indent else layout.paragraph(text)
    assert all(len(line) <= layout.WIDTH for line in lines)
    assert " ".join(lines).split() == text.split()


@given(label=WORDS, values=st.lists(st.floats(-98, 199), min_size=9, max_size=9))
def test_band_rows_fit_and_keep_their_columns(label: str, values: list[float]) -> None:
    *_, last = layout.band_row(label, values)
    assert len(last) == layout.WIDTH
    figures = [last[layout.LABEL + 5 * i : layout.LABEL + 5 * i + 5] for i in range(9)]
    assert [int(figure) for figure in figures] == [round(value) for value in values]


def test_a_long_label_goes_on_indented_above_its_figures() -> None:
    first, second = layout.band_row("    noise of " + "x" * 20 + " through " + "y" * 25, np.zeros(9))
    assert first.startswith("    noise of")
    assert second.startswith("      y")


def test_levels_have_no_decimals_and_unknown_ones_a_dash() -> None:
    assert layout.whole(23.6) == "24"
    assert layout.whole(-0.4) == "0"
    assert layout.whole(3.2, signed=True) == "+3"
    assert layout.whole(-200.0) == "<-99"
    assert layout.whole(math.nan) == "–"


def test_no_line_breaks_between_a_number_and_its_unit() -> None:
    for before in range(80, 100):
        lines = layout.paragraph("x" * before + " 250 Hz and NC 20")
        assert not any(line.endswith(("250", "NC")) for line in lines)


def test_tables_shrink_their_first_column_to_fit() -> None:
    lines = layout.grid(["what", "a", "b"], [["word " * 20, "1" * 30, "2" * 30]])
    assert all(len(line) <= layout.WIDTH for line in lines)
    assert lines[-1].endswith("1" * 30 + "  " + "2" * 30)
