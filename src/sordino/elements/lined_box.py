"""The lined box: a heavy, airtight casing in which the duct is folded or the passage lined.

Until the sound field fills the same interface, the loss is a handbook estimate: the passage as lined duct (or
flexible duct buried in fibre), its turns as lined mitred bends, and a chamber whose steps of area reflect.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import ClassVar, Literal

import numpy as np
from pydantic import Field, field_validator, model_validator

from sordino.bands import LINES, Array, Bands, add, at_lines
from sordino.elements import buildup
from sordino.elements.element import Element, Wall, local_loss
from sordino.elements.flexible_duct import Slack, round_only, slack_factor
from sordino.elements.lining import fibre_absorption
from sordino.errors import Refusal
from sordino.physics.air import areas, bends
from sordino.physics.air.friction import friction_drop, roughness
from sordino.physics.air.properties import Air
from sordino.physics.sound import ducts
from sordino.physics.sound.bends import bend
from sordino.physics.sound.cut_on import cut_on_rectangular
from sordino.physics.sound.flexible import flexible_duct
from sordino.physics.sound.flow_noise import bend_noise
from sordino.physics.sound.fourpole import lossy_line
from sordino.physics.sound.plenum import plenum_wells
from sordino.quantities import Length, Size, Statement
from sordino.tables import table

PLYWOOD_18 = (buildup.Layer.model_validate({"board": "plywood", "thickness": "18 mm"}),)


SMALLEST, LARGEST = 0.06, 6.0
"""Inside sides of a box that are believed, m (judgement)."""

FAST = 1e6
"""A Reynolds number at which a mitred bend has its whole coefficient."""

LEAST_PASSAGE = 0.02
"""Clear side of a passage below which it counts as closed, m (judgement)."""


class Box(Statement):
    """A box by family and inside dimensions. Passes lie one above the other over the height."""

    family: Literal["serpentine", "labyrinth", "straight", "plenum"] = Field(
        description="serpentine: flexible duct folded in fibre; labyrinth: open lined passage between dividers; "
        "straight: one lined passage; plenum: one lined chamber with offset openings"
    )
    length: Length = Field(description="inside length, along the passes")
    width: Length = Field(description="inside width, across the passes")
    height: Length = Field(description="inside height, over which the passes are stacked")
    passes: int = Field(default=2, ge=1, le=9, description="how often the air goes along the box")
    lining: Length = Field(default=0.05, description="fibre thickness on each lined face of the passage")
    divider: Length = Field(default=0.018, description="thickness of the dividers between passes")
    duct: Size | None = Field(default=None, description="flexible duct inside a serpentine box; the run's if not given")
    pull: Slack = Field(default=0.10, description="how far from fully stretched that duct lies")
    shell: tuple[buildup.Layer, ...] = Field(default=PLYWOOD_18, min_length=1, description="layers of the casing")

    @field_validator("length", "width", "height")
    @classmethod
    def _is_a_boxes(cls, side: float) -> float:
        if not SMALLEST <= side <= LARGEST:
            raise Refusal("{read} is no size for a box", "boxes from 60 mm to 6 m can be assessed")
        return side

    @field_validator("duct")
    @classmethod
    def _is_round(cls, duct: Size | None) -> Size | None:
        return round_only(duct)

    @model_validator(mode="after")
    def _has_a_passage(self) -> Box:
        if self.family in ("straight", "plenum") and self.passes != 1:
            raise Refusal(f"a {self.family} box has one pass", 'write passes = 1, or choose family = "labyrinth"')
        if self.family == "serpentine":
            return self
        if min(self.passage_height, self.passage_width) < LEAST_PASSAGE:
            broad = 2 * self.lining * (self.family in ("straight", "plenum")) + 0.05
            need = self.passes * (2 * self.lining + 0.05) + (self.passes - 1) * self.divider
            high, wide = (f"{1e3 * max(side, 0.0):.0f}" for side in (self.passage_height, self.passage_width))
            side, least = ("height", need) if self.passage_height < LEAST_PASSAGE else ("width", broad)
            raise Refusal(
                f"lining and dividers leave a passage {high} mm high and {wide} mm wide",
                f"make the inside {side} at least {1e3 * least:.0f} mm, thin the lining, or take fewer passes",
            )
        return self

    @property
    def pass_height(self) -> float:
        """Height of one pass between dividers, before lining, m."""
        return (self.height - (self.passes - 1) * self.divider) / self.passes

    @property
    def passage_height(self) -> float:
        """Clear height of the passage after lining, m."""
        return self.pass_height - 2.0 * self.lining

    @property
    def passage_width(self) -> float:
        """Clear width of the passage: its sides are lined in a straight box and a plenum only, m."""
        return self.width - 2.0 * self.lining * (self.family in ("straight", "plenum"))

    @property
    def surface(self) -> float:
        """Inside surface of the casing, m2."""
        return 2.0 * (self.length * self.width + self.length * self.height + self.width * self.height)


@dataclass(frozen=True, kw_only=True, slots=True)
class Passage:
    """The air path through a box: its section, length and number of right-angle turns."""

    size: Size
    length: float
    turns: int


class LinedBox(Element):
    """A place in a run where the box of that name stands."""

    kind: Literal["lined box"] = Field(default="lined box", alias="is")
    box: str = Field(description="name of a [box.NAME] table")
    build: Box | None = Field(default=None, exclude=True, description="filled in from that table; not written here")

    scatter: ClassVar[str] = "lined box estimate"
    noise_scatter: ClassVar[str] = "bend noise"
    loss_scatter: ClassVar[str] = "box"

    def label(self) -> str:
        return f"box {self.box}"

    @property
    def plan(self) -> Box:
        """The box's own statement, once the file has been read."""
        assert self.build is not None, "a box is given its plan when the file is read"
        return self.build

    @property
    def passage(self) -> Passage:
        """The air path inside."""
        box = self.plan
        turns = 2 * (box.passes - 1)
        if box.family == "serpentine":
            duct = box.duct or self.section
            folds = (box.passes - 1) * np.pi / 2.0 * box.pass_height
            return Passage(size=duct, length=box.passes * max(box.length - box.pass_height, 0.0) + folds, turns=turns)
        size = Size.rectangle(box.passage_width, box.passage_height)
        return Passage(size=size, length=box.passes * box.length, turns=turns)

    @property
    def path_length(self) -> float:
        return self.passage.length

    @property
    def wave_area(self) -> float:
        """Gross section of one pass: below cut-on the wave fills the fibre too."""
        return self.plan.width * self.plan.pass_height

    def cut_on(self, air: Air) -> float:
        """That of the duct or of one pass's cross-section, whichever is lower: the estimate knows plane waves only."""
        across = float(cut_on_rectangular(max(self.plan.width, self.plan.pass_height), air.sound_speed))
        return min(super().cut_on(air), across)

    def velocities(self, flow: float) -> dict[str, float]:
        return {"box passage": abs(flow) / self.passage.size.area, "duct": self.velocity(flow)}

    def pressure_loss(self, flow: float, air: Air) -> float:
        return self.pressure_curve(air)(flow)

    def pressure_curve(self, air: Air) -> Callable[[float], float]:
        curves = tuple(self._pressure_curves(air).values())
        return lambda flow: sum([curve(flow) for curve in curves])

    def pressure_lines(self, flow: float, air: Air) -> dict[str, float]:
        """Pressure lost in the box, line by line, Pa."""
        return {label: curve(flow) for label, curve in self._pressure_curves(air).items()}

    def _pressure_curves(self, air: Air) -> dict[str, Callable[[float], float]]:
        duct, inside = self.section.area, self.passage.size.area
        return {
            "entry": _squared(_step(duct, inside), min(duct, inside), air),
            "passage": self._friction_curve(air),
            "turns": self._turns_curve(air),
            "exit": _squared(_step(inside, duct), min(duct, inside), air),
        }

    def _friction_curve(self, air: Air) -> Callable[[float], float]:
        folded, passage = self.plan.family == "serpentine", self.passage
        area, diameter, length = passage.size.area, passage.size.hydraulic_diameter, passage.length
        rough = roughness("flexible" if folded else "lined")
        slack = slack_factor(self.plan.pull, passage.size.diameter) if folded else 1.0
        return lambda flow: slack * friction_drop(abs(flow), area, diameter, length, rough, air)

    def _turns_curve(self, air: Air) -> Callable[[float], float]:
        size, turns = self.passage.size, self.passage.turns
        if self.plan.family == "serpentine":
            one = bends.flexible_bend(90.0, max(0.5, self.plan.pass_height / 2.0 / size.diameter))
            return _squared(turns * float(one), size.area, air)
        whole = _squared(turns * float(bends.mitred_rectangular(90.0, size.width, size.height, FAST)), size.area, air)
        per_flow = air.density / size.area * size.hydraulic_diameter / air.viscosity
        return lambda flow: whole(flow) * float(bends.reynolds_factor(per_flow * abs(flow))) if turns else 0.0

    def attenuation(self, air: Air) -> Bands:
        """Handbook estimate of the passage and its turns, dB; a plenum by Wells."""
        box, passage = self.plan, self.passage
        if box.family == "plenum":
            return self._plenum()
        if box.family == "serpentine":
            return flexible_duct(passage.size.diameter, passage.length) + self._turns("smooth", lined=False, air=air)
        lining = ducts.rectangular_lining(passage.size.width, passage.size.height, box.lining)
        return lining * passage.length + self._turns("mitred", lined=True, air=air)

    def _turns(self, shape: Literal["mitred", "smooth"], lined: bool, air: Air) -> Bands:
        return self.passage.turns * bend(self.passage.size.height, shape, lined, air.sound_speed)

    def _plenum(self) -> Bands:
        box = self.plan
        offset = np.hypot(box.height, box.width) / 2.0
        distance = float(np.hypot(box.length, offset))
        absorption = fibre_absorption(box.lining)
        angle = float(np.arctan2(offset, box.length))
        return plenum_wells(self.section.area, distance, angle, box.surface, absorption)

    def four_pole(self, air: Air) -> Array:
        """A lossy chamber: the passage's loss over its length in the gross section, whose steps reflect."""
        loss = at_lines(self.attenuation(air) if self.plan.family != "plenum" else np.zeros(9))
        length = self.plan.length * self.plan.passes
        return lossy_line(LINES, length, self.wave_area, loss, air.density, air.sound_speed)

    def own_noise(self, flow: float, air: Air) -> Bands:
        """Turbulence at the turns of the passage, at the outlet, after nothing has been taken off, dB."""
        size = self.passage.size
        one = bend_noise(abs(flow) / size.area, size.area, size.height)
        return one + 10.0 * np.log10(max(self.passage.turns, 1))

    def ceiling(self) -> Bands:
        """What goes round the passage: the shell twice over, and the stated default, dB."""
        through = 2.0 * buildup.transmission_loss(self.plan.shell)
        return -add(-default_ceiling(), -through)

    def wall(self) -> Wall:
        loss = buildup.transmission_loss(self.plan.shell)
        return Wall(breakout=loss, breakin=loss, outer_area=self.plan.surface, inner_area=self.wave_area)

    def notes(self) -> tuple[str, ...]:
        return ("the box's loss is a handbook estimate",)


def default_ceiling() -> Bands:
    """The stated default of the most that one box can give, dB, shape (9,) (judgement, half-width 5 dB)."""
    known = table("sound/ceiling")
    return known.numbers(*known.columns)[0]


@cache
def _squared(coefficient: float, area: float, air: Air) -> Callable[[float], float]:
    """Pressure lost by a constant coefficient on the velocity pressure in `area`."""
    one = local_loss(coefficient, 1.0, area, air)
    return lambda flow: one * flow * flow


def _step(before: float, after: float) -> float:
    return float(areas.sudden_expansion(before, after) if after > before else areas.sudden_contraction(before, after))
