"""What holds for every box that can be built: its parts, put together as solids."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, example, given, settings
from manifold3d import Manifold

from built import AWKWARD, CASINGS, joined, random_kits
from sordino.build.kit import Kit
from sordino.build.openings import Opening
from sordino.build.order import FAR, way_in
from sordino.build.part import Part
from sordino.build.solid import cavity, hull, pushed_in, solid
from sordino.build.steps import steps
from sordino.elements import buildup
from sordino.elements.box_planes import area
from sordino.elements.box_sheets import frames

DUST = 1.0
"""Volume that counts as none, mm3."""
few = settings(
    max_examples=40,
    deadline=None,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
FULL = tuple(casing for casing in CASINGS if all("cavity" not in layer for layer in casing))


def plain(kit: Kit) -> tuple[Part, ...]:
    """The boards of the casing before holes are cut."""
    return tuple(replace(part, holes=()) for part in kit.panels)


@few
@given(random_kits(casings=FULL))
@example(AWKWARD[0])
@example(AWKWARD[1])
def test_the_panels_enclose_the_cavity_and_nothing_else(kit: Kit) -> None:
    """Boards and intended inside fill the whole outside without meeting: no gap anywhere."""
    boards, inside = joined(plain(kit)), cavity(kit.made.prism)
    whole = boards.hull()
    assert whole.volume() - boards.volume() == pytest.approx(inside.volume(), abs=DUST)
    assert (boards ^ inside).volume() == pytest.approx(0.0, abs=DUST)
    assert (inside - whole).volume() == pytest.approx(0.0, abs=DUST)


@few
@given(random_kits())
@example(AWKWARD[0])
@example(AWKWARD[1])
@example(AWKWARD[2])
@example(AWKWARD[3])
def test_no_two_solids_overlap(kit: Kit) -> None:
    """Boards, dividers, sticks and spacers together fill as much room as each of them alone."""
    alone = sum(solid(piece).volume() for piece in kit.pieces)
    assert joined(kit.pieces).volume() == pytest.approx(alone, abs=DUST)


@few
@given(random_kits())
def test_dividers_and_sticks_stay_inside(kit: Kit) -> None:
    inside = cavity(kit.made.prism)
    for piece in kit.pieces:
        if not (isinstance(piece, Part) and piece.kind == "panel") and getattr(piece, "use", "") != "spacer":
            assert (solid(piece) - inside).volume() == pytest.approx(0.0, abs=DUST)


def drill(mouth: Opening, kit: Kit) -> Manifold:
    """A duct of the clear size from the inside face outwards past every layer."""
    part = next(part for part in kit.panels if part.face == mouth.face)
    u, v = part.pose.u, part.pose.v
    half = 0.99 * (mouth.diameter or 0.0) / 2.0 / 2.0**0.5
    corners = [
        tuple(c + a * x + b * y + far * n for c, x, y, n in zip(mouth.centre, u, v, mouth.axis, strict=True))
        for a in (-half, half)
        for b in (-half, half)
        for far in (1e-3, 400.0)
    ]
    return hull([(x, y, z) for x, y, z in corners])


@few
@given(random_kits())
def test_every_hole_lines_up_through_all_layers(kit: Kit) -> None:
    """Each mouth has one hole of one size in every board of its face, all on one line, and a duct goes through."""
    for mouth in kit.openings:
        boards = [part for part in kit.panels if part.face == mouth.face]
        assert boards
        for part in boards:
            (hole,) = [hole for hole in part.holes if hole.label == mouth.name]
            assert (hole.diameter, hole.sides) == mouth.hole
            middle = part.pose.at(*hole.centre, 0.0)
            away = [a - b for a, b in zip(middle, mouth.centre, strict=True)]
            along = sum(a * n for a, n in zip(away, mouth.axis, strict=True))
            assert along >= -1e-6
            assert [a - along * n for a, n in zip(away, mouth.axis, strict=True)] == pytest.approx([0, 0, 0], abs=1e-5)
        passage = drill(mouth, kit)
        assert sum((solid(piece) ^ passage).volume() for piece in kit.pieces) == pytest.approx(0.0, abs=DUST)


@few
@given(random_kits())
@example(AWKWARD[0])
def test_boards_weigh_what_the_assessment_says(kit: Kit) -> None:
    """To the gram, but for the ring of clearance that is cut out round each duct."""
    rings = 0.0
    for mouth in kit.openings:
        hole, clear = mouth.hole[0] or 0.0, mouth.diameter or 0.0
        rings += buildup.surface_mass(kit.box.layers(mouth.face)) * 3.14159265358979 * (hole**2 - clear**2) / 4e6
    assert kit.board_mass == pytest.approx(kit.assessed.shell + kit.assessed.dividers - rings, abs=1e-6)
    for part in plain(kit):
        assert part.volume == pytest.approx(solid(part).volume(), rel=1e-6)


@few
@given(random_kits())
def test_an_outline_is_at_the_long_points(kit: Kit) -> None:
    """The blank holds both sides of a board; a square board's three outlines are one."""
    for part in kit.parts:
        blank = area(part.outline)
        assert blank >= max(area(part.inner), area(part.outer)) - DUST
        if not part.bevelled:
            assert area(part.inner) == pytest.approx(blank)
            assert area(part.outer) == pytest.approx(blank)
        assert len(part.edges) == len(part.outline)


@settings(few, max_examples=30)
@given(random_kits())
def test_each_part_is_in_one_step_and_can_get_there(kit: Kit) -> None:
    """Every label once; whatever stands when a part is put in leaves its way in free; dividers before the lid."""
    told = steps(kit, "metric")
    assert [step.number for step in told] == list(range(1, len(told) + 1))
    labels = [label for step in told for label in step.parts]
    assert sorted(labels) == sorted(piece.label for piece in kit.pieces)
    assert len(set(labels)) == len(labels)
    bases, by_label = frames(kit.made.prism), {piece.label: piece for piece in kit.pieces}
    standing = Manifold()
    for label in labels:
        piece = by_label[label]
        path = pushed_in(piece, way_in(piece, kit.closing.face, bases), FAR)
        assert (path ^ standing).volume() < 100.0, label
        standing = standing + solid(piece)


@settings(few, max_examples=30)
@given(random_kits())
def test_nothing_is_covered_before_it_is_sealed(kit: Kit) -> None:
    """Inside joints are sealed before any outer layer, the duct and fibre are in and looked at before the lid."""
    stages = [step.stage for step in steps(kit, "metric")]
    last = max(index for index, stage in enumerate(stages) if stage in ("shell", "frame", "cleats", "dividers"))
    seal, fill, look = (stages.index(name) for name in ("sealing", "filling", "inspection"))
    assert last < seal < fill < look < stages.index("closing")
    assert all(seal < index < fill for index, stage in enumerate(stages) if stage == "outer layers")
    assert stages[-2:] == ["closing", "proof"]
