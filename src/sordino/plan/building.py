"""How a project's boxes are to be built: fits, sticks, screws, the closing side; and stock, saw, prices and budget."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import Field, field_validator, model_validator

from sordino.elements.box import Face
from sordino.elements.buildup import BoardName
from sordino.errors import Refusal
from sordino.plan.limits import within
from sordino.quantities import Duration, Length, NotNegative, Statement
from sordino.units import quoted

Fit = Annotated[NotNegative, within(0.0, 0.02, "{read} is no fit but a gap", "a few millimetres are wanted, as 2 mm")]
Side = Annotated[
    Length, within(0.015, 0.1, "a stick of {read} is none to screw into", "15 mm to 100 mm are wanted, as 25 mm")
]
Spacing = Annotated[
    Length, within(0.02, 0.6, "screws {read} apart hold no joint tight", "20 mm to 600 mm are wanted, as 150 mm")
]
SawCut = Annotated[NotNegative, within(0.0, 0.01, "no saw cuts {read} wide", "0 mm to 10 mm are wanted, as 3.2 mm")]
Edge = Annotated[NotNegative, within(0.0, 0.1, "{read} is more than an edge", "0 mm to 100 mm are wanted, as 10 mm")]
LONGEST = 600.0
"""Longest search, s."""


class SheetStock(Statement):
    """A size of sheet that is on hand, or that the shop sells."""

    board: BoardName = Field(description="what it is made of, as plywood")
    thickness: Length | None = Field(default=None, description="of that thickness only; of any if not given")
    length: Length = Field(description="length, along the grain where it has one")
    width: Length = Field(description="width")
    count: int | None = Field(
        default=None, ge=1, le=500, description="how many are on hand; left out for a size that the shop sells"
    )


class BarStock(Statement):
    """A length of stick that is on hand, or that the shop sells."""

    section: Length | None = Field(default=None, description="side of the square stick; of any section if not given")
    length: Length = Field(description="length")
    count: int | None = Field(
        default=None, ge=1, le=500, description="how many are on hand; left out for a length that the shop sells"
    )


class PriceRange(Statement):
    """What one pack costs."""

    low: float = Field(ge=0.0, le=1e6, allow_inf_nan=False, description="the lowest price asked")
    high: float | None = Field(
        default=None, ge=0.0, le=1e6, allow_inf_nan=False, description="the highest; the same if not given"
    )
    dated: date | None = Field(default=None, description="when it was asked for, as 2026-03-14")

    @field_validator("dated", mode="before")
    @classmethod
    def _is_a_day(cls, dated: object) -> object:
        if isinstance(dated, str):
            try:
                return date.fromisoformat(dated)
            except ValueError:
                raise Refusal(f"{quoted(dated)} is no date", "a day is wanted, as 2026-03-14") from None
        return dated

    @model_validator(mode="after")
    def _is_a_range(self) -> PriceRange:
        if self.high is not None and self.high < self.low:
            raise Refusal(f"a price from {self.low:g} to {self.high:g} runs backwards", "write low before high")
        return self


class Building(Statement):
    """What holds for every box unless its own table says otherwise."""

    clearance: Fit = Field(default=0.002, description="room left all round a duct in its hole, for sealant")
    tolerance: Fit = Field(default=0.001, description="how far a cut part may be off its size")
    stick: Side = Field(default=0.025, description="side of the square sticks along the inside edges and of cleats")
    screws: Spacing = Field(default=0.15, description="distance of screws along a joint")
    gasket: Length = Field(default=0.006, description="thickness of the gasket under a removable panel, not pressed")
    access: dict[str, Face] = Field(
        default_factory=dict, description="for each box by name, the face that is closed last and can be reached"
    )
    kerf: SawCut = Field(default=0.0032, description="width of the saw cut")
    trim: Edge = Field(default=0.01, description="what is cut off each edge of a sheet first")
    keep: Length = Field(default=0.15, description="narrowest offcut worth keeping")
    grain: bool = Field(default=True, description="whether the grain of every part runs along that of the sheet")
    stock: tuple[SheetStock, ...] = Field(default=(), description="sheets on hand and sizes the shop sells")
    bars: tuple[BarStock, ...] = Field(default=(), description="sticks on hand and lengths the shop sells")
    seconds: Duration = Field(default=10.0, description="longest search for the cut plan of one board")
    price: dict[str, PriceRange] = Field(
        default_factory=dict, description="what one pack costs, by its name in the list"
    )
    currency: str = Field(default="EUR", min_length=1, max_length=6, description="of all prices")
    budget: float | None = Field(
        default=None, ge=0.0, le=1e9, allow_inf_nan=False, description="what the material may cost"
    )

    @field_validator("seconds")
    @classmethod
    def _is_bearable(cls, seconds: float) -> float:
        if not 0.0 < seconds <= LONGEST:
            raise Refusal("a search of {read} is not made", "1 s to 10 min are wanted, as 10 s")
        return seconds
