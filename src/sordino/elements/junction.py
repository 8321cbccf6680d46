"""Where runs meet: a branch, or a plenum box."""

from __future__ import annotations

from typing import Annotated, Literal

import numpy as np
from pydantic import Field

from sordino.bands import LINES, Array, Bands
from sordino.elements.lining import fibre_absorption
from sordino.physics.air import branches
from sordino.physics.air.properties import Air
from sordino.physics.sound.cut_on import cut_on_rectangular
from sordino.physics.sound.flow_noise import junction_noise
from sordino.physics.sound.fourpole import lossy_line
from sordino.physics.sound.junctions import branch_split
from sordino.physics.sound.plenum import plenum_wells
from sordino.quantities import Angle, Length, Statement


class Branch(Statement):
    """A tee or wye: one trunk, two or more arms, the arms leaving at `angle` but for the one going straight on."""

    kind: Literal["branch"] = Field(default="branch", alias="is")
    within: str | None = Field(default=None, alias="in", description="the space it stands in")
    angle: Angle = Field(default=np.pi / 2, description="angle between arm and trunk, as 45 deg")
    straight: str | None = Field(default=None, description="the run that goes straight on, if one does")

    def half_pole(self, air: Air) -> Array:
        """Four-pole from a mouth to the middle, shape (81, 2, 2): none, a branch is a point."""
        return lossy_line(LINES, 0.0, 1.0, 0.0, air.density, air.sound_speed)

    def cut_on(self, air: Air) -> float:
        """Frequency up to which the junction may be taken as plane, Hz: that of its ducts, so no limit here."""
        return float(np.inf)

    def split(self, arriving: float, onward: tuple[float, ...], index: int) -> Bands:
        """Loss of sound power into one of the onward arms, above cut-on, dB, shape (9,)."""
        return np.full(9, float(branch_split(arriving, onward, index)))

    def own_noise(self, velocity: float, area: float) -> Bands | None:
        """Sound power made where an arm of `area` m2 leaves or joins, arms and trunk at one speed, dB, shape (9,)."""
        return junction_noise(velocity, area, np.sqrt(4.0 * area / np.pi), velocity)

    def leaving_coefficient(self, arm: str, area: float, arriving: float, onward: float) -> float:
        """Loss coefficient of an arm on its own velocity pressure, where air leaves the trunk by several arms.

        Assumes that the arms run at one speed, so the trunk's speed is that speed times onward over arriving area;
        the published coefficient is on the trunk's velocity pressure.
        """
        ratio = arriving / onward
        if arm == self.straight:
            return float(branches.diverging_run(ratio, 1.0)) / ratio**2
        return float(branches.diverging_branch(ratio, 1.0, np.degrees(self.angle))) / ratio**2

    def joining_coefficient(self, arm: str, area: float, leaving: float, inward: float) -> float:
        """Loss coefficient of an arm on its own velocity pressure, where several arms of one speed join."""
        flows, areas = area / inward, area / leaving
        formula = branches.converging_run if arm == self.straight else branches.converging_branch
        on_trunk = float(formula(flows, min(areas, 1.0), np.degrees(self.angle)))
        return max(on_trunk, 0.0) / (flows / areas) ** 2


class Plenum(Statement):
    """A box that several ducts enter and leave, lined or bare inside."""

    kind: Literal["plenum"] = Field(default="plenum", alias="is")
    within: str | None = Field(default=None, alias="in", description="the space it stands in")
    length: Length
    width: Length
    height: Length
    lining: Length | None = Field(default=None, description="fibre thickness on the inside faces")

    def half_pole(self, air: Air) -> Array:
        """Four-pole from a mouth to the middle, shape (81, 2, 2): half a chamber of the plenum's cross-section."""
        area = self.width * self.height
        return lossy_line(LINES, self.length / 2.0, area, 0.0, air.density, air.sound_speed)

    def cut_on(self, air: Air) -> float:
        """Frequency up to which the chamber may be taken as plane, Hz."""
        return float(cut_on_rectangular(max(self.width, self.height), air.sound_speed))

    def split(self, arriving: float, onward: tuple[float, ...], index: int) -> Bands:
        """Loss of sound power from one opening to another by Wells, dB, shape (9,)."""
        surface = 2.0 * (self.length * self.width + self.length * self.height + self.width * self.height)
        across = float(np.hypot(self.length / 2.0, self.width / 2.0))
        absorption = fibre_absorption(self.lining) if self.lining else np.full(9, 0.05)
        return np.maximum(plenum_wells(onward[index], across, np.pi / 4.0, surface, absorption), 0.0)

    def own_noise(self, velocity: float, area: float) -> Bands | None:
        """None: the air in a plenum is slow; its mouths are counted with the ducts."""
        return None

    def leaving_coefficient(self, arm: str, area: float, arriving: float, onward: float) -> float:
        """Out of the plenum: half a velocity pressure for a sharp flush opening."""
        return 0.5

    def joining_coefficient(self, arm: str, area: float, leaving: float, inward: float) -> float:
        """Into the plenum: the whole velocity pressure is lost."""
        return 1.0


Junction = Annotated[Branch | Plenum, Field(discriminator="kind")]
