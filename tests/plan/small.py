"""A small project model for the tests of reading: one run with parts of two kinds, a room, a fan."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from sordino.quantities import Flow, Fraction, Length, Pressure, Size, Spectrum, Statement, Target


class Duct(Statement):
    kind: Literal["flexible duct"] = Field(default="flexible duct", alias="is")
    name: str | None = None
    length: Length
    pull: Literal["tight", "ordinary", "slack"] | Fraction = "ordinary"
    size: Size | None = None


class Bend(Statement):
    kind: Literal["bend"] = Field(default="bend", alias="is")
    name: str | None = None
    radius: Length = 0.3
    vanes: bool = False


Part = Annotated[Duct | Bend, Field(discriminator="kind")]


class Run(Statement):
    start: str = Field(alias="from")
    end: str = Field(alias="to")
    size: Size
    wanted: Flow | None = None
    parts: tuple[Part, ...] = Field(default=(), max_length=4)


class Room(Statement):
    width: Length | None = None
    people: int = Field(default=1, ge=0, le=50)
    target: Target | None = None
    outlook: Literal["north", "south"] = "north"

    @model_validator(mode="after")
    def _has_width(self) -> Room:
        if self.width is None:
            raise ValueError("a room wants its width")
        return self


class Fan(Statement):
    curve: tuple[tuple[Flow, Pressure], ...] = Field(min_length=2)
    sound: Spectrum | None = None
    efficiency: float = Field(default=0.5, gt=0, lt=1)


class Small(Statement):
    title: str = "small"
    room: dict[str, Room] = Field(min_length=1)
    fan: dict[str, Fan] = Field(default_factory=dict)
    run: dict[str, Run] = Field(default_factory=dict)
    variant: dict[str, dict[str, Any]] = Field(default_factory=dict)


TEXT = """\
title = "a booth"

[room.booth]
width = "2.4 m"
people = 2
target = "NC-20"

[fan.inline]
curve = [["0 cfm", "0.5 in w.g."], ["250 cfm", "0 Pa"]]
sound = [60, 58, 55, 50, 45, 40, 35, 30]

[run.cool]
from = "inline"
to = "booth"
size = '8"'

[[run.cool.parts]]
is = "flexible duct"
name = "flex"
length = "3 m"

[[run.cool.parts]]
is = "bend"

[variant.slack.run.cool.parts.flex]
pull = "slack"
"""
