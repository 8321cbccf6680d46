"""Air filters, clean and dirty."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, field_validator, model_validator

from sordino.elements.element import Element
from sordino.errors import Refusal
from sordino.physics.air.filters import filter_drop, pleated_filter
from sordino.physics.air.properties import Air
from sordino.quantities import Fraction, Length, Pressure, Size, Velocity


class Filter(Element):
    """A filter of clear face `face`: either a pleated panel by depth and grade, or the maker's figure."""

    kind: Literal["filter"] = Field(default="filter", alias="is")
    face: Size | None = Field(default=None, description="clear face of the filter, if it differs from the duct")
    depth: Length | None = Field(default=None, description="depth of a pleated panel: 1, 2 or 4 in")
    merv: Literal[11, 13] | None = Field(default=None, description="grade of a pleated panel")
    drop: Pressure | None = Field(default=None, description="the maker's clean pressure drop")
    at: Velocity | None = Field(default=None, description="face velocity the drop was stated at")
    dirty: float = Field(default=2.0, ge=1.0, le=10.0, description="drop when due for change over drop when clean")
    soiling: Fraction = Field(default=0.0, description="0 % clean, 100 % due for change; the mode sets it")

    loss_scatter: ClassVar[str] = "filter"

    @field_validator("merv", mode="before")
    @classmethod
    def _is_on_record(cls, grade: object) -> object:
        if grade not in (None, 11, 13):
            raise Refusal(
                "merv {read} is not on record",
                'only 11 and 13 are; for any other give the maker\'s figure, as drop = "25 Pa" and at = "1.5 m/s"',
            )
        return grade

    @field_validator("depth")
    @classmethod
    def _is_a_panels(cls, depth: float | None) -> float | None:
        if depth is not None and not 0.015 <= depth <= 0.15:
            raise Refusal("no pleated panel is {read} deep", "1, 2 and 4 in panels (25, 50 and 100 mm) are on record")
        return depth

    @field_validator("at")
    @classmethod
    def _is_moving(cls, velocity: float | None) -> float | None:
        if velocity is not None and velocity <= 0.0:
            raise Refusal("no pressure is lost at {read}", "give the face velocity of the maker's figure, as 1.5 m/s")
        return velocity

    @model_validator(mode="after")
    def _has_a_figure(self) -> Filter:
        pleated, stated = (
            (self.depth is not None and self.merv is not None),
            (self.drop is not None and self.at is not None),
        )
        if not pleated and not stated:
            raise Refusal(
                "nothing tells how hard this filter is to pass",
                'give depth = "50 mm" and merv = 11, or drop = "25 Pa" and at = "1.5 m/s" (the face velocity)',
            )
        return self

    @property
    def clear_face(self) -> Size:
        """The face the air passes."""
        return self.face or self.section

    def velocities(self, flow: float) -> dict[str, float]:
        return {"filter face": abs(flow) / self.clear_face.area}

    def pressure_loss(self, flow: float, air: Air) -> float:
        velocity, drop = self._reference()
        factor = 1.0 + (self.dirty - 1.0) * self.soiling
        return float(filter_drop(abs(flow) / self.clear_face.area, velocity, drop, dirty_factor=factor))

    def _reference(self) -> tuple[float, float]:
        if self.drop is not None and self.at is not None:
            return self.at, self.drop
        assert self.depth is not None
        assert self.merv is not None
        known = pleated_filter(self.depth, self.merv)
        return known.velocity, known.drop
