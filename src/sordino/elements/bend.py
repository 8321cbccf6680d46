"""Bends of every make: smooth, gored, pleated, mitred, mitred with vanes, and bent flexible duct."""

from __future__ import annotations

from typing import ClassVar, Literal

import numpy as np
from pydantic import Field, field_validator

from sordino.bands import Bands
from sordino.elements.element import Element, beyond, local_loss
from sordino.errors import Refusal
from sordino.physics.air import bends
from sordino.physics.air.properties import Air
from sordino.physics.sound.bends import bend
from sordino.physics.sound.flow_noise import bend_noise
from sordino.quantities import Angle

Shape = Literal["smooth", "gored", "pleated", "mitred", "vaned", "flexible"]


class Bend(Element):
    """A turn of `angle`. `radius_ratio` is the centreline radius over the diameter or the width in its plane."""

    kind: Literal["bend"] = Field(default="bend", alias="is")
    shape: Shape = Field(default="smooth", description="how the bend is made")
    angle: Angle = Field(default=np.pi / 2, description="turn of the duct, as 90 deg")
    radius_ratio: float = Field(default=1.0, ge=0.5, le=5.0, description="centreline radius over diameter or width")
    lined: bool = Field(default=False, description="fibre lining in the bend and for two widths either side")

    scatter: ClassVar[str] = "bend"
    noise_scatter: ClassVar[str] = "bend noise"
    loss_scatter: ClassVar[str] = "bend"

    @field_validator("angle")
    @classmethod
    def _turns(cls, angle: float) -> float:
        if not 0.0 < angle <= np.pi * (1.0 + 1e-9):
            raise Refusal("no bend turns by {read}", "more than 0 deg and at most 180 deg are wanted, as 90 deg")
        return angle

    @property
    def path_length(self) -> float:
        return self.angle * self.radius_ratio * self.section.width

    def pressure_loss(self, flow: float, air: Air) -> float:
        return local_loss(self.coefficient(flow, air), flow, self.section.area, air)

    def coefficient(self, flow: float, air: Air) -> float:
        """Loss coefficient on the duct's velocity pressure."""
        size, angle, ratio = self.section, float(np.degrees(self.angle)), self.radius_ratio
        if self.shape == "flexible":
            return float(bends.flexible_bend(angle, ratio))
        if self.shape == "vaned":
            return float(bends.vaned_mitre())
        if self.shape == "mitred":
            reynolds = air.density * self.velocity(flow) * size.hydraulic_diameter / air.viscosity
            if size.round:
                return float(bends.mitred_round(angle, reynolds))
            return float(bends.mitred_rectangular(angle, size.height, size.width, reynolds))
        if not size.round:
            return float(bends.smooth_rectangular(ratio, size.height / size.width, angle))
        if self.shape == "pleated":
            return float(bends.pleated_round(size.diameter, angle))
        if self.shape == "gored":
            return float(bends.gored_round(5, ratio, angle))
        return float(bends.smooth_round(ratio, angle))

    def attenuation(self, air: Air) -> Bands:
        handbook: Literal["mitred", "vaned", "smooth"] = (
            self.shape if self.shape == "mitred" or self.shape == "vaned" else "smooth"
        )
        whole = bend(self.section.width, handbook, self.lined, air.sound_speed)
        return whole * min(1.0, self.angle / (np.pi / 2))

    def own_noise(self, flow: float, air: Air) -> Bands:
        return bend_noise(self.velocity(flow), self.section.area, self.section.height)

    def notes(self) -> tuple[str, ...]:
        return beyond("bend", width=self.section.width)
