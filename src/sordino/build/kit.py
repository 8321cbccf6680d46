"""A box ready to be built: its parts, openings, closing face and order of work, from a plan."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sordino.build.casing import panels
from sordino.build.closing import Closing, closing, served
from sordino.build.dividers import dividers
from sordino.build.faces import InsideFace, inside_faces
from sordino.build.frame import sticks
from sordino.build.openings import Opening, openings, with_holes
from sordino.build.order import Piece, Placed, ordered
from sordino.build.part import Part, Stick
from sordino.build.spacers import spacers
from sordino.elements.box import Box
from sordino.elements.box_dividers import divider_sheets
from sordino.elements.box_layout import Layout
from sordino.elements.box_mass import BoxMass, box_mass
from sordino.elements.box_sheets import frames
from sordino.elements.built_box import BuiltBox
from sordino.plan.building import Building
from sordino.plan.statement import Plan
from sordino.quantities import Size

STICK_DENSITY = 450.0
"""Softwood, kg/m3 (ASHRAE for spruce, pine and fir)."""


@dataclass(frozen=True, kw_only=True)
class Kit:
    """One box: what it is made of."""

    name: str
    run: str
    """The run in which it stands."""
    box: Box
    section: Size
    made: Layout
    building: Building
    closing: Closing
    openings: tuple[Opening, ...]
    parts: tuple[Part, ...]
    sticks: tuple[Stick, ...]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Boards and sticks."""
        return (*self.parts, *self.sticks)

    @property
    def panels(self) -> tuple[Part, ...]:
        """Boards of the casing."""
        return tuple(part for part in self.parts if part.kind == "panel")

    @property
    def lid(self) -> tuple[Part, ...]:
        """The boards that close the box, innermost first."""
        return tuple(part for part in self.panels if part.face == self.closing.face)

    @cached_property
    def faces(self) -> tuple[InsideFace, ...]:
        """The inside, face by face."""
        return inside_faces(self.made.prism)

    @cached_property
    def order(self) -> tuple[Placed, ...]:
        """Every piece in the order in which they go together."""
        return ordered(self.pieces, self.closing.face, frames(self.made.prism))

    @cached_property
    def assessed(self) -> BoxMass:
        """What the assessment says that it weighs: boards and fibre, with holes of the ducts' clear size."""
        return box_mass(self.box, self.made)

    @property
    def board_mass(self) -> float:
        """All boards as cut, kg."""
        return sum(part.mass for part in self.parts)

    @property
    def stick_mass(self) -> float:
        """All sticks, kg; they come on top of what the assessment counts."""
        return sum(stick_mass(stick) for stick in self.sticks)

    @property
    def mass(self) -> float:
        """Boards, sticks and fibre, kg; duct, screws and sealant come on top."""
        return self.board_mass + self.stick_mass + self.assessed.fibre


def stick_mass(stick: Stick) -> float:
    """kg."""
    return STICK_DENSITY * 1e-9 * stick.area * stick.length


def kits(plan: Plan) -> tuple[Kit, ...]:
    """A kit for each box of the plan; raises Clash where one can't be closed or bevels eat up a face of it."""
    found = [(name, part) for name, run in plan.run.items() for part in run.parts if isinstance(part, BuiltBox)]
    return tuple(
        kit(built, plan.build, served(plan, built.box), run, f"{built.box} " if len(found) > 1 else "")
        for run, built in found
    )


def kit(built: BuiltBox, building: Building, serves: tuple[str, ...] = (), run: str = "", prefix: str = "") -> Kit:
    """The kit of one box; `serves` are filters and dampers next to it, `prefix` comes before every label."""
    box, made = built.build, built.layout
    last = closing(made.prism, building.access.get(built.box), serves)
    mouths = openings(box, made.prism, building.clearance)
    boards = tuple(with_holes(part, mouths) for part in panels(box, made.prism, last.face, prefix))
    inside = sticks(made.prism, divider_sheets(box, made.prism), building.stick, last.face, prefix)
    rims = spacers(box, made.prism, last.face, mouths, building.stick, len(inside) + 1, prefix)
    return Kit(
        name=built.box,
        run=run,
        box=box,
        section=built.section,
        made=made,
        building=building,
        closing=last,
        openings=mouths,
        parts=(*boards, *dividers(box, made.prism, prefix)),
        sticks=(*inside, *rims),
    )
