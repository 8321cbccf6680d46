"""Volume dampers: blades in the duct that take up surplus pressure."""

from __future__ import annotations

from typing import ClassVar, Literal

import numpy as np
from pydantic import Field, field_validator

from sordino.bands import Bands
from sordino.elements.element import Element, local_loss
from sordino.errors import Refusal
from sordino.physics.air.dampers import blade_damper
from sordino.physics.air.properties import Air
from sordino.physics.sound.flow_noise import damper_noise
from sordino.quantities import Angle


class Damper(Element):
    """A single-blade damper turned by `angle` from fully open."""

    kind: Literal["damper"] = Field(default="damper", alias="is")
    angle: Angle = Field(default=0.0, description="blade angle from fully open, as 20 deg")

    noise_scatter: ClassVar[str] = "damper noise"
    loss_scatter: ClassVar[str] = "damper"
    squared: ClassVar[bool] = True

    @field_validator("angle")
    @classmethod
    def _turns(cls, angle: float) -> float:
        if not 0.0 <= angle <= np.radians(90.0) * (1.0 + 1e-9):
            raise Refusal("no damper turns by {read}", "0 deg (open) to 90 deg (shut) is wanted, as 20 deg")
        return angle

    @property
    def coefficient(self) -> float:
        """Loss coefficient on the duct's velocity pressure."""
        shape: Literal["round", "rectangular"] = "round" if self.section.round else "rectangular"
        return float(blade_damper(np.degrees(self.angle), shape))

    def pressure_loss(self, flow: float, air: Air) -> float:
        return local_loss(self.coefficient, flow, self.section.area, air)

    def own_noise(self, flow: float, air: Air) -> Bands:
        return damper_noise(self.velocity(flow), self.section.area, self.pressure_loss(flow, air))

    def notes(self) -> tuple[str, ...]:
        if self.angle > np.radians(45):
            return ("a damper more than half shut whistles; lose the pressure upstream of the box instead",)
        return ()
