"""What a box or machine hangs from: joists and what they carry already, hangers, screws and isolators."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from sordino.errors import Refusal
from sordino.names import OnRecord
from sordino.physics.structure.timber import woods
from sordino.plan.limits import within
from sordino.quantities import Frequency, Length, Mass, Statement, SurfaceMass

Wood = Annotated[str, OnRecord(what="wood", names=woods)]
Shank = Annotated[Length, within(0.003, 0.033, "{read} is no diameter of a screw", "3 mm to 32 mm is wanted")]
ScrewKind = Literal["lag screw", "wood screw", "drywall screw", "through rod"]
RIGID = ("screws", "glue", "rigid sleeve")
"""Ties that carry sound from leaf to leaf."""


class Leaf(Statement):
    """One leaf of a shell, counted from the first place that the shell stands between."""

    shell: str = Field(description="name of the shell")
    leaf: int = Field(ge=1, le=9, description="1 is the leaf on the side of the first place of `between`")


class Tie(Leaf):
    """What joins a box to a leaf."""

    by: Literal["screws", "glue", "rigid sleeve", "sealant", "gasket", "flexible connector", "isolator"] = Field(
        description="screws, glue and rigid sleeves carry sound; the others are soft"
    )

    @property
    def rigid(self) -> bool:
        """Whether it carries sound."""
        return self.by in RIGID


class Joists(Statement):
    """A row of joists of which some carry a box: their section, their span and what lies and hangs on them already."""

    wood: Wood = Field(default="SPF No. 2", description="species and grade")
    width: Length = Field(description="thickness of one joist as made: 38 mm of a two-by")
    depth: Length = Field(description="height of one joist as made")
    span: Length = Field(description="clear span between bearings")
    spacing: Length = Field(description="from middle to middle")
    dead: SurfaceMass = Field(default=0.0, description="what hangs and lies on them already, per area of ceiling")
    live: SurfaceMass = Field(default=0.0, description="what may lie on them now and then: storage, people")
    truss: bool = Field(default=False, description="whether they are bottom chords of trusses")
    part_of: Leaf | None = Field(default=None, description="the leaf of a shell that they belong to, if any")

    @model_validator(mode="after")
    def _is_a_joist(self) -> Joists:
        if self.width > self.depth:
            raise Refusal("these joists lie flat: they are wider than deep", "swap width and depth")
        if not 4.0 <= self.span / self.depth <= 60.0:
            raise Refusal("no joist has such a span for its depth", "check span and depth: 10 to 30 times is usual")
        if self.spacing < self.width:
            raise Refusal("these joists stand closer than they are thick", "give the distance from middle to middle")
        return self


class Hung(Statement):
    """How something hangs: from which joists, by how many hangers, with what screws and isolators."""

    joists: str = Field(alias="from", description="name of the joists")
    hangers: int = Field(default=4, ge=2, le=24, description="hangers, in two rows along the box")
    screw: ScrewKind = Field(default="lag screw", description="what holds each hanger in the wood")
    screws: int = Field(default=1, ge=1, le=8, description="screws in each hanger")
    diameter: Shank = Field(default=0.00635, description="of the screw's shank")
    thread: Length = Field(default=0.05, description="thread in the wood, its tapered tip left out")
    shared_by: int = Field(default=2, ge=1, le=12, description="joists that share the weight")
    at: Length | None = Field(default=None, description="from one bearing; the middle of the span if not given")
    deflection: Length | None = Field(default=None, description="what the isolators sag by under it")
    rubber: bool = Field(default=False, description="isolators of rubber; else springs")
    turns: Frequency | None = Field(default=None, description="lowest speed of the fan, turns in a second, as 20 Hz")
    extra: Mass = Field(default=0.0, description="ducts, frames and grilles that hang with it")

    @field_validator("hangers")
    @classmethod
    def _is_even(cls, count: int) -> int:
        if count % 2:
            raise Refusal("an odd number of hangers has no two rows", "give 2, 4, 6 or more")
        return count
