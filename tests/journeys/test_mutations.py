"""Five thousand damaged copies of the example: each is assessed or refused with reasons, and in time."""

from __future__ import annotations

import subprocess
import sys
import time
from importlib.resources import files
from pathlib import Path

import pytest

from boxed import BOXES, plan_text
from journeys.mutations import mutated
from sordino.assess.assessment import assess
from sordino.errors import PlanError
from sordino.plan.project import document, plan_of

EXAMPLE = (files("sordino") / "examples" / "mill-loft.toml").read_text(encoding="utf-8")
MUTATIONS, CHUNK = 5_000, 100
ASSESSED_EVERY = 2
"""Every copy is read; of those that can be used every second one is assessed, to keep the time bearable.

Boxes take what handbooks say there, for the same reason; below, projects of one small box have their fields solved.
"""
BOX_MUTATIONS = 60
"""Copies of each project of one small box."""
SLOWEST = 5.0
JARGON = ("Input should", "pydantic", "Traceback", "NoneType", "validat")


def outcome(seed: int, file: Path, text: str = EXAMPLE, fields: bool = False) -> str:
    """`assessed`, `read` or the messages of the refusal; anything else that is raised fails the test."""
    file.write_bytes(mutated(seed, text))
    try:
        plan = plan_of(document(file))
    except PlanError as refusal:
        return str(refusal)
    if seed % ASSESSED_EVERY:
        return "read"
    assert assess(plan, fields).findings
    return "assessed"


@pytest.mark.parametrize("first", range(0, MUTATIONS, CHUNK))
def test_a_damaged_project_is_assessed_or_refused(first: int, tmp_path: Path) -> None:
    for seed in range(first, first + CHUNK):
        start = time.perf_counter()
        said = outcome(seed, tmp_path / "s.toml")
        assert time.perf_counter() - start < SLOWEST, seed
        assert said, seed
        assert not [word for word in JARGON if word in said], (seed, said)


@pytest.mark.parametrize("name", BOXES)
def test_a_damaged_box_is_solved_or_refused(name: str, tmp_path: Path) -> None:
    """Whatever box passes the checks can be solved; some are, of every family."""
    said = []
    for seed in range(0, ASSESSED_EVERY * BOX_MUTATIONS, ASSESSED_EVERY):
        said.append(outcome(seed, tmp_path / "s.toml", plan_text(name), fields=True))
        assert said[-1], seed
        assert not [word for word in JARGON if word in said[-1]], (seed, said[-1])
    assert said.count("assessed") >= 5


def test_damage_is_the_same_every_time_and_of_every_sort(tmp_path: Path) -> None:
    """The seeds make what they made before, and enough copies survive for the assessment to be tried."""
    assert mutated(7, EXAMPLE) == mutated(7, EXAMPLE)
    assert len({mutated(seed, EXAMPLE) for seed in range(200)}) > 190
    usable = [seed for seed in range(1, 200, 2) if outcome(seed, tmp_path / "s.toml") == "read"]
    assert 10 < len(usable) < 60


@pytest.mark.parametrize("seed", range(60_000, 60_012))
def test_the_command_ends_with_a_status_and_no_traceback(seed: int, tmp_path: Path) -> None:
    file = tmp_path / "s.toml"
    file.write_bytes(mutated(seed, EXAMPLE))
    run = subprocess.run(
        [sys.executable, "-c", "from sordino.cli.main import main; main()", "assess", str(file)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    assert run.returncode in (0, 1, 2)
    assert (run.returncode == 2) == (run.stdout == "")
    assert "Traceback" not in run.stderr
    assert "internal error" not in run.stderr
    assert all(line.startswith(str(file)) for line in run.stderr.splitlines())
