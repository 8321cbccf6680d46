"""Sound fields of a plan's boxes: solved once, kept by what they depend on."""

from __future__ import annotations

from pathlib import Path

import pytest

from boxed import boxed
from sordino.assess import boxes
from sordino.assess.box_answer import indoor_air, standing
from sordino.cache import SETTING
from sordino.elements.box_field import box_field


@pytest.fixture
def solving(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The boxes that are solved from here on, with an empty store and nothing in memory."""
    monkeypatch.setenv(SETTING, str(tmp_path))
    monkeypatch.setattr(boxes, "_memory", {})
    done: list[str] = []

    def counted(box, *rest, **more):  # type: ignore[no-untyped-def]
        done.append(box.family)
        return box_field(box, *rest, **more)

    monkeypatch.setattr("sordino.assess.boxes.box_field", counted)
    return done


def test_a_box_is_solved_once(solving: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Twice in one process, and again from the store by a process that has nothing in memory."""
    plan = boxed("straight")
    for _ in range(2):
        assert not boxes.unsolved(boxes.with_fields(plan, indoor_air(plan)))
    monkeypatch.setattr(boxes, "_memory", {})
    boxes.with_fields(plan, indoor_air(plan))
    assert solving == ["straight"]


@pytest.mark.parametrize(
    ("changed", "again"),
    [({"lining": '"60 mm"'}, 2), ({"shell": '[{ board = "MDF", thickness = "18 mm" }]'}, 1)],
    ids=["lining", "casing"],
)
def test_it_is_solved_again_if_its_field_changes(solving: list[str], changed: dict[str, str], again: int) -> None:
    """Fibre changes the field; what the casing is made of does not."""
    for plan in (boxed("straight"), boxed("straight", **changed)):
        boxes.with_fields(plan, indoor_air(plan))
    assert len(solving) == again


def test_what_is_kept_is_what_was_solved(solving: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    plan = boxed("straight")
    built, air = standing(plan, "straight").built, indoor_air(plan)
    first = boxes.field_of(built.build, built.section, air)
    monkeypatch.setattr(boxes, "_memory", {})
    second = boxes.field_of(built.build, built.section, air)
    assert (first.losses == second.losses).all()
    assert (first.pole == second.pole).all()
    assert first.faces.keys() == second.faces.keys()
