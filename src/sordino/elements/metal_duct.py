"""Straight duct of sheet metal, round or rectangular, bare or lined inside with fibre."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Literal

import numpy as np
from pydantic import Field, PrivateAttr, field_validator

from sordino.bands import Bands
from sordino.elements.element import Element, Wall, beyond
from sordino.elements.wrap import BARE_METAL, Wrap
from sordino.errors import Refusal
from sordino.physics.air.friction import friction_drop, roughness
from sordino.physics.air.properties import Air
from sordino.physics.sound import breakout, ducts
from sordino.physics.sound.flow_noise import duct_noise
from sordino.quantities import Length, Size, SurfaceMass

LIGHTEST = 0.3
"""Least mass of a duct wall, kg/m2: a tenth of a millimetre of aluminium (judgement)."""


class MetalDuct(Element):
    """A straight length. `size` is the clear inside, after the lining."""

    kind: Literal["metal duct"] = Field(default="metal duct", alias="is")
    length: Length = Field(description="length along the duct")
    lining: Length | None = Field(default=None, description="thickness of fibre lining inside")
    sheet: SurfaceMass = Field(default=4.9, description="mass of the sheet per area; 4.9 kg/m² is 0.6 mm steel")
    wrap: Wrap = Field(default=BARE_METAL, description="insulation and jacket round the outside, none if not given")

    _share: float = PrivateAttr(default=1.0)

    loss_scatter: ClassVar[str] = "friction"
    noise_scatter: ClassVar[str] = "duct noise"

    @field_validator("sheet")
    @classmethod
    def _weighs_something(cls, mass: float) -> float:
        if mass < LIGHTEST:
            raise Refusal(
                "no duct wall is as light as {read}", "2 kg/m2 to 20 kg/m2 is usual; 0.6 mm steel weighs 4.9 kg/m2"
            )
        return mass

    @property
    def scatter_key(self) -> str:
        """The published method used, by its row in the scatter table."""
        if self.lining is None:
            return "unlined duct"
        return "lined round duct" if self.section.round else "lined rectangular duct"

    @property
    def path_length(self) -> float:
        return self.length

    def pressure_loss(self, flow: float, air: Air) -> float:
        return self.pressure_curve(air)(flow)

    def pressure_curve(self, air: Air) -> Callable[[float], float]:
        section, length, rough = self.section, self.length, roughness("lined" if self.lining else "galvanised")
        area, diameter = section.area, section.hydraulic_diameter
        return lambda flow: friction_drop(abs(flow), area, diameter, length, rough, air)

    def attenuation(self, air: Air) -> Bands:
        if self.lining is None:
            return _bare(self.section, insulated=self.wrap.r > 0.0) * self.length
        return np.minimum(_lined(self.section, self.lining) * self.length, ducts.LINED_CAP * self._share)

    def sharing(self, share: float) -> MetalDuct:
        """The same length as a `share` of all lined duct in its run: the most that a run may show is shared out."""
        one = self.model_copy()
        one._share = share
        return one

    def own_noise(self, flow: float, air: Air) -> Bands:
        return duct_noise(self.velocity(flow), self.section.area)

    def notes(self) -> tuple[str, ...]:
        method, size = self.scatter_key, self.section
        if self.lining is None:
            return beyond(method, diameter=size.diameter)
        if size.round:
            return beyond(method, diameter=size.diameter, thickness=self.lining, length=self.length)
        narrow = size.perimeter / size.area
        return beyond(method, perimeter_per_area=narrow, thickness=self.lining, length=self.length)

    def wall(self) -> Wall:
        section = self.section
        outer = section.perimeter * self.length
        if section.round:
            loss = breakout.round_breakout_loss(section.diameter)
            return Wall(breakout=loss, breakin=loss, outer_area=outer, inner_area=section.area)
        out = breakout.rectangular_breakout_loss(section.width, section.height, self.sheet, self.length)
        back = breakout.rectangular_breakin_loss(section.width, section.height, self.sheet, self.length)
        return Wall(breakout=out, breakin=back, outer_area=outer, inner_area=section.area)


def _bare(size: Size, insulated: bool = False) -> Bands:
    if size.round:
        return ducts.round_unlined(size.diameter)
    return ducts.rectangular_unlined(size.width, size.height, insulated)


def _lined(size: Size, thickness: float) -> Bands:
    if size.round:
        return ducts.round_lined(size.diameter, thickness)
    return ducts.rectangular_lining(size.width, size.height, thickness) + _bare(size)
