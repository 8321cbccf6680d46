"""The statement of a lined box: a prism of given inside size, its casing, what leads through it and what fills it."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field, PrivateAttr, field_validator, model_validator

from sordino.elements import buildup
from sordino.elements.box_as_built import AsBuilt, MeasuredLoss
from sordino.elements.flexible_duct import Slack, round_only
from sordino.elements.wrap import BARE, Wrap
from sordino.errors import Refusal
from sordino.physics.wave.fibre import resistivity_bies_hansen
from sordino.quantities import Angle, Density, FlowResistivity, Length, NotNegative, Size, Statement, SurfaceMass

PLYWOOD_18 = (buildup.Layer.model_validate({"board": "plywood", "thickness": "18 mm"}),)
Face = Literal["left", "right", "floor", "ceiling", "left slope", "right slope", "front", "back"]
Family = Literal["serpentine", "labyrinth", "straight", "plenum", "shallow", "custom"]
SMALLEST, LARGEST = 0.06, 6.0
"""Inside sides of a box that are believed, m (judgement)."""
HEAVIEST_CORE = 2.0
"""Mass of a flexible duct's core above which it is none, kg/m2 (judgement)."""
MOST_SLANT = math.radians(60.0)
"""At this slant the hole for a duct is twice as long as the duct is wide, rad (judgement)."""
THICKEST_DIVIDER = 0.1
"""Thickness above which a divider is a block, m (judgement)."""
SINGLE: tuple[Family, ...] = ("straight", "plenum")
"""Families with one pass."""
FOLDED: tuple[Family, ...] = ("serpentine", "labyrinth", "shallow")
"""Families whose passes lie beside one another between dividers."""


class Slope(Statement):
    """A roof slope that cuts a top corner off the profile."""

    run: Length = Field(description="how far the slope reaches along the box")
    drop: Length = Field(description="how far it comes down the end wall")


class Fill(Statement):
    """Fibre: by its density, or by its flow resistivity if a test sheet gives it."""

    density: Density = Field(default=12.0, description="density of the fibre as installed")
    flow_resistivity: FlowResistivity | None = Field(default=None, description="from a test sheet; else from density")

    facing: Literal["tissue", "film", "none", "unknown"] = Field(
        default="unknown", description="what keeps its fibres in where the air passes"
    )
    burning: Literal["does not burn", "rated", "burns", "unknown"] = Field(
        default="unknown", description="in fire: rated if its sheet says flame spread 25, smoke 50 or less"
    )

    @property
    def resistivity(self) -> float:
        """Flow resistivity, Pa s/m2; of glass fibre 6 µm thick where only the density is known."""
        if self.flow_resistivity is not None:
            return self.flow_resistivity
        return float(resistivity_bies_hansen(self.density, 6e-6))


class Mouth(Statement):
    """Where a duct meets the box: on which face, how far along and across it, and at what slant."""

    face: Face = Field(description="the face the duct goes through")
    along: NotNegative = Field(
        description="up from the floor on an end, up a slope from its lower edge, else along the box"
    )
    across: NotNegative | None = Field(default=None, description="from the front; the middle if not given")
    slant: Angle = Field(
        default=0.0,
        description="how far the duct leans from square to the face, as 30 deg: on its way out up an end or a slope, "
        "else towards the right end; below 0 the other way",
    )

    @field_validator("slant")
    @classmethod
    def _goes_through(cls, slant: float) -> float:
        if abs(slant) > MOST_SLANT + 1e-9:
            raise Refusal(
                "a duct at {read} from square runs along its face more than through it",
                "let it lean 60 deg at the most, and put a bend before the box for the rest",
            )
        return slant


class Divider(Statement):
    """A board over the full width, drawn in the profile by two opposite corners, along and up."""

    start: tuple[NotNegative, NotNegative] = Field(alias="from", description="one corner: along and up")
    end: tuple[NotNegative, NotNegative] = Field(alias="to", description="the opposite corner: along and up")

    @model_validator(mode="after")
    def _is_a_board(self) -> Divider:
        sides = [abs(one - other) for one, other in zip(self.start, self.end, strict=True)]
        if min(sides) > THICKEST_DIVIDER:
            raise Refusal(
                "a divider from corner to corner as thick as that is a block; boards at a slant can't be stated",
                "let `from` and `to` lie a board's thickness apart one way",
            )
        return self


class Lining(Statement):
    """Fibre of even thickness on one inside face."""

    face: Face = Field(description="the inside face it covers")
    thickness: Length = Field(description="how thick it is")


class Box(Statement):
    """A box by inside dimensions. A family lays itself out; `custom` states mouths, dividers and duct or linings."""

    family: Family = Field(
        description="serpentine: flexible duct folded in fibre; labyrinth: open lined passage between dividers; "
        "straight: one lined passage; plenum: one lined chamber with offset mouths; shallow: lined passages side by "
        "side; custom: as stated"
    )
    length: Length = Field(description="inside length, along the passes")
    width: Length = Field(description="inside width, across the passes")
    height: Length = Field(description="inside height, over which the passes are stacked")
    left_slope: Slope | None = Field(default=None, description="roof slope over the left end")
    right_slope: Slope | None = Field(default=None, description="roof slope over the right end")
    passes: int = Field(default=2, ge=1, le=9, description="how often the air goes along the box")
    lining: Length = Field(default=0.05, description="fibre thickness on each lined face, or round the duct at a turn")
    divider: Length = Field(default=0.018, description="thickness of the dividers")
    divider_board: str = Field(default="plywood", description="what the dividers are made of")
    duct: Size | None = Field(default=None, description="flexible duct inside; the run's size if not given")
    bend_radius: Length | None = Field(
        default=None, description="of its centreline; as wide as the passes allow if not given"
    )
    pull: Slack = Field(default=0.10, description="how far from fully stretched that duct lies")
    core: SurfaceMass | None = Field(default=None, description="mass of that duct's film core; none lets sound through")
    fill: Fill = Field(default=Fill(), description="the fibre of lining or filling")
    inlet: Mouth | None = Field(default=None, description="where the run comes in; as the family has it if not given")
    outlet: Mouth | None = Field(default=None, description="where the run goes out; as the family has it if not given")
    dividers: tuple[Divider, ...] = Field(default=(), description="boards of a custom box")
    linings: tuple[Lining, ...] = Field(default=(), description="lined faces of a custom box")
    centreline: tuple[tuple[NotNegative, NotNegative], ...] = Field(
        default=(), description="corners of the flexible duct's centreline in the profile, along and up"
    )
    shell: tuple[buildup.Layer, ...] = Field(default=PLYWOOD_18, min_length=1, description="layers of the casing")
    faces: dict[Face, tuple[buildup.Layer, ...]] = Field(
        default_factory=dict, description="layers of single faces that differ from the rest"
    )
    as_built: AsBuilt = Field(default=AsBuilt(), description="dimensions as measured; they replace those drawn")
    measured: MeasuredLoss | None = Field(default=None, description="loss as measured in place, by octave band")
    _drawn: dict[str, float] = PrivateAttr(default_factory=dict)

    wrap: Wrap = Field(default=BARE, description="insulation and jacket round the outside")

    @field_validator("length", "width", "height")
    @classmethod
    def _is_a_boxes(cls, side: float) -> float:
        if not SMALLEST <= side <= LARGEST:
            raise Refusal("{read} is no size for a box", "boxes from 60 mm to 6 m can be assessed")
        return side

    @model_validator(mode="after")
    def _is_as_built(self) -> Box:
        """What was measured stands in place of what was drawn."""
        for key, value in self.as_built.given.items():
            if key in ("length", "width", "height") and not SMALLEST <= value <= LARGEST:
                raise Refusal(f"the measured {key} is no size for a box", "boxes from 60 mm to 6 m can be assessed")
            self._drawn.setdefault(key, getattr(self, key))
            self.__dict__[key] = value
        return self

    @field_validator("duct")
    @classmethod
    def _is_round(cls, duct: Size | None) -> Size | None:
        return round_only(duct)

    @model_validator(mode="after")
    def _is_whole(self) -> Box:
        if self.family in SINGLE and self.passes != 1:
            raise Refusal(f"a {self.family} box has one pass", 'write passes = 1, or choose family = "labyrinth"')
        written = [name for name in ("dividers", "linings", "centreline") if getattr(self, name)]
        if self.family != "custom" and written:
            raise Refusal(f"a {self.family} box lays out its own {written[0]}", 'write family = "custom" to give them')
        if self.family == "custom" and (self.inlet is None or self.outlet is None):
            raise Refusal(
                "a custom box does not say where its ducts join", "give inlet and outlet, each with face and along"
            )
        if self.family == "custom" and not (self.linings or self.centreline):
            raise Refusal(
                "a custom box holds neither lining nor duct", "give linings, or the centreline of a flexible duct"
            )
        for layers in (self.shell, *self.faces.values()):
            if not buildup.leaves(layers):
                raise Refusal(
                    "a casing has no board among its layers", 'add one, as { board = "plywood", thickness = "18 mm" }'
                )
            if any(layer.studs is not None for layer in layers):
                raise Refusal("a box has no studs in its cavities: its boards stand on spacers", "leave studs out")
        return self

    @model_validator(mode="after")
    def _has_its_slopes(self) -> Box:
        for side, slope in (("left", self.left_slope), ("right", self.right_slope)):
            if slope is None and f"{side} slope" in self.faces:
                raise Refusal(f"faces has layers for a {side} slope, but there is none", f"state {side}_slope too")
            if slope is not None and (slope.run > self.length or slope.drop > self.standing[0]):
                raise Refusal(f"the {side} slope is longer or deeper than the box", "let it run and drop less")
        return self

    @field_validator("core")
    @classmethod
    def _is_a_film(cls, mass: float | None) -> float | None:
        if mass is not None and mass > HEAVIEST_CORE:
            raise Refusal("{read} is no film", "cores of flexible duct weigh up to 2 kg/m2")
        return mass

    @property
    def drawn(self) -> dict[str, float]:
        """Dimensions that were drawn otherwise than they were measured, m."""
        return {key: value for key, value in self._drawn.items() if abs(value - getattr(self, key)) > 1e-9}

    @property
    def holds_duct(self) -> bool:
        """Whether a flexible duct leads through it; else the passage is open."""
        return self.family == "serpentine" or bool(self.centreline)

    @property
    def standing(self) -> tuple[float, float]:
        """Height and width as the passes see them: a shallow box lies on its side, m."""
        return (self.width, self.height) if self.family == "shallow" else (self.height, self.width)

    @property
    def pass_height(self) -> float:
        """Height of one pass between dividers, before lining, m."""
        height, _ = self.standing
        count = self.passes if self.family in FOLDED else 1
        return (height - (count - 1) * self.divider) / count

    def layers(self, face: str) -> tuple[buildup.Layer, ...]:
        """The casing on one face."""
        return {str(name): layers for name, layers in self.faces.items()}.get(face, self.shell)
