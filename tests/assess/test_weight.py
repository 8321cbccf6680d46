"""What a box weighs and where it is centred, against sums by hand."""

from __future__ import annotations

import pytest

from sordino.assess.weight import PLANNING, built, weights
from sordino.elements.box_mass import box_mass
from structures import asked, assessed, booth

PLYWOOD, THICK = 600.0, 0.018


def test_the_pieces_add_up_to_the_box() -> None:
    """The casing by its areas: outside 1.272 x 0.522 over and under, ends between, sides within; two layers."""
    weight = weights(booth())["muffler"]
    duct = 3.14159265 / 4.0 * 0.16**2
    one_layer = 2 * 1.272 * 0.522 + 2 * (0.522 * 0.40 - duct) + 2 * 1.2 * 0.40
    assert weight.of("board") == pytest.approx(2 * one_layer * THICK * PLYWOOD, rel=1e-6)
    part = built(booth(), "muffler")
    assert part is not None
    assert weight.whole == pytest.approx(box_mass(part.build, part.layout).whole, rel=1e-6)
    assert weight.outside == pytest.approx((1.272, 0.522, 0.472))


def test_a_box_alike_on_both_sides_is_centred_in_its_middle() -> None:
    assert weights(booth())["muffler"].centre == pytest.approx((0.636, 0.261, 0.236), abs=1e-6)


def test_a_heavy_end_draws_the_centre_towards_it() -> None:
    """A left end of 36 mm of cement board more: its mass times its arm, over the whole."""
    heavy = ('shell = [{ board = "plywood"', 'faces = { left = [{ board = "cement board", thickness = "36 mm" }] }\n'
             'shell = [{ board = "plywood"')  # fmt: skip
    plain, lopsided = weights(booth())["muffler"], weights(booth(heavy))["muffler"]
    hole = 3.14159265 / 4.0 * 0.16**2
    end, outer = 0.45 * 0.40 - hole, 0.522 * 0.472 - hole  # first layers lie inside the others' ends, second ones cover
    rings = (2.0 * (0.45 + 0.40) + 0.072, 2.0 * (0.486 + 0.436) + 0.072)  # strips of the others, 18 mm longer
    masses = [end * 0.036 * 1150.0, *[ring * 0.018**2 * 600.0 for ring in rings]]
    masses += [-end * 0.018 * 600.0, -outer * 0.018 * 600.0]
    more = sum(masses)
    moment = sum(mass * arm for mass, arm in zip(masses, (0.018, 0.009, 0.009, 0.027, 0.009), strict=True))
    assert lopsided.whole - plain.whole == pytest.approx(more, rel=1e-6)
    by_hand = (plain.whole * 0.636 + moment) / (plain.whole + more)
    assert lopsided.centre[0] == pytest.approx(by_hand, abs=1e-4)
    assert lopsided.centre[1:] == pytest.approx((0.261, 0.236), abs=1e-4)


def test_a_sloped_box_has_its_slope_and_loses_its_corner() -> None:
    slope = ('family = "straight"', 'family = "straight"\nright_slope = { run = "0.5 m", drop = "0.2 m" }')
    plan = booth(slope, ("passes = 1", 'passes = 1\noutlet = { face = "right", along = "0.1 m" }'))
    weight = weights(plan)["muffler"]
    names = {piece.name.partition(" 1:")[0] for piece in weight.pieces}
    assert "right slope" in names
    assert weight.whole < weights(booth())["muffler"].whole
    assert weight.centre[0] < 0.636
    assert weight.centre[2] < 0.236


def test_a_flexible_duct_inside_weighs_by_its_length() -> None:
    folded = (('family = "straight"', 'family = "serpentine"'), ("passes = 1", "passes = 2"),
              ('height = "0.40 m"', 'height = "0.60 m"'), ('lining = "50 mm"\n', ""))  # fmt: skip
    weight = weights(booth(*folded))["muffler"]
    assert 0.5 < weight.of("duct") < 2.5
    assert weight.of("divider") > 1.0


def test_every_answer_about_weight_defers() -> None:
    found = assessed()
    told = [each for question in ("weight", "hanging", "lifting") for each in asked(found, question)]
    assert len(told) >= 5
    for each in told:
        assert PLANNING in each.sentence
        assert "compliant" not in each.sentence
        assert each.value is not None
        assert each.low is not None
        assert each.low < each.value < (each.high or 0.0)
        assert each.method
        assert each.widest
