"""Seeded damage to a project text: what a slip of the hand, a bad merge or a stray program might do to it."""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random

Damage = Callable[[Random, str], str]

_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_WORD = re.compile(r"[A-Za-z][A-Za-z-]+")
_QUOTED = re.compile(r'"[^"\n]*"')
NUMBERS = (
    "0 -1 1 2 0.5 1e9 1e-9 -0.001 nan inf -inf 1e400 99999999999999999999 0.0001 1000000 3,5 1,000 1_000 0x1F 007 12 40"
).split()
UNITS = "mm cm m in ft cfm L/s m3/h Pa kPa W BTU/h dBA dB deg % K °C kg m2 m3 s Hz furlongs".split()
SCRAPS = (
    "",
    '"',
    "'",
    "[",
    "]",
    "{",
    "}",
    "=",
    ",",
    ".",
    "#",
    "\n",
    "\\",
    "é",
    "\t",
    "[[",
    "]]",
    '"""',
    "false",
    "true",
)
BYTES = ("\x00", "\x07", "\x7f", "\ud800", "\ufeff", "\u202e", "\u00a0", "\r", "\x1b[31m", "🔇", "\u2028")


def mutated(seed: int, text: str) -> bytes:
    """The text with one to three kinds of damage, as a file would hold it."""
    luck = Random(seed)
    for _ in range(luck.choice((1, 1, 1, 2, 3))):
        text = luck.choice(DAMAGES)(luck, text)
    return text.encode("utf-8", "surrogatepass")


def _rows(luck: Random, text: str) -> tuple[list[str], int]:
    rows = text.split("\n")
    return rows, luck.randrange(len(rows))


def without_line(luck: Random, text: str) -> str:
    rows, at = _rows(luck, text)
    return "\n".join(rows[:at] + rows[at + luck.randint(1, 3) :])


def with_line_twice(luck: Random, text: str) -> str:
    rows, at = _rows(luck, text)
    return "\n".join([*rows[:at], rows[at], *rows[at:]])


def with_lines_swapped(luck: Random, text: str) -> str:
    rows, at = _rows(luck, text)
    other = luck.randrange(len(rows))
    rows[at], rows[other] = rows[other], rows[at]
    return "\n".join(rows)


def with_another_number(luck: Random, text: str) -> str:
    return _replaced(luck, text, _NUMBER, lambda old: luck.choice(NUMBERS))


def with_a_number_scaled(luck: Random, text: str) -> str:
    return _replaced(luck, text, _NUMBER, lambda old: f"{float(old) * luck.choice((0.01, 0.1, 0.5, 2, 10, 100)):g}")


def with_another_unit(luck: Random, text: str) -> str:
    return _replaced(luck, text, _QUOTED, lambda old: f'"{(_NUMBER.findall(old) or ["3"])[0]} {luck.choice(UNITS)}"')


def with_another_word(luck: Random, text: str) -> str:
    words = _WORD.findall(text)
    return _replaced(luck, text, _WORD, lambda old: luck.choice(words))


def with_a_slip(luck: Random, text: str) -> str:
    def slip(old: str) -> str:
        at = luck.randrange(len(old))
        return old[:at] + luck.choice((old[at] * 2, "", "x", old[at].swapcase())) + old[at + 1 :]

    return _replaced(luck, text, _WORD, slip)


def with_another_value(luck: Random, text: str) -> str:
    values = _QUOTED.findall(text)
    return _replaced(luck, text, _QUOTED, lambda old: luck.choice(values))


def cut_short(luck: Random, text: str) -> str:
    return text[: luck.randrange(len(text) + 1)]


def with_a_scrap(luck: Random, text: str) -> str:
    at = luck.randrange(len(text) + 1)
    return text[:at] + luck.choice(SCRAPS) + text[at + luck.choice((0, 0, 1, 5, 40)) :]


def with_strange_bytes(luck: Random, text: str) -> str:
    at = luck.randrange(len(text) + 1)
    return text[:at] + luck.choice(BYTES) + text[at:]


def with_tables_shuffled(luck: Random, text: str) -> str:
    tables = re.split(r"(?m)^(?=\[)", text)
    luck.shuffle(tables)
    return "".join(tables)


def without_a_table(luck: Random, text: str) -> str:
    tables = re.split(r"(?m)^(?=\[)", text)
    del tables[luck.randrange(len(tables))]
    return "".join(tables)


def with_a_table_again(luck: Random, text: str) -> str:
    tables = re.split(r"(?m)^(?=\[)", text)
    at = luck.randrange(len(tables))
    heading, _, rest = tables[at].partition("\n")
    tables.insert(at, f"{heading.replace(']', '-2]')}\n{rest}")
    return "".join(tables)


def _replaced(luck: Random, text: str, pattern: re.Pattern[str], new: Callable[[str], str]) -> str:
    found = list(pattern.finditer(text))
    if not found:
        return text
    match = luck.choice(found)
    return text[: match.start()] + new(match[0]) + text[match.end() :]


DAMAGES: tuple[Damage, ...] = (
    without_line,
    with_line_twice,
    with_lines_swapped,
    with_another_number,
    with_another_number,
    with_a_number_scaled,
    with_a_number_scaled,
    with_another_unit,
    with_another_word,
    with_a_slip,
    with_another_value,
    with_another_value,
    cut_short,
    with_a_scrap,
    with_strange_bytes,
    with_tables_shuffled,
    without_a_table,
    with_a_table_again,
)
