"""What everything must pass on its way in: hatches, doors and stairs."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from sordino.quantities import Length, Statement


class Opening(Statement):
    """A clear opening, and how much room there is to turn behind it."""

    kind: Literal["hatch", "door", "window", "stairs"] = Field(alias="is", description="what kind of opening it is")
    name: str | None = Field(default=None, description="what people call it")
    width: Length = Field(description="clear width")
    height: Length = Field(description="clear height; of a hatch its other side")
    turn: Length | None = Field(
        default=None,
        description="clear depth right behind it, where things must turn: a landing, or headroom over a hatch",
    )
