"""Tests stated from a form: from recordings beside the project, or typed levels, to an answer that is counted."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile
from pydantic import TypeAdapter
from starlette.testclient import TestClient

from paged import client, page_of
from sordino.cli.new import EXAMPLE, bundled
from sordino.errors import Refusal
from sordino.measure.kit import pink_noise
from sordino.plan.project import plan_of
from sordino.plan.reading import parsed
from sordino.plan.test import Test
from sordino.web.views.stating import form_of, table_of
from sordino.web.views.testing import asked, kinds

SOUND = ("loud.wav", "open.wav", "plugged.wav")
TABLES: tuple[dict[str, Any], ...] = (
    {"is": "insertion loss", "box": "b", "without": ["a.wav", {"file": "b.wav", "from": "3 s"}], "with": "c.wav"},
    {"is": "insertion loss", "run": "r", "without": "a.wav", "with": "b.wav", "signal": "sweep", "sweep_time": "5 s"},
    {
        "is": "vent",
        "from": "a",
        "to": "b",
        "source": "1.wav",
        "open": "2.wav",
        "plugged": {"file": "3.wav", "gain": "6 dB"},
    },
    {"is": "level difference", "from": "a", "to": "b", "source": {"thirds": [50.0] * 27}, "received": "x.wav"},
    {
        **{"is": "room noise", "room": "a", "mode": "m", "on": [{"octaves": [40.0] * 8}, {"octaves": [41.5] * 9}]},
        **{"calibrator": {"file": "k.wav", "after": "l.wav", "level": "114 dB"}, "self_noise": "18 dBA"},
    },
    {"is": "reverberation", "room": "a", "sweep": ["a.wav", {"file": "s.wav", "channel": "left"}]},
    {
        **{"is": "air flow", "run": "r", "mode": "m", "bag": {"volume": "120 L", "times": ["4.1 s", "4.0 s"]}},
        **{"traverse": {"speeds": ["1.9 m/s", "2.1 m/s"], "size": "200 x 100 mm", "free": 0.7}},
    },
)


@pytest.fixture
def loft(tmp_path: Path) -> TestClient:
    path = tmp_path / "loft.toml"
    path.write_text(bundled(EXAMPLE), encoding="utf-8")
    wave = pink_noise(25.0, 8000.0)
    for name, gain in zip(SOUND, (0.9, 0.1, 0.03), strict=True):
        soundfile.write(tmp_path / name, np.clip(gain * wave, -1.0, 1.0), 8000, subtype="PCM_24")
    return client(path, tmp_path)


def sent(page: TestClient, to: str, **values: str) -> Any:
    form = {"number": str(page_of(page).desk.number), "tab": "one", "back": "/measure", **values}
    return page.post(to, data=form, headers={"hx-request": "true"})


def view(page: TestClient, at: str) -> str:
    return page.get(at, headers={"hx-request": "true"}).text


@pytest.mark.parametrize("table", TABLES, ids=lambda table: str(table["is"]))
def test_a_form_and_the_file_say_the_same(table: dict[str, Any]) -> None:
    """What a stated test fills a form with gives that test again, and it is one that can be read."""
    assert table_of(str(table["is"]), form_of(table)) == table
    TypeAdapter(Test).validate_python(table)


def test_every_kind_asks_for_all_that_it_can_say() -> None:
    plan = plan_of(parsed(bundled(EXAMPLE), EXAMPLE))
    for kind, model in kinds().items():
        found = asked(kind, plan)
        told = {*(each.key.removeprefix("place:") for each in found.things), *(role.key for role in found.roles)}
        told |= {each.key.partition(".")[0] for _, blanks in found.groups for each in blanks}
        wanted = {of.alias or name for name, of in model.model_fields.items()} - {"is"}
        wanted -= {"room noise": {"signal", "sweep_time"}, "reverberation": {"signal"}}.get(kind, set())
        assert told == (wanted - {"box", "run"} | {"thing"} if kind == "insertion loss" else wanted)
        assert all(each.help for _, blanks in found.groups for each in blanks)


@pytest.mark.parametrize(
    ("kind", "form", "words"),
    [
        ("vent", {"place:from": "a", "place:to": "b", "role:1.wav": "source"}, "“open” is missing"),
        ("room noise", {"place:room": "a", "typed:on": "40 41 42"}, "3 levels"),
        ("room noise", {"place:room": "a", "typed:on": "loud 41 42"}, "no number"),
        ("insertion loss", {"role:1.wav": "with", "role:2.wav": "without"}, "what was measured"),
        ("air flow", {"place:run": "r", "bag.times": "soon"}, "no list of figures"),
        ("telepathy", {}, "no such test"),
    ],
)
def test_what_is_missing_is_said_in_words(kind: str, form: dict[str, str], words: str) -> None:
    with pytest.raises(Refusal, match=words):
        table_of(kind, form)


def test_recordings_become_an_answer_without_toml(loft: TestClient) -> None:
    """Refused while a reading is missing, with all that was chosen kept; then stated, read, changed and removed."""
    desk = page_of(loft).desk
    roles = dict(zip((f"role:{name}" for name in SOUND), ("source", "open", "plugged"), strict=True))
    form = {"kind": "vent", "name": "My vent", "place:from": "practice", "place:to": "reading"} | roles
    asks = view(loft, "/measure?kind=vent")
    assert "bags of sand" in asks
    assert all(name in asks for name in SOUND)
    refused = sent(loft, "/test/state", **(form | {"role:plugged.wav": ""}))
    assert refused.status_code == 422
    assert "“plugged” is missing" in refused.text
    assert '<option value="open" selected>' in refused.text
    done = sent(loft, "/test/state", **form)
    assert done.headers["HX-Replace-Url"] == "/measure?test=my-vent"
    stated = {"is": "vent", "from": "practice", "to": "reading", "source": "loud.wav", "open": "open.wav"}
    assert tomllib.loads(desk.text)["test"]["my-vent"] == stated | {"plugged": "plugged.wav"}
    assert desk.text.startswith(bundled(EXAMPLE).rstrip())
    assert "Most of the sound comes by the vent" in loft.get("/part/test/my-vent").text
    assert 'name="was" value="my-vent"' in view(loft, "/measure?edit=my-vent")
    again = form | {
        "was": "my-vent",
        "name": "my vent",
        "role:plugged.wav": "",
        "typed:plugged": "30 30 30 30 30 30 30 30",
    }
    assert sent(loft, "/test/state", **again).status_code == 200
    assert tomllib.loads(desk.text)["test"]["my-vent"]["plugged"] == {"octaves": [30.0] * 8}
    assert sent(loft, "/test/remove", test="my-vent").status_code == 200
    assert desk.text.rstrip() == bundled(EXAMPLE).rstrip()


def test_a_measured_flow_is_counted_and_undone(loft: TestClient) -> None:
    desk = page_of(loft).desk
    form = {"kind": "air flow", "name": "Größe", "place:run": "cool-reading", "place:mode": "boost"}
    bag = {"bag.volume": "120 L", "bag.times": "2.1 2.0 2.05 s"}
    assert sent(loft, "/test/state", **form).status_code == 422
    assert sent(loft, "/test/state", **(form | bag)).status_code == 200
    stated = desk.text
    assert "Count it in the prediction" in loft.get("/part/test/größe").text
    assert sent(loft, "/test/count", test="größe").status_code == 200
    assert tomllib.loads(desk.text)["run"]["cool-reading"]["measured"] == {"boost": "58.5 L/s"}
    assert sent(loft, "/undo").status_code == 200
    assert desk.text == stated


def test_signals_are_written_into_a_folder_of_their_own(loft: TestClient, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (tmp_path / "signals").symlink_to(elsewhere)
    assert "no such signal" in loft.post("/signals", data={"seconds": "1e9"}).text
    for _ in range(2):
        assert "in the folder signals-2" in loft.post("/signals", data={"seconds": "3"}).text
    assert not list(elsewhere.iterdir())
    assert soundfile.info(tmp_path / "signals-2" / "sweep.wav").duration == pytest.approx(9.0)
    assert "Measuring what you built" in loft.get("/measuring.txt").text
    assert sorted(path.name for path in tmp_path.glob("signals*")) == ["signals", "signals-2"]
