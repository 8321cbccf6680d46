"""`sordino box` as a person runs it."""

from __future__ import annotations

import json
import time
from functools import partial
from pathlib import Path
from xml.etree import ElementTree

import pytest

import running
from boxed import plan_text

run = partial(running.run, "box")


def test_the_answer_comes_first(project: Path) -> None:
    result = run(project, "labyrinth", "--quick")
    assert result.exit_code == 0
    assert "\nBox labyrinth takes " in result.stdout
    assert result.stdout.index("The weakest band is") < result.stdout.index("Loss in octaves")


def test_a_known_box_takes_a_moment(project: Path) -> None:
    run(project, "labyrinth", "--quick")
    start = time.perf_counter()
    run(project, "labyrinth", "--quick")
    assert time.perf_counter() - start < 1.0


def test_a_variant_is_another_box(project: Path) -> None:
    plain, long = (
        json.loads(run(project, "labyrinth", "--quick", "--json", *more).stdout) for more in ((), ("--variant", "long"))
    )
    assert (plain["variant"], long["variant"]) == (None, "long")
    assert long["inside_m"]["length"] == 0.9
    assert long["counted_db"][4] > plain["counted_db"][4]
    assert plain["changes"] is None


def test_a_finer_grid_has_more_unknowns(project: Path) -> None:
    plain, fine = (
        json.loads(run(project, "labyrinth", "--quick", "--json", *more).stdout)["validity"]
        for more in ((), ("--fine",))
    )
    assert fine["unknowns"] > 2 * plain["unknowns"]


@pytest.mark.parametrize("name", ["field.svg", "field.png"])
def test_a_picture_is_written(project: Path, tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    result = run(project, "labyrinth", "--quick", "--picture", path, "--at", "80,160")
    assert result.exit_code == 0
    assert f"The picture is in {path}." in result.stdout
    if name.endswith("svg"):
        text = " ".join(ElementTree.parse(path).getroot().itertext())
        assert "80 Hz: takes" in text
        assert "160 Hz: takes" in text
    else:
        assert path.read_bytes().startswith(b"\x89PNG\r\n")


def test_json_stays_json_beside_a_picture(project: Path, tmp_path: Path) -> None:
    result = run(project, "labyrinth", "--quick", "--json", "--picture", tmp_path / "field.svg", "--at", "80")
    assert json.loads(result.stdout)["box"] == "labyrinth"


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("labyrint",), "there is no box 'labyrint'. Did you mean labyrinth? There are: labyrinth."),
        (("labyrinth", "--variant", "none"), "there is no box 'labyrinth'. The file states none."),
        (("labyrinth", "--mode", "nomal"), "there is no mode 'nomal'. Did you mean normal?"),
        (("labyrinth", "--picture", "x.jpg"), "a picture is a .svg or a .png file, not 'x.jpg'."),
        (("labyrinth", "--at", "63,5000"), "5000 Hz can't be drawn: this box's field reaches from 20 to"),
        (("labyrinth", "--at", "low"), "--at wants frequencies in Hz, as 63,125,250; 'low' is none."),
        (("labyrinth", "--at", "nan"), "nan Hz can't be drawn"),
        (("labyrinth", "--at", "50,60,70,80,90,100,110"), "--at takes at most 6 frequencies; these are 7."),
    ],
)
def test_what_can_not_be_done_is_said_in_a_line(project: Path, words: tuple[str, ...], message: str) -> None:
    result = run(project, *words, "--quick")
    assert result.exit_code == 2
    assert message in result.stderr
    assert result.stdout == ""


def test_a_box_that_does_not_fit_is_refused_with_its_cure(tmp_path: Path) -> None:
    path = tmp_path / "tight.toml"
    path.write_text(plan_text().replace('lining = "25 mm"', 'lining = "100 mm"'), encoding="utf-8")
    result = run(path, "labyrinth")
    assert result.exit_code == 2
    assert "leaves a passage of" in result.stderr
    assert "ake the inside height at least" in result.stderr


def test_a_box_in_no_run_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "idle.toml"
    spare = '[box.spare]\nfamily = "straight"\nlength = "1 m"\nwidth = "0.3 m"\nheight = "0.3 m"\npasses = 1\n'
    path.write_text(f"{plan_text()}\n{spare}", encoding="utf-8")
    result = run(path, "spare")
    assert result.exit_code == 2
    assert "the box 'spare' stands in no run" in result.stderr
