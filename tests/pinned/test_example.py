"""Our own figures for the example, kept to see when they change; they say nothing about truth.

A change here is no fault by itself: say in the change log which figures moved, by how much and why, then run this file.
"""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import pytest

from sordino.assess.assessment import assess
from sordino.plan.project import read

KEPT = Path(__file__).with_name("example.json")


def figures() -> dict[str, float]:
    """Ratings by place and mode, and flows by run in L/s."""
    found = assess(read(str(files("sordino").joinpath("examples", "mill-loft.toml"))))
    rated = {f"{place}, {mode}, {heard.scale}": heard.rating.value for (place, mode), heard in found.noise.items()}
    state = found.states["boost", "clean"]
    return rated | {f"{run}, boost, L/s": 1e3 * flow for run, flow in state.flows.items()}


def test_the_examples_figures_stand_where_they_stood() -> None:
    """Within a tenth of a rating point and one part in a thousand of a flow."""
    kept = json.loads(KEPT.read_text("utf-8"))
    now = figures()
    assert now.keys() == kept.keys()
    for name, value in now.items():
        assert value == pytest.approx(kept[name], rel=1e-3, abs=0.1), name


if __name__ == "__main__":
    KEPT.write_text(json.dumps({name: round(value, 4) for name, value in figures().items()}, indent=1) + "\n", "utf-8")
