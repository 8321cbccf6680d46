"""What is worked out with the help of what was known before is what would be worked out anew."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

import numpy as np
import pytest

from sordino.plan.lines import Path
from sordino.web.project.edit import with_value
from sordino.web.solved.work import Looked, look

MILL = files("sordino.examples").joinpath("mill-loft.toml").read_text("utf-8")
EDITS: dict[str, tuple[Path, Any]] = {
    "a box": (("box", "read-supply", "length"), "1.31 m"),
    "a box's casing alone": (("box", "read-supply", "faces"), {"front": [{"board": "MDF", "thickness": "25 mm"}]}),
    "a duct": (("run", "cool-practice", "size"), "160 mm"),
    "a branch": (("junction", "cool-split", "angle"), "45°"),
    "a room": (("room", "reading", "length"), "3.9 m"),
    "a shell": (("shell", "party", "area"), "9 m2"),
    "the height above the sea": (("site", "altitude"), "900 m"),
    "a speed": (("mode", "boost", "speeds", "cooler"), "80 %"),
}


@pytest.fixture(scope="module")
def before() -> Looked:
    return look(MILL, "mill-loft.toml")


@pytest.mark.parametrize("what", EDITS)
def test_nothing_stale_is_kept(what: str, before: Looked) -> None:
    """Every finding and every level, to the last digit, whatever was changed."""
    text = with_value(MILL, *EDITS[what])
    anew, again = look(text, "mill-loft.toml").found, look(text, "mill-loft.toml", before=before).found
    assert again.findings == anew.findings
    assert [each.route for each in again.acoustics.carriages] == [each.route for each in anew.acoustics.carriages]
    for one, other in zip(again.acoustics.carriages, anew.acoustics.carriages, strict=True):
        np.testing.assert_array_equal(one.total, other.total)


def test_what_is_not_reached_is_not_worked_out_again(before: Looked) -> None:
    text = with_value(MILL, *EDITS["a box"])
    again = look(text, "mill-loft.toml", before=before).found
    pairs = zip(again.acoustics.carriages, before.found.acoustics.carriages, strict=True)
    kept = sum(one is other for one, other in pairs)
    assert len(again.acoustics.carriages) / 3 < kept < len(again.acoustics.carriages)
