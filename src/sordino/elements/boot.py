"""Boots: the sheet-metal shoe between a round duct and the back of a grille."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from sordino.bands import LINES, Array
from sordino.elements.element import Element, local_loss
from sordino.physics.air.properties import Air
from sordino.physics.sound.fourpole import lossy_line
from sordino.quantities import Length, Size
from sordino.tables import table


class Boot(Element):
    """A boot from the run's size to a grille neck `to`, straight or turning through a right angle."""

    kind: Literal["boot"] = Field(default="boot", alias="is")
    to: Size = Field(description="clear size where the grille sits")
    turn: bool = Field(default=True, description="whether it turns through a right angle")
    length: Length = Field(default=0.25, description="length of the air path through the boot")

    loss_scatter: ClassVar[str] = "area change"
    squared: ClassVar[bool] = True

    @property
    def outlet(self) -> Size:
        return self.to

    @property
    def path_length(self) -> float:
        return self.length

    def pressure_loss(self, flow: float, air: Air) -> float:
        coefficient = float(table("air/boot").row("boot", "angle" if self.turn else "straight")["c"])
        return local_loss(coefficient, flow, self.section.area, air)

    def four_pole(self, air: Air) -> Array:
        """A short duct of the mean section; a boot has no published loss of its own, so none is credited."""
        mean = (self.section.area + self.to.area) / 2.0
        return lossy_line(LINES, self.length, mean, 0.0, air.density, air.sound_speed)
