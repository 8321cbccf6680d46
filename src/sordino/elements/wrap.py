"""What is laid round the outside of a box or duct against heat and moisture."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from sordino.quantities import Resistance, Statement

Jacket = Literal["bare board", "plastic film", "dull foil", "bright foil", "bare metal"]


class Wrap(Statement):
    """Insulation outside, what faces the air, and on which side vapour is stopped."""

    r: Resistance = Field(default=0.0, description="thermal resistance as installed, as R-8 or 1.4 m2K/W")
    jacket: Jacket = Field(default="plastic film", description="outermost surface")
    retarder: Literal["none", "inside", "outside"] = Field(
        default="outside", description="side on which vapour is stopped: of the insulation, or inside the casing"
    )


BARE = Wrap.model_construct(jacket="bare board", retarder="none")
BARE_METAL = Wrap.model_construct(jacket="bare metal")
FLEXIBLE = Wrap.model_construct(r=1.06)
"""Flexible duct as commonly sold, R-6."""
