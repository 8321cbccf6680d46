"""Shells: the walls, floors and ceilings between spaces."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from pydantic import Field, field_validator, model_validator

from sordino.bands import Bands, add
from sordino.elements import buildup
from sordino.errors import Refusal
from sordino.physics.sound.panels import composite_loss
from sordino.physics.sound.slits import slit_loss
from sordino.plan.limits import within
from sordino.quantities import Area, Length, LossSpectrum, Statement
from sordino.tables import table

DEEP = 0.1
"""Depth of a gap through a shell of which no thickness is known, m."""


Narrow = Annotated[
    Length,
    within(0.0, 0.05, "{read} is an opening, not a gap", "state gaps up to 50 mm; a larger opening is a run"),
]


class Gap(Statement):
    """A straight gap that goes through the whole shell."""

    length: Length
    width: Narrow = Field(description="clear width, at most 50 mm")
    depth: Length | None = Field(default=None, description="way through the shell; its thickness if not given")

    @property
    def area(self) -> float:
        """Open area, m2."""
        return self.length * self.width


class Shell(Statement):
    """One surface between two spaces, by its measured or published loss, or by its layers."""

    between: tuple[str, str] = Field(description="the two rooms or spaces it parts")
    area: Area = Field(description="how much of it parts the two")
    loss: LossSpectrum | None = Field(default=None, description="transmission loss per octave, dB")
    layers: tuple[buildup.Layer, ...] | None = Field(
        default=None, min_length=1, description="its sheets and cavities, from the first place to the second"
    )
    fire_rated: bool = Field(default=False, description="whether it must hold fire back for a stated time")
    gaps: tuple[Gap, ...] = Field(default=(), description="gaps that nobody sealed")

    @field_validator("layers")
    @classmethod
    def _hold_a_board(cls, layers: buildup.Buildup | None) -> buildup.Buildup | None:
        if layers is not None and not buildup.leaves(layers):
            raise Refusal("there is no board among these layers", 'add one, as { board = "OSB", thickness = "18 mm" }')
        return layers

    @model_validator(mode="after")
    def _has_a_loss(self) -> Shell:
        if self.loss is None and self.layers is None:
            raise Refusal("nothing tells what this shell loses", "give its loss (dB per octave) or its layers")
        if self.loss is not None and self.layers is not None:
            raise Refusal("this shell has both loss and layers", "keep one of them")
        if sum(gap.area for gap in self.gaps) > self.area / 2.0:
            raise Refusal("the gaps take more than half of this shell", "check their sizes, and the shell's area")
        return self

    @property
    def transmission_loss(self) -> Bands:
        """Per octave, gaps and all, dB, shape (9,)."""
        if not self.gaps:
            return self.sealed_loss
        areas = [self.area - sum(gap.area for gap in self.gaps), *(gap.area for gap in self.gaps)]
        return composite_loss(areas, [self.sealed_loss, *map(self._gap_loss, self.gaps)])

    def _gap_loss(self, gap: Gap) -> Bands:
        thickness = buildup.thickness(self.layers) if self.layers is not None else DEEP
        return slit_loss(gap.width, gap.depth or thickness)

    @property
    def sealed_loss(self) -> Bands:
        """The same without its gaps; of layers no more than flanking lets a built shell have."""
        if self.loss is not None:
            return np.array(self.loss)
        assert self.layers is not None
        limit = table("sound/shell_ceiling")
        return -add(-buildup.transmission_loss(self.layers), -limit.numbers(*limit.columns)[0])

    @property
    def scatter_key(self) -> str:
        """Row of the scatter table."""
        return "shell loss given" if self.layers is None else buildup.scatter_key(self.layers)
