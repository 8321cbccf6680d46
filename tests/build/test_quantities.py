"""What is counted for a box, against sums made by hand, and what it costs."""

from __future__ import annotations

from itertools import pairwise
from math import dist, pi

import pytest

from boxed import boxed
from built import built
from sordino.build.cost import cost
from sordino.build.cutting.plan import cutting
from sordino.build.cutting.records import Cutting
from sordino.build.ducting import items
from sordino.build.hanging import hangers
from sordino.build.insulation import density_note, fibre_pieces, products
from sordino.build.kit import Kit, kits
from sordino.build.lists import Line, Money, Quantities
from sordino.build.prices import read_prices
from sordino.build.quantities import quantities
from sordino.build.screws import in_row, long_enough, screws
from sordino.build.sealing import beads, damped_area, gasket
from sordino.elements.filter import Filter
from sordino.errors import Refusal
from sordino.plan.statement import Plan
from sordino.quantities import Size


def counted(plan: Plan, prices: str = "") -> tuple[Quantities, Cutting, tuple[Kit, ...]]:
    found = kits(plan)
    cut = cutting(found, plan.build, plan.units, 3.0)
    return quantities(plan, found, cut, read_prices(prices) if prices else None), cut, found


def named(found: Quantities, start: str) -> Line:
    (line,) = [line for line in found.lines if line.name.startswith(start)]
    return line


def changed(plan: Plan, **fields: object) -> Plan:
    building = type(plan.build).model_validate(fields)
    return plan.model_copy(update={"build": building})


def test_beads_of_a_plain_box() -> None:
    """800 x 250 x 250 inside, 18 mm: eight joints of 250 and four of 836 mm; sticks 4 x (730 + 180 + 230)."""
    by_place = {bead.place: bead for bead in beads(built("straight"))}
    assert by_place["joints of boards"].length == pytest.approx(8 * 250 + 4 * 836)
    assert by_place["joints of boards"].section == pytest.approx(pi * 36 / 4)
    assert by_place["fillets along the inside of the first layer"].volume == pytest.approx(5.344 * 32e-6)
    assert by_place["under sticks"].length == pytest.approx(2 * 4 * (730 + 180 + 230))
    # a ring from 125 to 129 mm through 18 mm of board
    ring = pi / 4 * (0.129**2 - 0.125**2) * 0.018
    assert by_place["round the duct in A1"].volume == pytest.approx(ring)
    assert by_place["fillets round the ducts"].length == pytest.approx(4 * pi * 129)


def test_screws_of_a_plain_box() -> None:
    """150 mm apart: 3 in 250 mm, 7 in 836; sticks of 730, 180 and 230 take 6, 3 and 3 into each of two boards."""
    assert (in_row(250, 150), in_row(836, 150), in_row(300, 150)) == (3, 7, 3)
    assert screws(built("straight")) == {40.0: 2 * 4 * (6 + 3 + 3), 45.0: 8 * 3 + 4 * 7}
    assert (long_enough(38.0), long_enough(45.0), long_enough(500.0)) == (40.0, 45.0, 200.0)


def test_an_outer_layer_takes_beads_coat_and_screws_of_its_own() -> None:
    """Damping compound lies under the second layer of one face only."""
    plain, double = built("straight"), built("roof")
    assert damped_area(plain) == 0.0
    (part,) = [part for part in double.parts if part.damped]
    assert damped_area(double) == pytest.approx(part.volume / part.thickness * 1e-6)
    assert "under outer layers" in {bead.place for bead in beads(double)}
    assert sum(screws(double).values()) > 0


def test_a_removable_face_takes_gasket_instead_of_sealant() -> None:
    """A filter next to the box: its front comes off, so its joints take no bead."""
    plan = boxed("straight")
    run = plan.run["way"]
    part = Filter.model_validate({"is": "filter", "depth": "2 in", "merv": 11, "size": "125 mm"})
    beside = run.model_copy(update={"parts": (part, *run.parts)})
    (kit,) = kits(plan.model_copy(update={"run": {**plan.run, "way": beside}}))
    assert gasket(kit) == pytest.approx(2 * (836 + 286))
    sealed = {bead.place: bead.length for bead in beads(kit)}
    assert sealed["joints of boards"] == pytest.approx(6 * 250 + 2 * 836)


def test_fibre_of_a_lined_box_and_of_a_filled_one() -> None:
    """Linings by the face; passes of a filled box by layers that make up its width of 300 mm."""
    places = {piece.place: piece for piece in fibre_pieces(built("straight"), "metric")}
    assert set(places) == {f"lining on the {face}" for face in ("floor", "ceiling", "front", "back")}
    assert places["lining on the floor"].area == pytest.approx(0.8 * 0.25)
    filled = fibre_pieces(built("serpentine"), "metric")
    assert [round(piece.thickness * piece.count) for piece in filled] == [300, 300]
    assert sum(piece.width for piece in filled) == pytest.approx(500.0)


def test_batts_are_pressed_no_further_than_they_take_and_the_density_is_told() -> None:
    """In inches no light batt fits 50 mm: the nearest is denser, and that is said."""
    kit = built("straight")
    assert density_note(kit, "metric") is None
    for piece in fibre_pieces(kit, "inch"):
        assert piece.loose / piece.thickness <= 1.2
    told = density_note(kit, "inch")
    assert told is not None
    assert "the plan counts with 0.75 lb/ft3" in told


def test_layers_fill_the_space_and_are_pressed_no_further_than_they_take() -> None:
    """Batts of 50 mm that take 1.5: 100 mm at their own density takes two, at ten times it three, 101 mm still two."""
    batt = next(one for one in products("metric") if one.name == "light glass wool 50 mm")
    assert [batt.layers(100.0, density) for density in (12.0, 120.0)] == [2, 3]
    assert [batt.layers(thick, 12.0) for thick in (20.0, 101.0, 110.0)] == [1, 2, 3]
    assert (batt.pressed(20.0, 12.0), batt.pressed(100.0, 120.0)) == (True, False)


def test_ducts_in_runs_and_in_boxes() -> None:
    """The box's own duct with its tails, over 1 less the slack; two collars; clamps at both its ends."""
    plan = boxed("serpentine")
    (kit,) = kits(plan)
    found = {(item.kind, item.size): item.amount for item in items(plan, (kit,))}
    size = Size.circle(0.125)
    assert found["collar", size] == 2.0
    assert found["clamp", size] == 2.0
    tube = kit.made.prism.tube
    assert tube is not None
    inside = sum(dist(a, b) for a, b in pairwise(tube.centreline))
    assert found["flexible", size] == pytest.approx((inside + 0.2) / 0.9)


def test_hangers_come_in_pairs() -> None:
    """At least four; one for each 25 kg."""
    light = built("straight")
    assert light.mass < 100
    assert hangers(light) == 4
    heavy = built("straight", length='"3 m"', width='"1 m"', height='"0.8 m"')
    assert heavy.mass > 100
    assert hangers(heavy) % 2 == 0
    assert heavy.mass / hangers(heavy) <= 25.0


def test_packs_and_money_add_up() -> None:
    """Packs hold the need, and the whole is the sum of the lines."""
    plan = boxed("labyrinth")
    found, _, _ = counted(plan)
    sealant = named(found, "acoustic sealant")
    assert (sealant.packs - 1) * 299e-6 < sealant.need <= sealant.packs * 299e-6
    whole = cost(found, plan.build)
    assert whole.whole.low == pytest.approx(sum(line.cost.low for line in found.lines))
    assert whole.whole.high == pytest.approx(sum(money.high for _, money in whole.groups))
    assert whole.invented == len(found.lines)
    assert whole.overspend is None
    over = cost(found, changed(plan, budget=50.0).build)
    assert over.overspend == Money(low=whole.whole.low - 50.0, high=whole.whole.high - 50.0)
    assert cost(found, changed(plan, budget=1e6).build).overspend == Money(low=0.0, high=0.0)


def test_a_price_of_the_project_and_one_of_a_list() -> None:
    """The list comes before the project, the project before the placeholder; a name not on the list is told."""
    price = {"acoustic sealant": {"low": 7.5, "dated": "2026-02-01"}, "accoustic sealant": {"low": 1.0}}
    plan = changed(boxed("labyrinth"), price=price)
    found, _, _ = counted(plan)
    line = named(found, "acoustic sealant")
    assert (line.price.each, line.price.dated, line.price.source) == (
        Money(low=7.5, high=7.5),
        "2026-02-01",
        "your project",
    )
    assert any("'accoustic sealant'" in told for told in found.cautions)
    assert cost(found, plan.build).oldest == "2026-02-01"
    listed, _, _ = counted(plan, "name,low,high,dated\nacoustic sealant,8,9,2026-03-01\n")
    assert named(listed, "acoustic sealant").price.each == Money(low=8.0, high=9.0)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("low\n3\n", "no column name"),
        ("name,low\nsealant,cheap\n", "row 2 of the prices reads 'cheap'"),
        ("name,low,high\nsealant,5,4\n", "runs backwards"),
        ("name,low,dated\nsealant,5,yesterday\n", "dated 'yesterday'"),
        ("name,low\nsealant,nan\n", "reads 'nan'"),
        ("name,low\nsealant,-1\n", "reads '-1'"),
    ],
)
def test_a_bad_list_of_prices_is_refused(text: str, told: str) -> None:
    """With the row and what would do."""
    with pytest.raises(Refusal, match=told):
        read_prices(text)


def test_what_is_on_hand_is_on_the_list_at_no_cost() -> None:
    """Two sheets on hand are used before any is bought."""
    stock = [{"board": "plywood", "length": "2440 mm", "width": "1220 mm", "count": 2}]
    plan = changed(boxed("labyrinth"), stock=stock)
    found, cut, _ = counted(plan)
    owned = [line for line in found.lines if line.group == "boards" and line.packs == 0]
    assert owned
    assert owned[0].cost == Money(low=0.0, high=0.0)
    assert "on hand" in owned[0].rule
    assert cut.layouts[0].sheet.owned
