"""Holes for ducts at a slant: they clear the duct in every layer, and are drawn as what they are."""

from __future__ import annotations

from math import cos, radians, tan

import numpy as np
import pytest
from scipy.special import ellipe

from built import built
from sordino.build.kit import Kit
from sordino.build.openings import Opening
from sordino.build.part import Hole
from sordino.build.solid import hull, solid
from sordino.build.step_words import filling
from sordino.elements.box_clash import Clash

DOUBLE = '[{ board = "plywood", thickness = "18 mm" }, { cavity = "30 mm" }, { board = "MDF", thickness = "12 mm" }]'
FLOOR = '{ face = "floor", along = "550 mm", slant = "-25 deg" }'
SLOPE = '{ face = "right slope", along = "180 mm", slant = "20 deg" }'


def kit(outlet: str = SLOPE, **more: str) -> Kit:
    return built(
        "roof", inlet='{ face = "left", along = "125 mm", slant = "35 deg" }', outlet=outlet, shell=DOUBLE, **more
    )


def rod(mouth: Opening, wider: float = 0.0):  # type: ignore[no-untyped-def]
    """The duct itself as a solid, far beyond the casing both ways."""
    assert mouth.diameter is not None
    axis = np.array(mouth.axis)
    side = np.cross(axis, (0.0, 1.0, 0.0) if abs(axis[1]) < 0.5 else (1.0, 0.0, 0.0))
    side /= np.linalg.norm(side)
    turns = np.linspace(0.0, 2.0 * np.pi, 90, endpoint=False)[:, None]
    ring = (mouth.diameter / 2.0 + wider) * (np.cos(turns) * side + np.sin(turns) * np.cross(axis, side))
    return hull([tuple(np.array(mouth.centre) + far * axis + point) for far in (-300.0, 300.0) for point in ring])


@pytest.mark.parametrize("outlet", [SLOPE, FLOOR])
def test_a_leaning_duct_passes_every_layer(outlet: str) -> None:
    """The solid duct and the solid boards and sticks of its face have nothing in common; a wider one is in the way."""
    made = kit(outlet)
    for mouth in made.openings:
        assert mouth.leans
        boards = [part for part in made.panels if part.face == mouth.face]
        assert len(boards) >= 2
        for part in boards:
            assert (solid(part) ^ rod(mouth)).volume() < 1.0
            assert (solid(part) ^ rod(mouth, 12.0)).volume() > 1.0
        for stick in made.sticks:
            if stick.use == "spacer" and mouth.face in stick.joins:
                assert (solid(stick) ^ rod(mouth)).volume() < 1.0


def test_its_hole_is_an_ellipse_that_moves_from_layer_to_layer() -> None:
    """At 35 degrees through 18 mm: (125 + 2 x 2)/cos 35 + 18 tan 35 long; the outer lies 48 + 6 - 9 mm farther out."""
    made = kit()
    inner, outer = (part.holes[0] for part in made.panels if part.face == "left")
    lean = radians(35.0)
    assert inner.axes == pytest.approx((129.0 / cos(lean) + 18.0 * tan(lean), 129.0))
    assert outer.axes == pytest.approx((129.0 / cos(lean) + 12.0 * tan(lean), 129.0))
    spots = []
    for part in (part for part in made.panels if part.face == "left"):
        (hole,) = part.holes
        spots.append(part.pose.at(*hole.centre, part.thickness / 2.0))
    assert spots[0][2] == pytest.approx(125.0 + 9.0 * tan(lean))
    assert spots[1][2] - spots[0][2] == pytest.approx(45.0 * tan(lean))


def test_an_ellipse_is_as_long_round_as_its_integral() -> None:
    """4 a E(1 - b2/a2), complete elliptic integral of the second kind; a circle is pi d."""
    hole = Hole(label="inlet", centre=(0.0, 0.0), axes=(240.0, 125.0))
    assert hole.around == pytest.approx(4.0 * 120.0 * ellipe(1.0 - (62.5 / 120.0) ** 2), rel=1e-4)
    assert hole.area == pytest.approx(np.pi * 120.0 * 62.5)
    assert Hole(label="", centre=(0.0, 0.0), diameter=100.0).around == pytest.approx(100.0 * np.pi)
    assert hole.turned.axes == (125.0, 240.0)


def test_a_lean_that_runs_into_the_wall_beside_is_refused() -> None:
    """The duct just clears the floor inside, and leans into the floor's boards on its way out."""
    with pytest.raises(Clash, match="inlet runs into the wall beside it"):
        built("roof", inlet='{ face = "left", along = "80 mm", slant = "-35 deg" }', shell=DOUBLE)


def test_no_collar_with_a_flange_is_bought_for_it() -> None:
    """Straight duct instead, and the steps say so."""
    made = kit()
    assert "no collar with a flange fits" in " ".join(filling(made, "metric").work)
    bought = {item.kind: item.amount for item in items_of(made)}
    assert "collar" not in bought
    assert bought["metal"] > 2 * (0.06 / cos(radians(35.0)))


def items_of(made: Kit):  # type: ignore[no-untyped-def]
    from sordino.build.ducting import _in_boxes

    return list(_in_boxes((made,)))
