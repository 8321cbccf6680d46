"""Lettering that runs over several lines."""

from __future__ import annotations

import re

from sordino.web.pictures.marks import LETTER, SMALL, fitted

PIECE = re.compile(r"\s*[^\s-]*-*")
"""A word, or the part of it up to a hyphen, with the space before it."""


def wrapped(words: str, room: float, size: float = SMALL, most: int = 0) -> list[str]:
    """Lines that fit in `room` px, broken at spaces and after hyphens; past `most` of them the last is cut short."""
    letters = max(int(room / (size * LETTER)), 4)
    lines = [""]
    for piece in PIECE.findall(words):
        longer = f"{lines[-1]}{piece}"
        if len(longer.strip()) <= letters or not lines[-1].strip():
            lines[-1] = longer
        else:
            lines.append(piece)
    lines = [fitted(line.strip(), room, size) for line in lines]
    if most and len(lines) > most:
        lines = [*lines[: most - 1], fitted(f"{lines[most - 1]} …", room, size)]
    return lines
