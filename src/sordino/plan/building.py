"""How a project's boxes are to be built: fits, tolerances, sticks, screws, and the side from which a box is closed."""

from __future__ import annotations

from pydantic import Field, field_validator

from sordino.elements.box import Face
from sordino.errors import Refusal
from sordino.quantities import Length, NotNegative, Statement

WIDEST = 0.02
"""Clearances that are still called so, m."""


class Building(Statement):
    """What holds for every box unless its own table says otherwise."""

    clearance: NotNegative = Field(default=0.002, description="room left all round a duct in its hole, for sealant")
    tolerance: NotNegative = Field(default=0.001, description="how far a cut part may be off its size")
    stick: Length = Field(default=0.025, description="side of the square sticks along the inside edges and of cleats")
    screws: Length = Field(default=0.15, description="distance of screws along a joint")
    gasket: Length = Field(default=0.006, description="thickness of the gasket under a removable panel, not pressed")
    access: dict[str, Face] = Field(
        default_factory=dict, description="for each box by name, the face that is closed last and can be reached"
    )

    @field_validator("clearance", "tolerance")
    @classmethod
    def _is_narrow(cls, gap: float) -> float:
        if gap > WIDEST:
            raise Refusal("{read} is no fit but a gap", "a few millimetres are wanted, as 2 mm")
        return gap

    @field_validator("stick")
    @classmethod
    def _holds_a_screw(cls, side: float) -> float:
        if not 0.015 <= side <= 0.1:
            raise Refusal("a stick of {read} is none to screw into", "15 mm to 100 mm are wanted, as 25 mm")
        return side

    @field_validator("screws")
    @classmethod
    def _is_a_spacing(cls, spacing: float) -> float:
        if not 0.02 <= spacing <= 0.6:
            raise Refusal("screws {read} apart hold no joint tight", "20 mm to 600 mm are wanted, as 150 mm")
        return spacing
