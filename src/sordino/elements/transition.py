"""Changes of section: tapers, sudden steps and boots."""

from __future__ import annotations

from typing import ClassVar, Literal

import numpy as np
from pydantic import Field

from sordino.bands import LINES, Array, Bands
from sordino.elements.element import Element, local_loss
from sordino.physics.air import areas
from sordino.physics.air.properties import Air
from sordino.physics.sound.fourpole import cascade, lossy_line
from sordino.physics.sound.junctions import area_change
from sordino.quantities import Length, Size

FEWEST, LONGEST = 4, 0.05
"""Steps that stand for a taper at least, and their length at most, m: equal steps half a wave long would reflect."""


class Transition(Element):
    """A change from the run's size to the size `to`; without a length it is a sudden step."""

    kind: Literal["transition"] = Field(default="transition", alias="is")
    to: Size = Field(description="clear size at the far end")
    length: Length | None = Field(default=None, description="length of the taper; none means a sudden step")

    loss_scatter: ClassVar[str] = "area change"
    squared: ClassVar[bool] = True

    @property
    def outlet(self) -> Size:
        return self.to

    @property
    def path_length(self) -> float:
        return self.length or 0.0

    def velocities(self, flow: float) -> dict[str, float]:
        return {"duct": abs(flow) / min(self.section.area, self.to.area)}

    def pressure_loss(self, flow: float, air: Air) -> float:
        before, after = self.section.area, self.to.area
        if self.length is None:
            coefficient = (
                areas.sudden_expansion(before, after) if after > before else areas.sudden_contraction(before, after)
            )
        else:
            coefficient = areas.tapered(before, after, self.included_angle)
        return local_loss(float(coefficient), flow, min(before, after), air)

    @property
    def included_angle(self) -> float:
        """Angle between opposite sides of the taper, from equivalent diameters, degrees."""
        spread = abs(np.sqrt(self.to.area) - np.sqrt(self.section.area)) * 2.0 / np.sqrt(np.pi)
        return float(np.degrees(2.0 * np.arctan2(spread / 2.0, self.path_length or 1e-9)))

    def attenuation(self, air: Air) -> Bands:
        return np.full(9, float(area_change(self.section.area, self.to.area)))

    def four_pole(self, air: Air) -> Array:
        """Short lengths of rising area; the step's reflection comes from the areas themselves."""
        steps = max(FEWEST, int(np.ceil(self.path_length / LONGEST)))
        sections = np.linspace(np.sqrt(self.section.area), np.sqrt(self.to.area), 2 * steps + 1)[1::2] ** 2
        piece = self.path_length / steps
        return cascade([lossy_line(LINES, piece, area, 0.0, air.density, air.sound_speed) for area in sections])
