"""`sordino search` from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from boxed import plan_text
from sordino.cli.main import main

RUN = CliRunner()


@pytest.fixture
def project(tmp_path: Path) -> str:
    path = tmp_path / "box.toml"
    path.write_text(plan_text("labyrinth"), "utf-8")
    return str(path)


def run(*arguments: str) -> tuple[int, str]:
    found = RUN.invoke(main, ["search", *arguments])
    return found.exit_code, found.output


def test_a_box_that_does_is_named_with_what_to_paste(project: str) -> None:
    code, told = run(project, "labyrinth", "--loss", "250=5,500=10")
    assert code == 0
    assert "Yes: " in told
    assert "[variant.searched.box.labyrinth]" in told


def test_a_nearest_miss_ends_with_status_one(project: str) -> None:
    code, told = run(project, "labyrinth", "--loss", "63=60")
    assert code == 1
    assert "The nearest is" in told
    assert "at 63 Hz" in told


def test_what_is_pasted_can_be_assessed(project: str) -> None:
    """The overlay that is printed makes a variant with the losses that were promised."""
    _, told = run(project, "labyrinth", "--loss", "250=5,500=10")
    block = told[told.index("[variant.searched") :].partition("\n\n")[0]
    path = Path(project)
    path.write_text(path.read_text("utf-8") + "\n" + block + "\n", "utf-8")
    found = RUN.invoke(main, ["box", project, "labyrinth", "--variant", "searched", "--quick", "--json"])
    assert found.exit_code == 0, found.output
    counted = json.loads(found.stdout)["counted_db"]
    assert counted[3] > 4.0
    assert counted[4] > 9.0


def test_as_values_for_machines(project: str) -> None:
    code, told = run(project, "labyrinth", "--loss", "250=5", "--pressure", "40 Pa", "--json")
    found = json.loads(told)
    assert code == 0
    assert found["most_pressure_pa"] == 40.0
    assert all(design["pressure_pa"] <= 40.0 for design in found["designs"] if design["meets"])


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--loss", "100=20"), "Octaves: 31.5, 63"),
        (("--loss", "125=lots"), "125=20"),
        (("--loss", "125=400"), "1 to 90 dB"),
        (("--loss", "125=20", "--pressure", "8 mm"), "--pressure"),
    ],
)
def test_what_can_not_be_asked_is_told(project: str, options: tuple[str, ...], told: str) -> None:
    code, output = run(project, "labyrinth", *options)
    assert code == 2
    assert told in output
