"""Which face closes last."""

from __future__ import annotations

import pytest

from boxed import BOXES, boxed
from built import built
from small import FAN, ROOMS, written
from sordino.build.closing import closing
from sordino.build.kit import kits
from sordino.build.steps import steps
from sordino.elements.box_clash import Clash
from sordino.plan.statement import Plan


def test_it_is_one_without_a_duct() -> None:
    assert built("labyrinth").closing.face == "front"
    assert built("sideways").closing.face == "back"


@pytest.mark.parametrize(
    ("name", "face", "why"),
    [
        ("labyrinth", "ceiling", "behind the dividers"),
        ("roof", "left slope", "has no left slope"),
    ],
)
def test_a_face_that_cannot_close_it_is_refused(name: str, face: str, why: str) -> None:
    (kit,) = kits(boxed(name))
    with pytest.raises(Clash, match=why):
        closing(kit.made.prism, face)  # type: ignore[arg-type]


def test_a_face_at_a_slant_cannot_be_put_in_last() -> None:
    (kit,) = kits(boxed("roof", dividers="[]"))
    with pytest.raises(Clash, match="at a slant"):
        closing(kit.made.prism, "ceiling")
    assert closing(kit.made.prism, "floor").face == "floor"


def test_the_side_that_is_asked_for_closes_it_and_goes_on_last() -> None:
    (kit,) = kits(reached("straight", "ceiling"))
    assert kit.closing.face == "ceiling"
    assert kit.order[-1].piece.label == kit.lid[-1].label
    assert "can be reached" in kit.closing.why


def reached(name: str, face: str) -> Plan:
    """A plan whose box can be reached from that face."""
    plan = boxed(name)
    building = plan.build.model_copy(update={"access": {name: face}})
    return plan.model_copy(update={"build": building})


def test_a_filter_next_to_the_box_makes_its_lid_come_off() -> None:
    parts = '[{ is = "filter", depth = "50 mm", merv = 11 }, { is = "lined box", box = "labyrinth" }]'
    run = f'\n[run.way]\nfrom = "fan.outlet"\nto = "there"\nin = "loft"\nsize = "125 mm"\nparts = {parts}\n'
    plan = written(f"{ROOMS}{FAN}{run}\n[box.labyrinth]\n{BOXES['labyrinth']}")
    (kit,) = kits(plan)
    assert kit.closing.removable
    assert kit.closing.serves == ("filter",)
    (last,) = [step for step in steps(kit, "metric") if step.stage == "closing"]
    assert "gasket of 6 mm" in last.work[0]
    assert "no sealant" in last.work[0]
    assert not built("labyrinth").closing.removable
