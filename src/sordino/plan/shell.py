"""Shells: the walls, floors and ceilings between spaces."""

from __future__ import annotations

import numpy as np
from pydantic import Field, field_validator, model_validator

from sordino.bands import Bands, add
from sordino.elements import buildup
from sordino.errors import Refusal
from sordino.quantities import Area, LossSpectrum, Statement
from sordino.tables import table


class Shell(Statement):
    """One surface between two spaces, by its measured or published loss, or by its layers."""

    between: tuple[str, str] = Field(description="the two rooms or spaces it parts")
    area: Area
    loss: LossSpectrum | None = Field(default=None, description="transmission loss per octave, dB")
    layers: tuple[buildup.Layer, ...] | None = Field(default=None, min_length=1)

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
        return self

    @property
    def transmission_loss(self) -> Bands:
        """Per octave, dB, shape (9,); of layers no more than flanking lets a built shell have."""
        if self.loss is not None:
            return np.array(self.loss)
        assert self.layers is not None
        limit = table("sound/shell_ceiling")
        return -add(-buildup.transmission_loss(self.layers), -limit.numbers(*limit.columns)[0])

    @property
    def scatter_key(self) -> str:
        """Row of the scatter table."""
        return "shell loss given" if self.layers is None else buildup.scatter_key(self.layers)
