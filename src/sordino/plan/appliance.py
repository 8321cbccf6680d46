"""Things that burn fuel near the project."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from sordino.quantities import Statement


class Appliance(Statement):
    """A boiler, water heater, stove or fireplace."""

    kind: Literal["open-flued", "flueless", "room-sealed"] = Field(
        alias="is", description="open-flued takes its air from the place it stands in; room-sealed does not"
    )
    within: str = Field(alias="in", description="the room or space it stands in")
    name: str | None = None
