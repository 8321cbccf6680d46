"""Standing in a clear space, passing an opening, being lifted, bridging leaves."""

from __future__ import annotations

import pytest

from sordino.assess.bridges import joints
from sordino.assess.fit import Shape, fit_of, fits
from sordino.assess.lifting import lifted
from sordino.assess.passing import goes_through, passages
from sordino.assess.weight import weights
from sordino.plan.opening import Opening
from sordino.plan.stand import Clear, Stand
from structures import asked, assessed, booth, missed

BAY = Clear.model_construct(length=3.0, width=0.40, height=0.30, profile=None)
ROOF = Clear.model_construct(length=3.0, width=None, height=None, profile=((0.0, 0.0), (2.0, 0.0), (0.0, 1.0)))


def stand(**said: object) -> Stand:
    return Stand.model_validate({"clearance": "10 mm", **said})


def test_a_box_in_a_bay_to_the_millimetre() -> None:
    """400 x 300 mm with 10 mm all round leaves 380 x 280 mm."""
    fit = fit_of("box", Shape(length=1.2, width=0.38, height=0.25), stand(), BAY)
    assert fit.fits
    assert fit.may == pytest.approx({"length": 2.98, "width": 0.38, "height": 0.28}, abs=1e-5)
    assert fit.tightest == "width"
    tight = fit_of("box", Shape(length=1.2, width=0.42, height=0.25), stand(), BAY)
    assert not tight.fits
    assert tight.tightest == "width"
    assert tight.has["width"] - tight.may["width"] == pytest.approx(0.04, abs=1e-5)
    assert tight.may["height"] == 0.0


def test_turned_on_its_side_it_fits() -> None:
    tall = Shape(length=1.2, width=0.25, height=0.37)
    assert not fit_of("box", tall, stand(), BAY).fits
    assert fit_of("box", tall, stand(on_side=True), BAY).fits
    assert not fit_of("box", tall, stand(lengthwise="across"), BAY).fits
    upright = Shape(length=0.27, width=0.37, height=1.0)
    assert fit_of("box", upright, stand(lengthwise="up"), BAY).fits


def test_a_cut_corner_goes_under_the_roof_where_a_square_one_does_not() -> None:
    """Across the eaves: roof falls 1 in 2; a box 1.2 m long and 0.6 m high with its low corner cut 0.8 by 0.4 m."""
    square, cut = Shape(length=1.2, width=0.5, height=0.6), Shape(length=1.2, width=0.5, height=0.6, right=(0.8, 0.4))
    across = stand(lengthwise="across", clearance="0 mm")
    assert not fit_of("box", square, across, ROOF).fits
    assert fit_of("box", cut, across, ROOF).fits


def test_clearances_of_single_sides_and_a_wrap_count() -> None:
    shape = Shape(length=1.0, width=0.2, height=0.2)
    fit = fit_of("box", shape, stand(wrap="25 mm", clearances={"above": "50 mm", "below": "0 mm"}), BAY)
    assert fit.may["height"] == pytest.approx(0.30 - 0.05 - 2 * 0.025, abs=1e-5)
    assert fit.may["width"] == pytest.approx(0.40 - 2 * 0.010 - 2 * 0.025, abs=1e-5)


def test_the_casing_counts() -> None:
    (fit,) = fits(booth())
    assert fit.has == pytest.approx({"length": 1.272, "width": 0.522, "height": 0.472})


HATCH = Opening.model_construct(kind="hatch", name=None, width=0.62, height=0.55, turn=None)
DOOR = Opening.model_construct(kind="door", name=None, width=0.80, height=2.0, turn=1.0)


def test_the_whole_and_its_boards_through_a_hatch() -> None:
    assert goes_through((1.3, 0.60, 0.50), HATCH)
    assert not goes_through((1.3, 0.63, 0.50), HATCH)
    assert goes_through((1.3, 0.80, 0.018), HATCH), "a board turns in the opening"
    assert not goes_through((1.3, 0.85, 0.018), HATCH)


def test_round_the_corner_behind_a_door() -> None:
    """From 0.8 into 1.0 m: a stick of nothing turns up to (0.8^2/3 + 1)^(3/2) = 2.54 m, a thick one less."""
    assert goes_through((2.5, 0.5, 0.0), DOOR)
    assert not goes_through((2.6, 2.1, 0.0), DOOR)
    assert goes_through((1.5, 1.0, 0.3), DOOR)
    assert not goes_through((1.5, 1.45, 0.6), DOOR)


def test_a_box_too_large_whole_goes_in_as_boards() -> None:
    small = ('width = "0.62 m"\nheight = "0.55 m"', 'width = "0.50 m"\nheight = "0.40 m"')
    whole = booth(small, ('way = ["hatch"]', 'way = ["hatch"]\nbrought = "whole"'))
    (way,) = passages(whole, weights(whole))
    assert not way.passes
    assert way.what == "the whole"
    boards = booth(small)
    (way,) = passages(boards, weights(boards))
    assert way.passes


def test_lifting_whole_or_in_lengths() -> None:
    whole = booth(('way = ["hatch"]', 'way = ["hatch"]\nbrought = "whole"'))
    halves = booth(('way = ["hatch"]', 'way = ["hatch"]\nbrought = "whole"\nlengths = 2'))
    (one,), (two,) = (lifted(plan, weights(plan)) for plan in (whole, halves))
    assert one.mass == pytest.approx(2.0 * two.mass)
    assert one.persons == 0, "no four people may lift it overhead"
    assert one.modules == 5
    assert "hoist" in missed(assessed(('way = ["hatch"]', 'way = ["hatch"]\nbrought = "whole"')), "lifting")[0]


def test_overhead_is_where_the_equation_ends() -> None:
    high = missed(assessed(("lift = { persons = 2 }", 'lift = { persons = 3, to = "2.0 m" }')), "lifting")
    assert "above where the lifting equation ends" in high[0]
    hoisted = assessed(("lift = { persons = 2 }", 'lift = { hoist = true, to = "2.0 m" }'))
    assert not missed(hoisted, "lifting")


def test_two_stiff_leaves_are_a_bridge() -> None:
    stiff = ('by = "gasket"', 'by = "screws"')
    assert not missed(assessed(stiff), "bridge"), "its hangers are isolated"
    bridged = assessed(stiff, (', deflection = "10 mm"', ""))
    assert "joins leaves 1 and 2 stiffly" in missed(bridged, "bridge")[0]
    assert not missed(assessed(), "bridge")
    assert [each.rigid for each in joints(booth())] == [False, False]
    (told,) = asked(assessed(), "bridge")
    assert "leaf 1 (11.2 kg/m2) by gasket" in told.sentence
