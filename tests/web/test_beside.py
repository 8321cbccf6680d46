"""What is set side by side: solved apart first, with progress and an end, and then the same as elsewhere."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from boxed import BOXES, plan_text
from paged import client, page_of, until
from sordino.assess import boxes
from sordino.assess.box_answer import standing
from sordino.cache import SETTING
from sordino.elements.box import Box
from sordino.elements.box_layout import Clash, Layout, layout
from sordino.errors import OutOfRange
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.quantities import Size
from sordino.report.phrases import figure
from sordino.search.box_changes import candidates
from sordino.search.box_compared import rebuilt
from sordino.search.comparison import comparison
from sordino.web.project import edit
from sordino.web.project.values import box_values
from sordino.web.solved.ahead import unsolved_changes

VARIANT = '\n[variant.longer.box.labyrinth]\nlength = "0.64 m"\n'
COMPARED = "/part/compare?with=longer"


@pytest.fixture
def way(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[TestClient]:
    """A page with one box; no field of it is known, and the page itself can't solve on the usual grid."""
    monkeypatch.setenv(SETTING, str(tmp_path / "kept"))
    monkeypatch.setattr(boxes, "_memory", {})
    path = tmp_path / "way.toml"
    path.write_text(plan_text() + VARIANT, encoding="utf-8")
    with monkeypatch.context() as patch, client(path, tmp_path) as found:
        patch.setattr(boxes, "box_field", unsolvable)
        yield found


def unsolvable(box: Box, section: Size, *_: object, **__: object) -> None:
    """What lies badly says so; what would be solved here is not."""
    layout(box, section)
    raise AssertionError("the page itself has begun to solve")


def answer(page: TestClient, at: str) -> str:
    """What comes in the end of a piece that is waited for."""
    last = [page.get(at).text]

    def ended() -> bool:
        again = re.search(r'hx-get="([^"]+)"', last[0]) if 'role="progressbar"' in last[0] else None
        if again is not None:
            last[0] = page.get(unescape(again[1])).text
        return again is None

    until(ended, 240.0)
    return last[0]


def test_variants_are_solved_apart_and_then_told(way: TestClient) -> None:
    assert "Working on the sound fields of 2 boxes" in way.get(COMPARED).text
    told = answer(way, COMPARED)
    source = parsed(plan_text() + VARIANT, "way.toml")
    heard = [column.assessment.noise["there", "normal"] for column in comparison(source, ("longer",))]
    for each in heard:
        assert f"{figure(each.scale, each.rating.value)}, " in told
    assert told == way.get(COMPARED).text


def test_what_was_saved_stands_beside_what_is_there_now(way: TestClient) -> None:
    assert "Choose what to set beside" in way.get("/part/compare?saved=1").text
    assert "as it was saved last" not in way.get("/compare", headers={"hx-request": "true"}).text
    form = {"number": str(page_of(way).desk.number), "path": json.dumps(["box", "labyrinth", "length"])}
    assert way.post("/change", data=form | {"value": "0.7 m"}, headers={"hx-request": "true"}).status_code == 200
    assert "as it was saved last" in way.get("/compare", headers={"hx-request": "true"}).text
    told = answer(way, "/part/compare?saved=1")
    assert re.findall(r'<th scope="col">([^<]+)', told) == ["target", "as written", "as saved"]


def test_it_can_be_ended_and_asked_for_again(way: TestClient) -> None:
    assert 'role="progressbar"' in way.get(COMPARED).text
    job = page_of(way).jobs.ahead
    assert job is not None
    assert "Stopped" in way.post(COMPARED, headers={"hx-request": "true"}).text
    until(lambda: job.process.poll() is not None)
    assert "Stopped" in way.get(f"{COMPARED}&going=1").text
    assert 'role="progressbar"' in way.get(COMPARED).text
    assert page_of(way).jobs.ahead is not job


def test_what_is_solved_for_an_older_state_is_left(way: TestClient) -> None:
    assert 'role="progressbar"' in way.get(COMPARED).text
    job = page_of(way).jobs.ahead
    assert job is not None
    page_of(way).desk.change(plan_text(), "changed", "", page_of(way).desk.number)
    assert "Left: the project has changed" in way.get(f"{COMPARED}&going=1").text
    assert job.stand == "cancelled"


def test_the_usual_changes_are_solved_apart(way: TestClient) -> None:
    plan = page_of(way).looked().plan
    assert unsolved_changes(plan, "labyrinth") > 5
    told = answer(way, "/part/changes/labyrinth")
    rows = [unescape(each) for each in re.findall(r'<div class="change"><span>([^<]+)', told)]
    assert sorted(rows) == sorted(words for words, _ in candidates(plan.box["labyrinth"], plan.units))
    gains = [int(each.replace("\N{MINUS SIGN}", "-")) for each in re.findall(r'<td class="weakest">([^<]+)', told)]
    assert len(gains) == len(re.findall("Try it: ", told))
    harms = told.partition("Harms at")[2].partition("Does not fit")[0]
    assert harms
    assert not re.search(r'<td class="weakest">[+0]', harms)
    assert unsolved_changes(plan, "labyrinth") == 0


def sizes(made: Layout) -> list[float]:
    """What there is to measure of a layout: sides, air path, its narrowest place, mouths, boards and fibre."""
    prism = made.prism
    found = [prism.length, prism.width, prism.height, made.length, made.narrowest.size.area]
    found += [value for port in prism.ports for value in port.centre]
    found += [value for each in prism.dividers for value in (each.x0, each.z0, each.x1, each.z1)]
    return [*found, *(value for region in prism.regions for corner in region.polygon for value in corner)]


@pytest.mark.parametrize("name", BOXES)
def test_every_change_that_fits_can_be_written_down(name: str) -> None:
    """The box that is read from the changed file lies as the one that was compared."""
    plan = plan_of(parsed(plan_text(name), "way.toml"))
    built = standing(plan, name).built
    fitting = 0
    for words, change in candidates(built.build, plan.units):
        try:
            box = change(built.build, built.layout)
            wanted = rebuilt(built, box).layout
        except (Clash, OutOfRange):
            continue
        text = edit.with_values(
            plan_text(name), box_values(name, built.build, box, parsed(plan_text(name), name).data, plan.units)
        )
        found = standing(plan_of(parsed(text, "way.toml")), name).built
        assert sizes(found.layout) == pytest.approx(sizes(wanted), rel=2e-3, abs=1e-3), words
        assert found.build.fill == box.fill, words
        fitting += 1
    assert fitting >= 3
