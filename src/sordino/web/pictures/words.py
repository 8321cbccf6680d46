"""Lettering that runs over several lines."""

from __future__ import annotations

from sordino.report.drawing import view
from sordino.web.pictures.marks import LETTER, SMALL, fitted


def wrapped(words: str, room: float, size: float = SMALL, most: int = 0) -> list[str]:
    """Lines that fit in `room` px; past `most` of them the last is cut short."""
    letters = max(int(room / (size * LETTER)), 4)
    lines = [fitted(line, room, size) for line in view.wrapped(words, letters)]
    if most and len(lines) > most:
        lines = [*lines[: most - 1], fitted(f"{lines[most - 1]} …", room, size)]
    return lines
