"""Line numbers of keys, against the values that the standard reader finds at the same paths."""

from __future__ import annotations

import time
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sordino.plan.lines import Path, line_map

TEXT = '''\
# a comment with "quotes" [and] brackets
title = "x" # y
a.b.c = 1
[site]
"we ird".'q' = """
x "" y \\""" """
z = 3
[[run.x.part]]
is = "b"
[run.x.part.sub]
k = {a = 1, b = [1,
 2, {c="}"}]}
[[run.x.part]]
arr = [
  {is="a", "l"='m'}, # c ]
  {is="b"},
]
m = \'\'\'
q\'\' \'\'\'\'\'
d = 1979-05-27 07:32:00
'''


def paths(value: Any, at: Path = ()) -> set[Path]:
    """Every path into a read value."""
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return {path for key, inner in steps for path in ({(*at, key)} | paths(inner, (*at, key)))}


def test_every_part_has_its_own_line() -> None:
    lines = line_map(TEXT)
    assert lines["a", "b", "c"] == 3
    assert lines["site", "we ird", "q"] == 5
    assert lines["site", "z"] == 7
    assert lines["run", "x", "part", 0] == 8
    assert lines["run", "x", "part", 0, "sub"] == 10
    assert lines["run", "x", "part", 0, "sub", "k", "b", 2, "c"] == 12
    assert lines["run", "x", "part", 1] == 13
    assert lines["run", "x", "part", 1, "arr", 0, "l"] == 15
    assert lines["run", "x", "part", 1, "arr", 1, "is"] == 16
    assert lines["run", "x", "part", 1, "d"] == 20
    assert set(lines) == paths(tomllib.loads(TEXT))


def test_windows_line_ends_count_once() -> None:
    assert line_map(TEXT.replace("\n", "\r\n")) == line_map(TEXT)


@given(st.lists(st.sampled_from([*TEXT.splitlines(keepends=True), "\n", "# '''\n"]), max_size=30))
def test_whatever_the_standard_reader_takes_is_mapped(rows: list[str]) -> None:
    text = "".join(rows)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert set(line_map(text)) == paths(data)


STRINGS = [
    '"a\\"b#"',
    "'a\"#'",
    '"""a\n"b""c\\\\"""',
    "'''a\n'b''c'''",
    '""',
    "''",
    '""""""',
    "''''''",
    '"""a"""""',
]


@pytest.mark.parametrize("string", STRINGS)
def test_strings_hide_what_they_hold(string: str) -> None:
    text = f"a = [{string}, {{ k = {string} }}]\nb = {string}\nc = 1\n"
    lines = line_map(text)
    assert set(lines) == paths(tomllib.loads(text))
    assert lines["c",] == 3 + 3 * string.count("\n")


@pytest.mark.parametrize(
    "text",
    [
        "a = 1 #" + " x" * 200_000,
        "a = [" + "1,\n" * 100_000 + "]",
        'a = """' + '"" \\\\' * 100_000 + '"""',
        "x = 1\n" * 9,
    ],
    ids=["comment", "list", "text", "rows"],
)
def test_the_time_grows_with_the_text_only(text: str) -> None:
    start = time.perf_counter()
    line_map(text)
    assert time.perf_counter() - start < 2.0
