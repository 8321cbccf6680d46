"""Runs: air paths from one place to another, as parts in the order in which the air meets them."""

from __future__ import annotations

from pydantic import Field

from sordino.elements.parts import Part
from sordino.quantities import Flow, Size, Statement


class Run(Statement):
    """An air path. Its ends are rooms, spaces, junctions or ports of movers, as `cooler.supply`."""

    start: str = Field(alias="from", description="where the air comes from")
    end: str = Field(alias="to", description="where the air goes")
    size: Size = Field(description="clear duct size that holds unless a part says otherwise")
    parts: tuple[Part, ...] = Field(default=(), description="what the air passes, in order")
    wanted: Flow | None = Field(
        default=None, description="flow that this run should carry, in the mode that carries most; a tenth less counts"
    )
    within: str | None = Field(default=None, alias="in", description="where the run lies unless a part says otherwise")
