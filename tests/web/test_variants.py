"""Variants on the page: kept from what was changed, opened, renamed and removed, the text around them as it was."""

from __future__ import annotations

import copy
import json
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from paged import client, page_of
from sordino.cli.new import EXAMPLE, bundled
from sordino.plan.overlay import overlaid
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.plan.statement import Plan
from sordino.web.project import keeping, passages
from sordino.web.project.hand import hand_of
from sordino.web.project.variant import difference, shared_out, variant_text

EXAMPLES = sorted(path.name for path in files("sordino.examples").iterdir() if path.name.endswith(".toml"))
VARIED = ("party-wall.toml", "song-den.toml", "wide-duct.toml")


@pytest.fixture
def loft(tmp_path: Path) -> TestClient:
    path = tmp_path / "loft.toml"
    path.write_text(bundled(EXAMPLE), encoding="utf-8")
    return client(path, tmp_path)


def plan(text: str, variant: str | None = None) -> Plan:
    """The plan of a text, whatever variants it states."""
    return plan_of(parsed(text, "a.toml"), variant).model_copy(update={"variant": {}})


def sent(page: TestClient, to: str, **values: str) -> Any:
    form = {"number": str(page_of(page).desk.number), "tab": "one", "back": "/compare", **values}
    return page.post(to, data=form, headers={"hx-request": "true"})


def changed(page: TestClient, *place: str | int, value: str) -> None:
    assert sent(page, "/change", path=json.dumps(place), value=value).status_code == 200


def view(page: TestClient, at: str = "/compare") -> str:
    return page.get(at, headers={"hx-request": "true"}).text


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_a_variant_of_an_example_says_is_found_again(name: str) -> None:
    """The variant that is made from an overlaid example and the example gives the same project."""
    text = bundled(name)
    data = tomllib.loads(text)
    for variant, change in data.get("variant", {}).items():
        base = shared_out(data)
        wanted = overlaid(base, shared_out(change)).data
        found = difference(base, wanted)
        assert not found.cannot
        written = passages.with_table(
            text, ("variant", "again"), variant_text("again", base, found.change, hand_of(text)), found.change
        )
        assert written.startswith(text.rstrip())
        assert plan(written, "again") == plan(text, variant)


CHANGES: dict[str, tuple[tuple[tuple[str | int, ...], Any], ...]] = {
    '[variant.other.box.a]\nlength = "2 m"': ((("box", "a", "length"), "2 m"),),
    '[variant.other.run.r.parts.bend]\nradius = "2 m"': ((("run", "r", "parts", 1, "radius"), "2 m"),),
    '[variant.other.run.r.parts.1]\nis = "metal duct"\nlength = "1 m"': (
        (("run", "r", "parts", 0), {"is": "metal duct", "length": "1 m"}),
    ),
    "[variant.other.run.r.parts]\nbend = false": ((("run", "r", "parts"), [{"is": "flexible duct", "length": "1 m"}]),),
    "[variant.other.box]\na = false": ((("box",), {"b": {"length": "1 m"}}),),
    '[variant.other.box.c]\nlength = "3 m"': ((("box", "c"), {"length": "3 m"}),),
    "[variant.other]\nflags = [1]": ((("flags",), [1]),),
}
BASE: dict[str, Any] = {
    "title": "T",
    "flags": [True],
    "box": {"a": {"length": "1 m"}, "b": {"length": "1 m"}},
    "run": {"r": {"size": "1 m", "parts": [{"is": "flexible duct", "length": "1 m"}, {"is": "bend", "name": "bend"}]}},
}


@pytest.mark.parametrize("written", CHANGES)
def test_a_variant_says_only_what_differs(written: str) -> None:
    now = copy.deepcopy(BASE)
    for place, value in CHANGES[written]:
        holder: Any = now
        for step in place[:-1]:
            holder = holder[step]
        holder[place[-1]] = value
    found = difference(BASE, now)
    assert not found.cannot
    assert variant_text("other", shared_out(BASE), found.change, hand_of("")) == written
    assert overlaid(shared_out(BASE), tomllib.loads(written)["variant"]["other"]).data == shared_out(now)


def test_a_value_that_is_left_out_can_not_be_said() -> None:
    now = copy.deepcopy(BASE)
    del now["run"]["r"]["size"]
    assert difference(BASE, now).cannot == (("run", "r", "size"),)
    assert "run r: size" in keeping.why_not(difference(BASE, now))


def test_what_was_changed_is_kept_and_the_project_goes_back(loft: TestClient) -> None:
    """Two variants after one another, the second beside the first; then Undo."""
    desk, text = page_of(loft).desk, bundled(EXAMPLE)
    assert "Nothing has been changed" in view(loft)
    changed(loft, "box", "read-supply", "length", value="1.40 m")
    changed(loft, "run", "cool-trunk", "size", value="200 mm")
    assert "1.25 m</span> → 1.40 m" in view(loft)
    longer = plan(desk.text)
    assert sent(loft, "/variant/keep", since="saved", name="  ").status_code == 422
    assert sent(loft, "/variant/keep", since="saved", name="Longer box").status_code == 200
    said = '\n[variant.longer-box.box.read-supply]\nlength = "1.40 m"\n'
    said += '\n[variant.longer-box.run.cool-trunk]\nsize = "200 mm"\n'
    assert desk.text == text.rstrip("\n") + "\n" + said
    assert plan(desk.text, "longer-box") == longer
    changed(loft, "box", "read-supply", "length", value="1.50 m")
    assert sent(loft, "/variant/keep", since="saved", name="longer-box").status_code == 422
    assert sent(loft, "/variant/keep", since="1", name="longest").status_code == 200
    assert desk.text == text.rstrip("\n") + "\n" + said + '\n[variant.longest.box.read-supply]\nlength = "1.50 m"\n'
    assert 'name="with" value="longest"' in view(loft)
    assert sent(loft, "/undo").status_code == 200
    assert tomllib.loads(desk.text)["box"]["read-supply"]["length"] == "1.50 m"


def test_a_variant_is_worked_with_and_the_project_kept_as_one(loft: TestClient) -> None:
    desk, text = page_of(loft).desk, bundled(EXAMPLE)
    changed(loft, "box", "read-supply", "length", value="1.40 m")
    longer = desk.text
    sent(loft, "/variant/keep", since="saved", name="longer")
    assert sent(loft, "/variant/open", variant="longer").status_code == 200
    assert desk.text == longer.rstrip("\n") + '\n\n[variant.before-longer.box.read-supply]\nlength = "1.25 m"\n'
    assert sent(loft, "/variant/open", variant="before-longer").status_code == 200
    assert plan(desk.text) == plan(text)
    assert sent(loft, "/variant/remove", variant="before-before-longer").status_code == 200
    assert desk.text.rstrip("\n") == text.rstrip("\n")
    assert sent(loft, "/variant/open", variant="gone").status_code == 422


@pytest.mark.parametrize("name", VARIED)
def test_variants_as_people_write_them_can_be_opened_renamed_and_removed(name: str) -> None:
    """The rest of the text stays as it is, comments and all."""
    text = bundled(name)
    for variant in tomllib.loads(text)["variant"]:
        other = passages.renamed_table(text, ("variant", variant), "quite new")
        assert plan(other, "quite new") == plan(text, variant)
        assert len(other.splitlines()) == len(text.splitlines())
        less = passages.without_table(text, ("variant", variant))
        assert variant not in tomllib.loads(less).get("variant", {})
        assert set(less.splitlines()) <= set(text.splitlines())
        opened = keeping.opened(text, variant)
        assert plan(opened) == plan(text, variant)
