"""Where a box or machine stands: its clear space, its way in, how it is lifted, what it hangs from and is tied to."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, field_validator, model_validator

from sordino.errors import Refusal
from sordino.plan.hanging import Hung, Tie
from sordino.plan.section import Corners, check_one_shape, corners_of
from sordino.quantities import Angle, Length, Mass, NotNegative, Statement

Side = Literal["below", "above", "aside", "ends"]


class Clear(Statement):
    """A clear space: width and height, or the corners of its cross-section, over a length."""

    length: Length
    width: Length | None = None
    height: Length | None = None
    profile: tuple[tuple[NotNegative, NotNegative], ...] | None = Field(
        default=None, description="corners of the cross-section, across and up, as under a slope or round a pipe"
    )

    @model_validator(mode="after")
    def _has_a_shape(self) -> Clear:
        check_one_shape("the clear space", self.profile, self.width, self.height)
        return self

    @field_validator("profile")
    @classmethod
    def _encloses(cls, corners: Corners | None) -> Corners | None:
        from shapely import Polygon

        if corners is None:
            return None
        shape = Polygon(corners) if len(corners) > 2 else None
        if shape is None or not shape.is_valid or shape.area < 1e-4:
            raise Refusal(
                "these corners enclose no space",
                'list at least three in order round it, as [["0 m", "0 m"], ["1.2 m", "0 m"], ["0 m", "0.9 m"]]',
            )
        return corners

    @property
    def corners(self) -> Corners:
        """The cross-section as corners (across, up), m."""
        return corners_of(self.profile, self.width, self.height)


class Lift(Statement):
    """Who lifts it from where to where."""

    persons: int = Field(default=2, ge=1, le=4, description="how many lift it")
    start: NotNegative = Field(default=0.75, alias="from", description="height of the hands before")
    end: NotNegative = Field(default=1.5, alias="to", description="height of the hands where it is fixed")
    reach: Length = Field(default=0.4, description="from the ankles to the hands")
    twist: Angle = Field(default=0.0, description="turn of the body")
    grip: Literal["good", "fair", "poor"] = "fair"
    hoist: bool = Field(default=False, description="whether a hoist or panel lift does it")


class Stand(Statement):
    """Where a box or machine of that name stands, and how it gets there."""

    clear: Clear | None = Field(default=None, description="the bay, void or space under a slope that it goes into")
    clearance: NotNegative = Field(default=0.04, description="room to be left all round for sealing and screws")
    clearances: dict[Side, NotNegative] = Field(default_factory=dict, description="the same for single sides")
    wrap: NotNegative = Field(default=0.0, description="insulation round the outside")
    lengthwise: Literal["along", "across", "up"] = Field(
        default="along", description="where its length points: along the clear space, across it, or up"
    )
    on_side: bool = Field(default=False, description="whether it lies on its side")
    way: tuple[str, ...] = Field(default=(), description="names of the openings it must pass")
    brought: Literal["whole", "in parts"] = Field(default="in parts", description="whether it is built elsewhere")
    lengths: int = Field(default=1, ge=1, le=6, description="in how many lengths it comes, joined in place")
    lift: Lift | None = None
    hung: Hung | None = None
    ties: tuple[Tie, ...] = Field(default=(), description="what joins it to which leaf of a shell")
    mass: Mass | None = Field(default=None, description="of a machine; a box's is worked out")
    outside: tuple[Length, Length, Length] | None = Field(
        default=None, description="length, width and height of a machine"
    )

    def room(self, side: Side) -> float:
        """What is to be left on a side, m."""
        return self.clearances.get(side, self.clearance)
