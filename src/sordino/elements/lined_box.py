"""The place in a run where a lined box stands, as it is written: by the name of the box."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from sordino.elements.element import Element


class LinedBox(Element):
    """A place in a run where the box of that name stands; what it does is in `built_box`, once the box is known."""

    kind: Literal["lined box"] = Field(default="lined box", alias="is")
    box: str = Field(description="name of a [box.NAME] table")

    scatter: ClassVar[str] = "lined box estimate"
    noise_scatter: ClassVar[str] = "bend noise"
    loss_scatter: ClassVar[str] = "box"

    def label(self) -> str:
        return f"box {self.box}"
