"""Changes to a project's text leave all else in it as it was."""

from __future__ import annotations

import difflib
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sordino.cli.new import EXAMPLE, STARTER, bundled
from sordino.plan.lines import Path
from sordino.web.project.edit import MISSING, NoPlace, appended, inserted, value_at, with_value, without

TEXT = bundled(EXAMPLE)


def leaves(data: object, at: Path = ()) -> list[Path]:
    """Places of all plain values."""
    if isinstance(data, dict):
        return [leaf for key, inner in data.items() for leaf in leaves(inner, (*at, key))]
    if isinstance(data, list):
        return [leaf for index, inner in enumerate(data) for leaf in leaves(inner, (*at, index))]
    return [at]


LEAVES = [leaf for leaf in leaves(tomllib.loads(TEXT)) if isinstance(value_at(tomllib.loads(TEXT), leaf), str)]


def lines_changed(before: str, after: str) -> list[str]:
    return [line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line[0] in "+-"]


@settings(deadline=None)
@given(place=st.sampled_from(LEAVES), value=st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs"))))
def test_one_value_changes_one_line_and_back(place: Path, value: str) -> None:
    """Any text at any place: it reads back, nothing else moves, and the old value gives the old text."""
    changed = with_value(TEXT, place, value)
    assert value_at(tomllib.loads(changed), place) == value
    assert len(lines_changed(TEXT, changed)) in (0, 2)
    assert with_value(changed, place, value_at(tomllib.loads(TEXT), place)) == TEXT


def test_a_comment_behind_the_value_stays() -> None:
    changed = with_value(TEXT, ("joists", "collars", "dead"), "31 kg/m2")
    assert 'dead = "31 kg/m2" # two layers of plasterboard and wool hang on them already' in changed


def test_a_new_key_stands_with_its_table() -> None:
    """Before the comments that lead over to the next table, not behind them."""
    changed = with_value(bundled(STARTER), ("box", "way-out", "fill"), {"density": "40 kg/m3"})
    rows = changed.splitlines()
    at = rows.index('fill = { density = "40 kg/m3" }')
    assert rows[at - 1].startswith("shell = ")
    assert tomllib.loads(changed)["box"]["way-out"]["fill"] == {"density": "40 kg/m3"}
    assert with_value(bundled(STARTER), ("box", "way-out", "fill", "density"), "40 kg/m3") == changed
    assert without(changed, ("box", "way-out", "fill")) == bundled(STARTER)


def test_a_part_is_put_between_others() -> None:
    part = {"is": "metal duct", "length": "2 m"}
    changed = inserted(TEXT, ("run", "return-practice", "parts", 1), part)
    parts = tomllib.loads(changed)["run"]["return-practice"]["parts"]
    assert parts[1] == part
    assert len(parts) == 4
    assert not any(line.startswith("-") for line in lines_changed(TEXT, changed))


def test_a_table_is_put_at_the_end() -> None:
    changed = appended(TEXT, ("box", "new"), {"family": "straight", "shell": [{"board": "plywood"}]})
    assert changed.startswith(TEXT)
    assert tomllib.loads(changed)["box"]["new"] == {"family": "straight", "shell": [{"board": "plywood"}]}


@pytest.mark.parametrize(
    ("text", "place", "value", "changed"),
    [
        ("a = '1.25 m' # as built\n", ("a",), "1.3 m", "a = '1.3 m' # as built\n"),
        ("a = '1.25 m'\n", ("a",), "6' 2\"", 'a = "6\' 2\\""\n'),
        (
            'a = [ "1 m", "2 m", # up\n  "3 m" ]\n',
            ("a",),
            ["1 m", "9 m", "3 m"],
            'a = [ "1 m", "9 m", # up\n  "3 m" ]\n',
        ),
        ("a = { b = '1 m' } # x\n", ("a", "c"), 2, "a = { b = '1 m', c = 2 } # x\n"),
        ("a = {b = 1}\n[t]\n", ("a", "c"), {"d": 2}, "a = {b = 1, c = {d = 2}}\n[t]\n"),
        ("a = {b = {}}\n", ("a", "b", "c", "d"), 2, "a = {b = {c = {d = 2}}}\n"),
        ("a = [{ b = { c = 1 } }, { b = 2 }]\n", ("a", 0, "b", "d"), 2, "a = [{ b = { c = 1, d = 2 } }, { b = 2 }]\n"),
        ("a = 1\r\n", ("b",), [{"c": 1}, {"c": 2}], "a = 1\r\nb = [\r\n  { c = 1 },\r\n  { c = 2 },\r\n]\r\n"),
    ],
)
def test_what_is_put_in_is_in_the_hand_of_the_rest(text: str, place: Path, value: Any, changed: str) -> None:
    """Its quotes, its spaces, its comments, its line ends."""
    assert with_value(text, place, value) == changed
    assert value_at(tomllib.loads(changed), place) == value


def test_windows_line_ends_stay() -> None:
    text = TEXT.replace("\n", "\r\n")
    assert with_value(text, ("title",), "Mill") == text.replace("Mill loft", "Mill", 1).replace("Mill", "Mill", 1)


@pytest.mark.parametrize(
    "place", [("run", "cool-trunk", "parts", 9, "length"), ("title", "x"), ("run", 3), (7, "x"), ("mode", 0, "x")]
)
def test_a_place_that_is_none_is_refused(place: Path) -> None:
    with pytest.raises(NoPlace):
        with_value(TEXT, place, "1 m")
    assert without(TEXT, place) == TEXT
    assert value_at(tomllib.loads(TEXT), place) is MISSING
