"""The questions every installed element answers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import ClassVar

import numpy as np
from pydantic import Field

from sordino.bands import LINES, Array, Bands, at_lines
from sordino.physics.air.friction import velocity_pressure
from sordino.physics.air.properties import Air
from sordino.physics.sound.cut_on import cut_on_rectangular, cut_on_round
from sordino.physics.sound.fourpole import lossy_line
from sordino.physics.sound.validity import stretched
from sordino.quantities import Size, Statement


@dataclass(frozen=True, kw_only=True, slots=True)
class Wall:
    """How a duct wall lets sound out and in: losses in dB for the whole section, and the areas they refer to in m2."""

    breakout: Bands
    breakin: Bands
    outer_area: float
    inner_area: float
    scatter: str = "breakout"
    faded: bool = False
    """Whether the breakout already holds how sound dies away along the wall."""


class Element(Statement):
    """One part of a run. `size` is the clear inside of the duct it is joined to."""

    name: str | None = Field(default=None, description="what people call it")
    within: str | None = Field(default=None, alias="in", description="the space or room this part passes through")
    size: Size | None = Field(default=None, description="clear inside size, if it differs from the run's")

    scatter: ClassVar[str] = ""
    """Key of the sound-loss scatter in tables/sound/scatter.csv; empty for parts that take no sound away."""
    noise_scatter: ClassVar[str] = ""
    """Key of the own-noise scatter in tables/sound/scatter.csv."""
    loss_scatter: ClassVar[str] = "friction"
    """Key of the pressure-loss scatter in tables/air/scatter.csv."""
    squared: ClassVar[bool] = False
    """Whether the pressure loss goes exactly by the square of the flow."""
    terminal: ClassVar[bool] = False
    """Whether this part can only stand at the end of a run."""

    @property
    def section(self) -> Size:
        """The clear section, once the run has given the part its size."""
        assert self.size is not None, "a part is sized when its run is read"
        return self.size

    @property
    def outlet(self) -> Size:
        """The section at the part's far end."""
        return self.section

    @property
    def path_length(self) -> float:
        """Length of the air path through the part, m."""
        return 0.0

    @property
    def scatter_key(self) -> str:
        """Row of the sound-loss scatter table that holds for this part as built."""
        return self.scatter

    def label(self) -> str:
        """What to call the part in a schedule."""
        kind = str(getattr(self, "kind", "part"))
        return f"{kind} {self.name}" if self.name else kind

    def velocity(self, flow: float) -> float:
        """Mean air speed in the clear section, m/s."""
        return abs(flow) / self.section.area

    def velocities(self, flow: float) -> dict[str, float]:
        """Air speed in m/s at each place of the part that has a name of its own."""
        return {"duct": self.velocity(flow)}

    def pressure_loss(self, flow: float, air: Air) -> float:
        """Total pressure lost at a flow of `flow` m3/s (its size counts, not its sign), Pa."""
        raise TypeError(f"{type(self).__name__} states no pressure loss")

    def pressure_curve(self, air: Air) -> Callable[[float], float]:
        """`pressure_loss` as a function of the flow alone, for the many flows a balance asks for."""
        return partial(self.pressure_loss, air=air)

    def attenuation(self, air: Air) -> Bands:
        """Loss of sound power between matched ducts, dB, shape (9,); zero unless the part takes sound away."""
        return np.zeros(9)

    def four_pole(self, air: Air) -> Array:
        """The part's plane-wave four-pole at LINES, shape (81, 2, 2): a line that loses `attenuation`."""
        loss = at_lines(self.attenuation(air))
        return lossy_line(LINES, self.path_length, self.wave_area, loss, air.density, air.sound_speed)

    @property
    def wave_area(self) -> float:
        """Section in which the plane wave travels, m2."""
        return self.section.area

    def cut_on(self, air: Air) -> float:
        """Lowest frequency at which the section carries a wave that is not plane, Hz."""
        if self.section.round:
            return float(cut_on_round(self.section.diameter, air.sound_speed))
        return float(cut_on_rectangular(self.section.longest, air.sound_speed))

    def own_noise(self, flow: float, air: Air) -> Bands | None:
        """Sound power that the moving air makes in the part, dB re 1 pW, shape (9,); None if it makes none."""
        return None

    def ceiling(self) -> Bands | None:
        """The most the part can be credited with, dB, shape (9,): what goes round it; None if nothing does."""
        return None

    def own_spread(self) -> dict[str, Bands] | None:
        """Half-widths of the part's loss by cause where the part knows them better than the scatter table, dB."""
        return None

    def wall(self) -> Wall | None:
        """The part's wall as a sound path to and from the space around it; None if it has none."""
        return None

    def notes(self) -> tuple[str, ...]:
        """What a reader should know of this part: data extended, guessed, or risky."""
        return ()


def local_loss(coefficient: float, flow: float, area: float, air: Air) -> float:
    """Pressure lost by a coefficient on the velocity pressure in `area`, Pa."""
    return float(coefficient * velocity_pressure(abs(flow) / area, air))


def beyond(method: str, **quantities: float) -> tuple[str, ...]:
    """What a part says of its sizes that the data of its method do not cover."""
    return tuple(
        f"its {each.quantity} is {'more' if each.over else 'less'} than the handbook has data for ({method}); "
        "they are held or carried on"
        for each in stretched(method, **quantities)
    )
