"""What a laid-out box is: the sound field's prism, and the air path through it stretch by stretch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sordino.elements.box import Box
from sordino.physics.wave import prism as wave
from sordino.quantities import Size

LEAST = 0.02
"""Clear height under which a passage counts as pinched, m."""


IDLE = 1e-6
"""A slope that takes less than this off cuts nothing, m."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Station:
    """One stretch of the air path: its clear section and length, and the right-angle turns that follow it."""

    label: str
    size: Size
    length: float
    turns: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """A laid-out box: what the sound field needs, and the air path through it."""

    prism: wave.Prism
    stations: tuple[Station, ...]
    radius: float | None
    """Centreline radius of the flexible duct's bends, m; None in an open passage."""

    @property
    def narrowest(self) -> Station:
        """The stretch with the least clear section."""
        return min(self.stations, key=lambda station: station.size.area)

    @property
    def length(self) -> float:
        """Length of the air path, m."""
        return sum(station.length for station in self.stations)

    @property
    def turns(self) -> int:
        """Right-angle turns on the way."""
        return sum(station.turns for station in self.stations)


def shape(box: Box, dividers: tuple[wave.Divider, ...], ports: tuple[wave.Port, wave.Port]) -> dict[str, Any]:
    """The bare prism's arguments: a shallow box lies on its side, so its width is the solver's height."""
    height, width = box.standing
    cuts = {
        side: wave.Cut(run=slope.run, drop=slope.drop)
        for side, slope in (("left", box.left_slope), ("right", box.right_slope))
        if slope is not None and min(slope.run, slope.drop) > IDLE
    }
    return {"length": box.length, "width": width, "height": height, "dividers": dividers, "ports": ports, **cuts}


def sloped(frame: wave.Prism) -> tuple[str, ...]:
    """The names of the slopes that a profile has."""
    return tuple(name for name, cut in (("left slope", frame.left), ("right slope", frame.right)) if cut.run > 0)


def shelf(box: Box, level: float, index: int, stop: float, start: float) -> wave.Divider:
    """A divider over the pass `index`: open at the far end after an even pass, at the near end after an odd one."""
    x0, x1 = (0.0, stop) if index % 2 == 0 else (start, box.length)
    return wave.Divider(x0=x0, z0=level, x1=x1, z1=level + box.divider)
