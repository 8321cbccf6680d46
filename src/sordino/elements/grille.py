"""Grilles, diffusers and louvres: where a run meets a room or the open air."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, field_validator

from sordino.bands import Bands
from sordino.elements.element import Element, beyond, local_loss
from sordino.errors import Refusal
from sordino.physics.air.grilles import bar_grille, egg_crate, perforated_face
from sordino.physics.air.properties import Air
from sordino.physics.sound.flow_noise import grille_noise
from sordino.quantities import Fraction, Point, Size
from sordino.tables import table

Face = Literal["bar", "egg-crate", "perforated", "louvre"]


class Grille(Element):
    """A grille, diffuser or weather louvre closing the end of a run."""

    kind: Literal["grille"] = Field(default="grille", alias="is")
    face: Face = Field(default="bar", description="what the face is made of")
    opening: Size | None = Field(
        default=None, description="size of the opening behind the face; the duct's if not given"
    )
    free_area: Fraction | None = Field(default=None, description="clear share of the opening")
    loss_coefficient: float | None = Field(
        default=None, gt=0.0, le=200.0, description="the maker's, on free-area speed"
    )
    damper: bool = Field(default=False, description="whether a damper sits at the face")
    flush: bool = Field(default=True, description="set in a wall or ceiling; false if it hangs free")
    at: Point | None = Field(default=None, description="where it opens: along the room, across, and up from the floor")

    @field_validator("free_area")
    @classmethod
    def _lets_air_through(cls, share: float | None) -> float | None:
        if share is not None and share < 0.05:
            raise Refusal("hardly any air gets through a free area of {read}", "5 % to 100 % is wanted")
        return share

    scatter: ClassVar[str] = "end reflection with a grille"
    noise_scatter: ClassVar[str] = "grille noise"
    loss_scatter: ClassVar[str] = "grille"
    squared: ClassVar[bool] = True
    terminal: ClassVar[bool] = True

    @property
    def mouth(self) -> Size:
        """The opening that radiates sound."""
        return self.opening or self.section

    @property
    def free(self) -> float:
        """Clear share of the opening."""
        if self.free_area is not None:
            return self.free_area
        return float(table("air/grille_face").row("face", self.face)["free_area"])

    @property
    def free_opening(self) -> float:
        """Clear area, m2."""
        return self.mouth.area * self.free

    @property
    def jet(self) -> str:
        """Row of the jet table."""
        return self.face

    def velocities(self, flow: float) -> dict[str, float]:
        opening = abs(flow) / self.mouth.area
        return {"neck": self.velocity(flow), "face": opening, "free area": opening / self.free}

    def pressure_loss(self, flow: float, air: Air) -> float:
        if self.loss_coefficient is not None:
            return local_loss(self.loss_coefficient, flow, self.mouth.area * self.free, air)
        return local_loss(self.coefficient, flow, self.mouth.area, air)

    @property
    def coefficient(self) -> float:
        """Loss coefficient of the face on the velocity pressure in the opening."""
        form = {
            "bar": bar_grille,
            "louvre": bar_grille,
            "egg-crate": egg_crate,
            "perforated": perforated_face,
        }
        return float(form[self.face](self.free))

    def own_noise(self, flow: float, air: Air) -> Bands:
        return grille_noise(abs(flow) / self.mouth.area, self.mouth.area, self.pressure_loss(flow, air), air.density)

    def notes(self) -> tuple[str, ...]:
        told = beyond("end reflection", diameter=self.mouth.diameter)
        if self.damper:
            return ("a damper at the face sits where nothing can absorb its noise; move it upstream of the box", *told)
        return told
