"""Runs: air paths from one place to another, as parts in the order in which the air meets them."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field, field_validator

from sordino.elements.parts import Part
from sordino.errors import Refusal
from sordino.quantities import Flow, Size, Statement


def _by_mode(value: object) -> object:
    return value if isinstance(value, dict) else {"": value}


Measured = Annotated[dict[str, Flow], BeforeValidator(_by_mode)]
"""Flows as measured by mode, m3/s, along the run's own direction; the one mode of a plan goes without its name."""


class Run(Statement):
    """An air path. Its ends are rooms, spaces, junctions or ports of movers, as `cooler.supply`."""

    start: str = Field(alias="from", description="where the air comes from")
    end: str = Field(alias="to", description="where the air goes")
    size: Size = Field(description="clear duct size that holds unless a part says otherwise")
    parts: tuple[Part, ...] = Field(default=(), description="what the air passes, in order")
    wanted: Flow | None = Field(
        default=None, description="flow that this run should carry, in the mode that carries most; a tenth less counts"
    )
    measured: Measured = Field(default_factory=dict, description="flow as measured, or a table of flows by mode")
    within: str | None = Field(default=None, alias="in", description="where the run lies unless a part says otherwise")

    @field_validator("measured")
    @classmethod
    def _carries_something(cls, measured: dict[str, float]) -> dict[str, float]:
        """No loss of a run makes it carry nothing, so that could only be passed over."""
        if 0.0 in measured.values():
            raise Refusal("a run that carries nothing is no measured flow", "switch its fan off in the mode, or cap it")
        return measured
