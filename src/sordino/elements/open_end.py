"""A bare duct end, in a room or in the open air."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from sordino.bands import Bands
from sordino.elements.element import Element, beyond
from sordino.physics.air.properties import Air
from sordino.physics.sound.flow_noise import open_end_noise
from sordino.quantities import Point, Size


class OpenEnd(Element):
    """A bare duct end, flush with a surface or standing free."""

    kind: Literal["open end"] = Field(default="open end", alias="is")
    flush: bool = Field(default=True, description="flush with a wall or ceiling")
    at: Point | None = Field(default=None, description="where it opens: along the room, across, and up from the floor")

    scatter: ClassVar[str] = "end reflection"
    noise_scatter: ClassVar[str] = "open end noise"
    loss_scatter: ClassVar[str] = "area change"
    squared: ClassVar[bool] = True
    terminal: ClassVar[bool] = True

    @property
    def mouth(self) -> Size:
        """The opening that radiates sound."""
        return self.section

    @property
    def free_opening(self) -> float:
        """Clear area, m2."""
        return self.section.area

    @property
    def jet(self) -> str:
        """Row of the jet table."""
        return "open end"

    def velocities(self, flow: float) -> dict[str, float]:
        return {"open end": self.velocity(flow)}

    def pressure_loss(self, flow: float, air: Air) -> float:
        return 0.0

    def own_noise(self, flow: float, air: Air) -> Bands:
        return open_end_noise(self.velocity(flow), self.section.area)

    def notes(self) -> tuple[str, ...]:
        return beyond("end reflection", diameter=self.mouth.diameter)
