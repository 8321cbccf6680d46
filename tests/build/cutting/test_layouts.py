"""Layouts are checked by sawing them: cut after cut, each from edge to edge of one piece and through no part."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from built import built
from sordino.build.cutting.bars import stick_plan
from sordino.build.cutting.boards import board_plan
from sordino.build.cutting.plan import cutting
from sordino.build.cutting.records import CutPlan, Layout, Length, Placed, Sheet
from sordino.build.cutting.words import bars_standing, sheets_standing
from sordino.build.part import Edge, Grain, Part
from sordino.elements.box_planes import Frame, area

POSE = Frame(origin=(0.0, 0.0, 0.0), u=(1.0, 0.0, 0.0), v=(0.0, 1.0, 0.0), n=(0.0, 0.0, 1.0))
Rectangle = tuple[float, float, float, float]
"""Low x, low y, high x, high y."""
NEAR = 0.11
"""Blanks are rounded up to tenths of a millimetre."""


def board(label: str, length: float, width: float, grain: Grain = "none") -> Part:
    ring = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return Part(
        label=label,
        kind="panel",
        face="front",
        level=0,
        board="plywood",
        thickness=18.0,
        outline=ring,
        edges=tuple(Edge(meets="open", bevel=0.0) for _ in ring),
        inner=ring,
        outer=ring,
        holes=(),
        grain=grain,
        pose=POSE,
        volume=length * width * 18.0,
        density=600.0,
    )


def sheet(length: float = 2440.0, width: float = 1220.0, count: int | None = None) -> Sheet:
    name = f"plywood 18 mm, {length:g} x {width:g} mm"
    return Sheet(name=name, board="plywood", thickness=18.0, length=length, width=width, count=count)


def plan(parts: list[Part], *stock: Sheet, saw: tuple[float, float] = (3.2, 10.0), grained: bool = True) -> CutPlan:
    return board_plan(tuple(parts), stock or (sheet(),), saw, 150.0, grained, 1.5)


def _through(piece: Rectangle, first: tuple[float, float], last: tuple[float, float], half: float) -> bool:
    """Whether a cut takes something off a piece, from edge to edge; the blade's middle may pass beside it."""
    along = 0 if first[0] == last[0] else 1
    other = 1 - along
    low, high = piece[along], piece[along + 2]
    start, end = piece[other], piece[other + 2]
    middle = (first[other] + last[other]) / 2.0
    return (
        low - half < first[along] < high + half
        and first[other] <= start + NEAR
        and last[other] >= end - NEAR
        and start < middle < end
    )


def sawn(layout: Layout, kerf: float) -> list[Rectangle]:
    """What lies on the bench after every cut; asserts that each cut goes through one whole piece."""
    bench: list[Rectangle] = [(0.0, 0.0, layout.sheet.length, layout.sheet.width)]
    half = kerf / 2.0
    for cut in layout.cuts:
        (a, b), (c, _) = cut.first, cut.last
        hit = [piece for piece in bench if _through(piece, cut.first, cut.last, half)]
        assert len(hit) == 1, f"cut {cut.number} goes through {len(hit)} pieces from edge to edge"
        x0, y0, x1, y1 = hit[0]
        bench.remove(hit[0])
        upright = [(x0, y0, a - half, y1), (a + half, y0, x1, y1)]
        level = [(x0, y0, x1, b - half), (x0, b + half, x1, y1)]
        bench += [piece for piece in (upright if a == c else level) if piece[2] > piece[0] and piece[3] > piece[1]]
    return bench


def assert_sawable(found: CutPlan) -> None:
    """Every part is one piece on the bench, to a tenth of a millimetre; offcuts are there, too."""
    for layout in found.layouts:
        bench = sawn(layout, found.kerf)
        for one in layout.placed:
            length, width = one.size
            fits = [
                r
                for r in bench
                if abs(r[0] - one.x) < NEAR
                and abs(r[1] - one.y) < NEAR
                and -1e-6 <= r[2] - r[0] - length < NEAR + 0.05
                and -1e-6 <= r[3] - r[1] - width < NEAR + 0.05
            ]
            assert len(fits) == 1, one.label
        for rest in layout.offcuts:
            assert any(
                abs(r[0] - rest.x) < NEAR and abs(r[1] - rest.y) < NEAR and abs(r[2] - r[0] - rest.length) < 2 * NEAR
                for r in bench
            )


sides = st.integers(60, 1150)


@settings(max_examples=12, deadline=None)
@given(
    st.lists(st.tuples(sides, sides, st.sampled_from(["u", "v", "none"])), min_size=1, max_size=10),
    st.sampled_from([(3.2, 10.0), (0.0, 0.0), (2.5, 0.0), (4.0, 3.0)]),
)
def test_any_boards_can_be_sawn(sizes: list[tuple[int, int, Grain]], saw: tuple[float, float]) -> None:
    """Random boards: each once, along the grain, within the trimmed sheet, and the saw gets each one free."""
    parts = [board(f"A{n}", float(u), float(v), grain) for n, (u, v, grain) in enumerate(sizes)]
    found = plan(parts, saw=saw)
    assert sorted(part.label for part in (*found.parts, *found.too_large)) == sorted(part.label for part in parts)
    assert not found.too_large
    for layout in found.layouts:
        for one in layout.placed:
            assert one.part.grain == "none" or one.turned == (one.part.grain == "v")
            assert min(one.x, one.y) >= saw[1] - 1e-9
            assert one.x + one.size[0] <= 2440.0 - saw[1] + 1e-6
            assert one.y + one.size[1] <= 1220.0 - saw[1] + 1e-6
    assert_sawable(found)
    assert found.bound <= found.sheets
    assert found.area_bound <= found.area_bought + 1e-6


def test_two_that_fit_side_by_side_but_for_the_kerf_need_two_sheets() -> None:
    """Each 610 mm wide fills a sheet of 1220 exactly without a saw cut, and not with one."""
    parts = [board("A1", 2000.0, 610.0, "u"), board("A2", 2000.0, 610.0, "u")]
    assert plan(parts, saw=(0.0, 0.0)).sheets == 1
    found = plan(parts, saw=(3.2, 0.0))
    assert (found.sheets, found.bound, found.proven) == (2, 2, True)


def test_grain_keeps_a_part_from_turning() -> None:
    """Three boards 1200 x 800 lie crosswise on one sheet of 2440 x 1220 only if they may turn."""
    grained = [board(f"A{n}", 1200.0, 800.0, "u") for n in range(3)]
    assert plan(grained, saw=(3.0, 5.0)).sheets == 2
    assert plan(grained, saw=(3.0, 5.0), grained=False).sheets == 1


def test_what_is_on_hand_comes_first() -> None:
    """An offcut that holds the part saves a sheet; one too small doesn't."""
    part = [board("A1", 700.0, 400.0)]
    found = plan(part, sheet(800.0, 500.0, 1), sheet())
    assert (found.bought, found.area_bought, found.area_bound, found.sheets) == (0, 0.0, 0.0, 1)
    assert found.layouts[0].sheet.owned
    assert plan(part, sheet(600.0, 500.0, 3), sheet()).bought == 1


def test_the_bound_counts_what_is_on_hand() -> None:
    """Three of 600 x 600, one a sheet of 1000 x 1000: with one on hand, two are bought, and that is proven."""
    found = plan([board(f"A{n}", 600.0, 600.0) for n in range(3)], sheet(1e3, 1e3, 1), sheet(1e3, 1e3), saw=(0.0, 0.0))
    assert (found.bought, found.bound, found.sheets) == (2, 3, 3)
    assert found.area_bound == pytest.approx(2.0)
    assert found.proven


def test_the_smaller_of_two_sizes_is_bought_where_it_does() -> None:
    """Of 2440 x 1220 and 1220 x 610."""
    found = plan([board("A1", 1000.0, 500.0)], sheet(), sheet(1220.0, 610.0))
    assert found.layouts[0].sheet.length == 1220.0
    assert found.proven
    assert found.area_bound == pytest.approx(1.22 * 0.61)


def test_a_part_larger_than_every_sheet_is_told() -> None:
    """The rest is cut."""
    found = plan([board("A1", 2500.0, 300.0), board("A2", 300.0, 300.0)])
    assert [part.label for part in found.too_large] == ["A1"]
    assert [part.label for part in found.parts] == ["A2"]


def test_nothing_but_a_small_offcut_on_hand() -> None:
    """No shop size, not enough on hand: what can't be had is told, the rest is cut."""
    found = plan([board("A1", 700.0, 400.0)], sheet(600.0, 300.0, 2))
    assert [part.label for part in found.too_large] == ["A1"]
    assert found.layouts == ()
    five = plan([board(f"A{n}", 500.0, 400.0) for n in range(5)], sheet(600.0, 500.0, 2))
    assert (len(five.too_large), five.sheets, five.bought) == (3, 2, 0)


def test_sticks_that_only_a_bar_on_hand_can_hold() -> None:
    """One bar of 4 m on hand, 2.4 m in the shop: of two sticks of 3.5 m one is left."""
    kit = built("labyrinth")
    sticks = tuple(
        replace(kit.sticks[0], label=f"S{n}", length=length) for n, length in enumerate((3500.0, 3500.0, 900.0))
    )
    bars = (
        Length(name="on hand", section=(25.0, 25.0), length=4000.0, count=1),
        Length(name="shop", section=(25.0, 25.0), length=2400.0, count=None),
    )
    found = stick_plan(sticks, bars, 3.0, 3.0)
    assert [stick.label for stick in found.too_long] == ["S0"]
    assert sorted(one.label for bar in found.bars for one in bar.cut) == ["S1", "S2"]
    assert found.bought == 1
    assert "proven least" in bars_standing(found, "metric")


def test_what_is_said_beside_a_plan() -> None:
    """Sheets where one size is bought, areas where not; a gap is no failure, but is said."""
    one = plan([board("A1", 2000.0, 610.0, "u"), board("A2", 2000.0, 610.0, "u")])
    assert sheets_standing(one, "metric") == "2 sheets; at least 2 needed: proven least"
    assert "may or may not exist" in sheets_standing(replace(one, bound=1, area_bound=2.9768), "metric")
    mixed = plan([board("A1", 700.0, 400.0), board("A2", 1000.0, 500.0)], sheet(800.0, 500.0, 1), sheet())
    assert sheets_standing(mixed, "metric").startswith("2 sheets, 2.98 m2 of it to buy; at least 2.98 m2 needed")


def test_a_turned_part_keeps_its_holes_where_they_are() -> None:
    """A corner and a hole turn with the board."""
    kit = built("labyrinth")
    cut = cutting((kit,), kit.building, "metric", 3.0)
    for layout in cut.layouts:
        for one in layout.placed:
            length, width = one.size
            xs, ys = zip(*one.outline, strict=True)
            assert (min(xs), min(ys)) == pytest.approx((one.x, one.y))
            assert (max(xs), max(ys)) == pytest.approx((one.x + length, one.y + width))
            assert area(one.outline) == pytest.approx(area(one.part.outline)), "turned, not mirrored"
            corner, turned = one.part.outline[0], one.outline[0]
            for before, after in zip(one.part.holes, one.holes, strict=True):
                far = [(a - b) ** 2 for a, b in zip(before.centre, corner, strict=True)]
                then = [(a - b) ** 2 for a, b in zip(after.centre, turned, strict=True)]
                assert sum(far) == pytest.approx(sum(then))


def test_a_part_turns_to_the_left() -> None:
    """Its u along y, its v against x: a corner at (300, 20) of 300 x 100 ends at (x + 80, y + 300)."""
    one = Placed(part=board("A1", 300.0, 100.0), x=10.0, y=20.0, turned=True)
    assert one.at((300.0, 20.0)) == (90.0, 320.0)
    assert area(one.outline) == pytest.approx(area(one.part.outline))


@pytest.mark.parametrize("name", ["serpentine", "labyrinth", "roof", "shallow"])
def test_every_part_of_a_box_is_cut_once(name: str) -> None:
    """Boards and sticks, and every layout can be sawn."""
    kit = built(name)
    cut = cutting((kit,), kit.building, "metric", 3.0)
    assert sorted(one.label for layout in cut.layouts for one in layout.placed) == sorted(p.label for p in kit.parts)
    assert sorted(one.label for bar in cut.bars for one in bar.cut) == sorted(stick.label for stick in kit.sticks)
    for found in cut.plans:
        assert_sawable(found)
    labels = [layout.label for layout in cut.layouts]
    assert labels == [f"Sheet {number}" for number in range(1, len(labels) + 1)]


def test_sticks_lie_behind_each_other_with_a_kerf_between() -> None:
    """No two overlap, none runs past the end, and what is left is what is said."""
    kit = built("labyrinth")
    for plan_ in cutting((kit,), kit.building, "metric", 3.0).sticks:
        assert plan_.bound <= len(plan_.bars)
        for bar in plan_.bars:
            for one, after in zip(bar.cut, bar.cut[1:], strict=False):
                assert one.x + one.stick.length + plan_.kerf <= after.x + 1e-6
            last = bar.cut[-1]
            assert last.x + last.stick.length <= bar.stock.length + 1e-6
            assert bar.rest <= bar.stock.length - last.x - last.stick.length + 1e-6


def test_the_same_parts_are_cut_the_same_way_twice() -> None:
    """The book of today equals that of tomorrow."""
    kit = built("serpentine")
    first, second = (cutting((kit,), kit.building, "metric", 30.0).layouts for _ in range(2))
    assert first == second
