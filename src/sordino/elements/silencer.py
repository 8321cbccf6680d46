"""A bought silencer with its maker's figures."""

from __future__ import annotations

from typing import ClassVar, Literal

import numpy as np
from pydantic import Field, field_validator

from sordino.bands import Bands
from sordino.elements.element import Element
from sordino.errors import Refusal
from sordino.physics.air.properties import Air
from sordino.quantities import Flow, Length, LossSpectrum, Pressure, Spectrum


class Silencer(Element):
    """A silencer whose insertion loss and pressure drop are known."""

    kind: Literal["silencer"] = Field(default="silencer", alias="is")
    length: Length
    loss: LossSpectrum = Field(description="insertion loss per octave, 63 Hz up (or 31.5 Hz up)")
    drop: Pressure = Field(description="pressure drop stated by the maker")
    at: Flow = Field(description="flow the drop was stated at")
    noise: Spectrum | None = Field(default=None, description="own sound power per octave at that flow")

    scatter: ClassVar[str] = "silencer data"
    noise_scatter: ClassVar[str] = "silencer noise"
    loss_scatter: ClassVar[str] = "box"
    squared: ClassVar[bool] = True

    @field_validator("at")
    @classmethod
    def _is_moving(cls, flow: float) -> float:
        if flow <= 0.0:
            raise Refusal("no pressure is lost at {read}", "give the flow of the maker's figure, as 100 L/s")
        return flow

    @property
    def path_length(self) -> float:
        return self.length

    def pressure_loss(self, flow: float, air: Air) -> float:
        return self.drop * (flow / self.at) ** 2

    def attenuation(self, air: Air) -> Bands:
        return np.array(self.loss)

    def own_noise(self, flow: float, air: Air) -> Bands | None:
        if self.noise is None:
            return None
        return np.array(self.noise) + 55.0 * np.log10(max(abs(flow), 1e-6) / self.at)
