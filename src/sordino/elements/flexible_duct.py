"""Insulated flexible duct: a wire helix in thin film or cloth, a blanket of fibre and an outer jacket."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Annotated, ClassVar, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema, field_validator

from sordino.bands import Bands
from sordino.elements.element import Element, Wall, beyond
from sordino.elements.wrap import FLEXIBLE, Wrap
from sordino.errors import Refusal
from sordino.physics.air.flexible import compression_factor, pull
from sordino.physics.air.friction import friction_drop, roughness
from sordino.physics.air.properties import Air
from sordino.physics.sound.breakout import flexible_wall_loss
from sordino.physics.sound.flexible import flexible_duct
from sordino.physics.sound.flow_noise import duct_noise
from sordino.quantities import Length, Size, SurfaceMass, quantity, shown
from sordino.tables import table
from sordino.units import UnitError

MOST_SLACK = 0.45
"""Most compression that was ever measured."""


def slack(value: object) -> float:
    """Length missing from fully stretched, as a fraction: a word of the trade, or the share itself."""
    if isinstance(value, str) and value in table("air/pull").text("pull"):
        return pull(value)
    cure = 'write "tight", "ordinary", "slack", or the slack itself up to 45 %'
    try:
        share = quantity("fraction")(value)
    except UnitError:
        raise UnitError(f"{shown(value)} does not say how tight the duct is pulled", cure) from None
    if share > MOST_SLACK:
        raise UnitError(f"{shown(value)} is more slack than was ever measured", cure)
    return share


Slack = Annotated[
    float,
    BeforeValidator(slack),
    WithJsonSchema(
        {
            "type": "string",
            "description": "tight (4 %), ordinary (10 %), slack (30 %), or the share",
            "examples": ["tight"],
        }
    ),
]


def round_only(size: Size | None) -> Size | None:
    """The size, if it is a round one."""
    if size is not None and not size.round:
        raise Refusal("flexible duct is round, and {read} is not", "give one diameter, as 200 mm or 8 in")
    return size


@lru_cache(maxsize=4096)
def slack_factor(compression: float, diameter: float) -> float:
    """What slack multiplies the friction by; asked again at every step towards a balance of the air, so it is kept."""
    return float(compression_factor(compression, diameter))


class FlexibleDuct(Element):
    """A length as installed."""

    kind: Literal["flexible duct"] = Field(default="flexible duct", alias="is")
    length: Length = Field(description="length as installed")
    pull: Slack = Field(default=0.10, description="how far from fully stretched it hangs")
    wall_mass: SurfaceMass = Field(default=1.0, description="mass of film, fibre and jacket per area of wall")
    wrap: Wrap = Field(default=FLEXIBLE, description="its insulation and jacket, R-6 in plastic film if not given")

    scatter: ClassVar[str] = "flexible duct"
    noise_scatter: ClassVar[str] = "duct noise"
    loss_scatter: ClassVar[str] = "flexible duct"

    @field_validator("size")
    @classmethod
    def _is_round(cls, size: Size | None) -> Size | None:
        return round_only(size)

    @property
    def path_length(self) -> float:
        return self.length

    def pressure_loss(self, flow: float, air: Air) -> float:
        return self.pressure_curve(air)(flow)

    def pressure_curve(self, air: Air) -> Callable[[float], float]:
        diameter, area, length, rough = self.section.diameter, self.section.area, self.length, roughness("flexible")
        slackened = slack_factor(self.pull, diameter)
        return lambda flow: slackened * friction_drop(abs(flow), area, diameter, length, rough, air)

    def attenuation(self, air: Air) -> Bands:
        return flexible_duct(self.section.diameter, self.length)

    def own_noise(self, flow: float, air: Air) -> Bands:
        return duct_noise(self.velocity(flow), self.section.area)

    def wall(self) -> Wall:
        loss = flexible_wall_loss(self.wall_mass)
        outer = self.section.perimeter * self.length
        return Wall(breakout=loss, breakin=loss, outer_area=outer, inner_area=self.section.area)

    def notes(self) -> tuple[str, ...]:
        held = "8 kHz is not in the handbook table for flexible duct; the 4 kHz value is held"
        return (held, *beyond("flexible duct", diameter=self.section.diameter, length=self.length))
