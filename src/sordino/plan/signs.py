"""Signs in names and texts that can't be seen, or that turn the writing round: they would garble every report."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from typing import Any

from sordino.plan.faults import Complaint
from sordino.plan.lines import Path

BEND = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Marks that set or turn the direction of writing (Unicode Standard Annex 9)."""
ENDS = "\u2028\u2029"
"""Marks that end a line or a paragraph."""


def complaints(data: Any, path: Path = ()) -> Iterator[Complaint]:
    """Every key and text of the data that holds such a sign."""
    if isinstance(data, dict):
        for key, inner in data.items():
            if _unseen(key):
                yield (*path, key), "this name holds a sign that can't be seen", "type the name again"
            else:
                yield from complaints(inner, (*path, key))
    elif isinstance(data, list):
        for place, inner in enumerate(data):
            yield from complaints(inner, (*path, place))
    elif isinstance(data, str) and _unseen(data):
        yield path, "this text holds a sign that can't be seen", "type the text again, on one line"


def _unseen(text: str) -> bool:
    return any(sign in BEND or sign in ENDS or (sign != "\t" and unicodedata.category(sign) == "Cc") for sign in text)
