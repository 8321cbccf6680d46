"""Boards of the casing against sizes worked by hand."""

from __future__ import annotations

from math import atan, cos, degrees, hypot, tan

import pytest

from built import built
from sordino.build.part import Part
from sordino.elements.box_clash import Clash

DOUBLE = '[{ board = "plywood", thickness = "18 mm" }, { board = "plywood", thickness = "18 mm" }]'


def named(parts: tuple[Part, ...], face: str, level: int = 0) -> Part:
    (found,) = [part for part in parts if part.face == face and part.level == level]
    return found


def test_a_plain_box_is_cut_to_what_a_hand_would_cut() -> None:
    """Inside 800 x 250 x 250 mm in 18 mm: floor and top over the ends, front and back over all."""
    parts = built("straight").panels
    sizes = {part.face: sorted(part.size) for part in parts}
    assert sizes["floor"] == sizes["ceiling"] == pytest.approx([250.0, 836.0])
    assert sizes["left"] == sizes["right"] == pytest.approx([250.0, 250.0])
    assert sizes["front"] == sizes["back"] == pytest.approx([286.0, 836.0])
    assert [part.label for part in parts] == ["A1", "A2", "A3", "A4", "A5", "A6"]


def test_the_second_layer_is_grown_by_the_first_and_lapped_the_other_way() -> None:
    """The first is 836 x 286 x 286 outside; now the ends run past the rest, front and back between all."""
    parts = built("straight", shell=DOUBLE).panels
    sizes = {part.face: sorted(part.size) for part in parts if part.level == 1}
    assert sizes["front"] == pytest.approx([286.0, 836.0])
    assert sizes["floor"] == pytest.approx([322.0, 836.0])
    assert sizes["left"] == pytest.approx([322.0, 322.0])
    assert {part.label[0] for part in parts} == {"A", "B"}


@pytest.mark.parametrize("shell", [DOUBLE, f"{DOUBLE[:-1]}, {DOUBLE[1:]}"])
def test_joints_are_staggered(shell: str) -> None:
    """Of two faces that meet, the one that runs past the other is a different one in the next layer."""
    parts = built("straight", shell=shell).panels
    most = max(part.level for part in parts)
    for one, other, way in (("floor", "left", 0), ("floor", "front", 1), ("left", "front", 1)):
        past = [reach(named(parts, one, level), way) - outside(parts, other, level) > -0.1 for level in range(most + 1)]
        assert past == [not past[0] if level % 2 else past[0] for level in range(most + 1)]


def reach(part: Part, axis: int) -> float:
    """How far a board reaches towards the box's left or front, mm."""
    return max(-part.pose.at(u, v, 0.0)[axis] for u, v in part.outline)


def outside(parts: tuple[Part, ...], face: str, level: int) -> float:
    """How far out a layer of the left or the front lies, mm."""
    return 18.0 * (level + 1)


def test_slopes_are_mitred_or_bevelled_to_long_points() -> None:
    """A slope of 300 along and 200 down: 33.7 degrees, mitred with the ceiling at half of it, lapping the right end."""
    parts = built("roof").panels
    pitch = degrees(atan(200.0 / 300.0))
    ceiling, slope = named(parts, "ceiling"), named(parts, "right slope")
    bevels = {edge.meets: edge.bevel for edge in slope.edges}
    assert bevels["ceiling"] == pytest.approx(-pitch / 2.0, abs=1e-4)
    assert abs(bevels["right"]) == pytest.approx(pitch, abs=1e-4)
    assert bevels["front"] == bevels["back"] == 0.0
    # inside 700 - 300 long, past the left end by its 18 mm, and by the mitre at the slope
    more = 18.0 * tan(atan(200.0 / 300.0) / 2.0)
    assert max(ceiling.size) == pytest.approx(400.0 + 18.0 + more, abs=1e-4)
    assert {edge.meets: edge.bevel for edge in ceiling.edges}["right slope"] == pytest.approx(-pitch / 2.0, abs=1e-4)
    # its inner side begins in the angle with the ceiling and runs past the right end's 18 mm
    inner = max(u for u, _ in slope.inner) - min(u for u, _ in slope.inner)
    assert inner == pytest.approx(hypot(300.0, 200.0) + 18.0 / cos(atan(200.0 / 300.0)), abs=1e-4)


def test_damping_and_boards_stand_in_the_record() -> None:
    floor = named(built("roof").panels, "floor", 1)
    assert floor.damped
    assert floor.board == "plywood"
    assert floor.thickness == pytest.approx(18.0)
    assert not named(built("roof").panels, "floor", 0).damped


def test_grain_lies_along_the_longer_side() -> None:
    for part in built("straight").panels:
        u, v = part.size
        assert part.grain == ("u" if u >= v else "v")
    assert all(
        part.grain == "none" for part in built("straight", shell='[{ board = "MDF", thickness = "18 mm" }]').panels
    )


def test_a_face_that_bevels_eat_up_is_refused() -> None:
    """A ceiling of 10 mm between slopes whose own casing is a thin sheet can't be 90 mm thick."""
    thick = '[{ board = "MDF", thickness = "90 mm" }]'
    thin = '[{ board = "MDF", thickness = "1 mm" }]'
    with pytest.raises(Clash, match="eaten up"):
        built(
            "roof",
            left_slope='{ run = "395 mm", drop = "300 mm" }',
            inlet='{ face = "floor", along = "120 mm" }',
            dividers="[]",
            shell=thin,
            faces=f"{{ ceiling = {thick} }}",
        )
