"""How a box is laid out: what does not fit says why and what would do, in both systems, and the cure cures."""

from __future__ import annotations

import re

import pytest

from sordino.elements.box import Box
from sordino.elements.box_layout import Clash, layout
from sordino.quantities import Size
from sordino.units import System, parse

ROUND, FLAT = Size.circle(0.2), Size.rectangle(0.3, 0.1)
TOO_SMALL: dict[str, tuple[str, dict[str, object]]] = {
    "bends too long": ("length", {"family": "serpentine", "length": "371 mm", "width": "0.4 m", "height": "0.9 m"}),
    "bends too tight": ("height", {"family": "serpentine", "length": "1 m", "width": "0.4 m", "height": "511 mm"}),
    "passage pinched": ("height", {"family": "labyrinth", "length": "1 m", "width": "0.4 m", "height": "227 mm"}),
    "turns closed": ("length", {"family": "labyrinth", "length": "353 mm", "width": "0.4 m", "height": "0.7 m"}),
    "passage of a shallow box": ("width", {"family": "shallow", "length": "1 m", "width": "227 mm", "height": "0.3 m"}),
}


def made(**statement: object) -> Box:
    return Box.model_validate(statement)


def folded(**changed: object) -> Box:
    return made(**({"family": "labyrinth", "length": "1 m", "width": "0.4 m", "height": "0.7 m"} | changed))


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("name", TOO_SMALL)
def test_the_side_that_a_clash_asks_for_does(name: str, system: System) -> None:
    side, statement = TOO_SMALL[name]
    duct = Size.circle(0.1) if "passage" in name else ROUND
    with pytest.raises(Clash) as found:
        layout(made(**statement), duct)
    _, cure = found.value.shown(system)
    wanted = re.search(rf"inside {side} at least ([^,;]+?)(?:, |$)", cure)
    assert wanted is not None, cure
    assert (" mm" in cure or " m" in cure) == (system == "metric"), cure
    before = float(getattr(made(**statement), side))
    asked = parse(wanted[1], "length")
    assert before < asked
    with pytest.raises(Clash):
        layout(made(**statement | {side: f"{1e3 * (asked - 0.003):.4f} mm"}), duct)
    layout(made(**statement | {side: wanted[1]}), duct)


def test_a_clash_is_told_in_the_units_asked_for() -> None:
    with pytest.raises(Clash) as found:
        layout(folded(lining="170 mm"), ROUND)
    assert str(found.value).startswith(
        "lining of 170 mm on both sides leaves a passage of 1 mm; make the inside height"
    )
    assert found.value.shown("inch")[0] == "lining of 6 11/16 in on both sides leaves a passage of 1/16 in"


def test_a_flat_duct_is_turned_only_where_it_fits_only_so() -> None:
    upright, narrow = layout(folded(), FLAT), layout(folded(width="0.2 m"), FLAT)
    assert upright.prism.ports[0].sides == (0.1, 0.3)
    assert narrow.prism.ports[0].sides == (0.3, 0.1)


def test_a_turned_duct_of_a_plenum_lies_against_its_lining() -> None:
    box = made(family="plenum", length="0.6 m", width="0.25 m", height="0.6 m", passes=1, lining="40 mm")
    port = layout(box, FLAT).prism.ports[0]
    assert port.sides == (0.3, 0.1)
    assert port.centre[2] == pytest.approx(0.04 + 0.15)


def test_a_duct_that_fits_neither_way_is_refused() -> None:
    with pytest.raises(Clash, match=r"the inlet of 300 mm is larger than the left of 200 mm"):
        layout(folded(width="0.2 m", height="0.25 m", passes=1), FLAT)


def test_a_round_duct_larger_than_its_face_is_refused() -> None:
    with pytest.raises(Clash, match=r"the inlet of 200 mm is larger than the left of 150 mm"):
        layout(folded(width="0.15 m"), ROUND)
