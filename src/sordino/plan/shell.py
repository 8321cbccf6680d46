"""Shells: the walls, floors and ceilings between spaces."""

from __future__ import annotations

import numpy as np
from pydantic import Field, model_validator

from sordino.bands import Bands, add
from sordino.elements import buildup
from sordino.quantities import Area, LossSpectrum, Statement
from sordino.tables import table


class Shell(Statement):
    """One surface between two spaces, by its measured or published loss, or by its layers."""

    between: tuple[str, str] = Field(description="the two rooms or spaces it parts")
    area: Area
    loss: LossSpectrum | None = Field(default=None, description="transmission loss per octave, dB")
    layers: tuple[buildup.Layer, ...] | None = Field(default=None, min_length=1)

    @model_validator(mode="after")
    def _has_a_loss(self) -> Shell:
        if (self.loss is None) == (self.layers is None):
            raise ValueError("a shell wants either loss (dB per octave) or layers")
        if self.layers is not None and not buildup.leaves(self.layers):
            raise ValueError("a shell wants at least one board among its layers")
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
