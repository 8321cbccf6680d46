"""What a change to a box does, against layouts and fields worked out by themselves."""

from __future__ import annotations

import numpy as np
import pytest

from boxed import boxed
from sordino.assess.box_answer import indoor_air, standing
from sordino.elements.box_layout import Clash, layout
from sordino.elements.built_box import BuiltBox
from sordino.search.box_changes import (
    box_changes,
    corners,
    one_more_pass,
    one_more_pass_on_top,
    with_density,
    without_dividers,
)
from sordino.search.box_compared import BoxChange

FLOW = 0.02


def changes_of(name: str, **changed: str) -> dict[str, BoxChange]:
    plan = boxed(name, **changed)
    return {each.words: each for each in box_changes(standing(plan, name).built, indoor_air(plan), FLOW)}


@pytest.fixture(scope="module")
def labyrinth() -> dict[str, BoxChange]:
    return changes_of("labyrinth")


def built(name: str) -> BuiltBox:
    return standing(boxed(name), name).built


def test_every_change_has_figures_or_a_reason(labyrinth: dict[str, BoxChange]) -> None:
    for change in labyrinth.values():
        assert (change.counted is None) == bool(change.clash), change.words
        if change.counted is not None:
            assert np.all(np.isfinite(change.counted))
    assert {"no divider", "a quarter longer", "half as dense a fibre"} <= {*labyrinth}


def test_a_lining_that_closes_the_passage_says_so(labyrinth: dict[str, BoxChange]) -> None:
    assert "leaves a passage of" in labyrinth["lining of 100 mm, same outer size"].clash


def test_passes_too_low_for_the_duct_say_what_would_do() -> None:
    tight = built("labyrinth")
    low = tight.build.model_copy(update={"height": 0.36})
    with pytest.raises(Clash, match=r"passes of 108 mm are lower than .* make the inside height at least 411 mm"):
        one_more_pass(low, layout(low, tight.section))
    assert layout(low.model_copy(update={"height": 0.411, "passes": 3}), tight.section)


def test_a_pass_on_top_keeps_the_height_of_each(labyrinth: dict[str, BoxChange]) -> None:
    old = built("labyrinth")
    more = one_more_pass_on_top(old.build, old.layout)
    assert more.pass_height == pytest.approx(old.build.pass_height)
    assert more.height == pytest.approx(0.42 + 0.201 + 0.018)
    change = labyrinth["one more pass, same pass height"]
    assert change.outside == pytest.approx((0.0, 0.0, 0.219))
    assert change.path == pytest.approx(0.6)
    assert change.mass > 1.0
    assert change.pressure > 0.0


def test_longer_weighs_more_and_loses_more_air(labyrinth: dict[str, BoxChange]) -> None:
    change = labyrinth["a quarter longer"]
    assert change.outside == pytest.approx((0.15, 0.0, 0.0))
    assert change.path == pytest.approx(0.3)
    assert change.mass > 0.0
    assert change.pressure > 0.0
    assert change.counted is not None
    assert change.counted[4] > 0.5


def test_the_lower_frame_is_the_headline(labyrinth: dict[str, BoxChange]) -> None:
    """Neither frame alone can take less than the lower of both."""
    for words in ("frame of the fibre held still", "frame of the fibre free to move"):
        change = labyrinth[words]
        assert change.frame
        assert change.loss is not None
        assert np.all(change.loss >= -1e-9)
        assert (change.mass, change.pressure, change.path) == (0.0, 0.0, 0.0)


def test_fibre_round_a_duct_is_not_lining() -> None:
    found = changes_of("serpentine")
    assert "fibre already fills" in found["lining 25 mm thicker, same outer size"].clash
    assert "too tight" in found["one more pass, same outer size"].clash
    assert found["no divider"].pressure == pytest.approx(0.0, abs=1e-9)
    assert found["no divider"].mass < 0.0


def test_a_duct_keeps_its_way_without_dividers() -> None:
    old = built("serpentine")
    bare = layout(without_dividers(old.build, old.layout), old.section)
    assert bare.prism.dividers == ()
    assert bare.prism.tube is not None
    assert old.layout.prism.tube is not None
    assert np.array(bare.prism.tube.centreline) == pytest.approx(np.array(old.layout.prism.tube.centreline), abs=1e-6)
    assert bare.turns == old.layout.turns
    assert bare.length == pytest.approx(old.layout.length)
    assert len(corners(old.build, old.layout)) == 4


@pytest.mark.parametrize("name", ["labyrinth", "shallow", "roof"])
def test_an_open_box_keeps_its_mouths_without_dividers(name: str) -> None:
    old = built(name)
    bare = layout(without_dividers(old.build, old.layout), old.section)
    assert bare.prism.dividers == ()
    assert bare.prism.ports == old.layout.prism.ports
    assert (bare.prism.length, bare.prism.width) == (old.layout.prism.length, old.layout.prism.width)


def test_a_chamber_gets_its_second_pass_as_a_labyrinth() -> None:
    old = built("straight")
    more = one_more_pass_on_top(old.build, old.layout)
    assert (more.family, more.passes) == ("labyrinth", 2)
    assert more.pass_height == pytest.approx(0.25)


def test_density_moves_a_stated_resistivity_with_it() -> None:
    """sigma ~ density^1.5; of a density alone, Bies and Hansen's 1.53."""
    stated = standing(
        boxed(fill='{ density = "20 kg/m3", flow_resistivity = "8000 Pa.s/m2" }'), "labyrinth"
    ).built.build
    assert with_density(stated, 2.0).fill.resistivity == pytest.approx(8000.0 * 2.0**1.5)
    plain = built("labyrinth").build
    assert with_density(plain, 0.5).fill.resistivity == pytest.approx(plain.fill.resistivity * 0.5**1.53)
