"""Air movers: recirculating ducted units, inline fans, heat-recovery units."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from pydantic import Field, model_validator

from sordino.physics.air.fan import FanCurve
from sordino.quantities import Flow, Length, Pressure, SoundLevel, Spectrum, Statement

Kind = Literal["ducted unit", "inline fan", "heat-recovery unit"]

STREAMS: dict[str, tuple[tuple[str, str], ...]] = {
    "ducted unit": (("return", "supply"),),
    "inline fan": (("inlet", "outlet"),),
    "heat-recovery unit": (("outdoor", "supply"), ("extract", "exhaust")),
}
"""For each kind the ports that each of its air streams enters and leaves by."""


class Sound(Statement):
    """Sound power per octave at full speed; a port left out takes the spectrum of the other end of its stream."""

    supply: Spectrum | None = None
    return_: Spectrum | None = Field(default=None, alias="return")
    inlet: Spectrum | None = None
    outlet: Spectrum | None = None
    outdoor: Spectrum | None = None
    extract: Spectrum | None = None
    exhaust: Spectrum | None = None
    casing: Spectrum | None = None
    rated: SoundLevel | None = Field(default=None, description="only a dBA figure is known")
    at: Length | None = Field(default=None, description="distance that figure holds at; none if it is sound power")

    @model_validator(mode="after")
    def _says_something(self) -> Sound:
        if self.rated is None and not any(self.given(port) for port in PORTS):
            raise ValueError("sound wants spectra by port (supply, return, casing …) or rated, as rated = '32 dBA'")
        return self

    def given(self, port: str) -> Spectrum | None:
        """The spectrum written for a port, if any."""
        value: Spectrum | None = getattr(self, "return_" if port == "return" else port)
        return value


PORTS = ("supply", "return", "inlet", "outlet", "outdoor", "extract", "exhaust", "casing")


class Mover(Statement):
    """A machine that moves air. Its curve is that of each stream at full speed."""

    kind: Kind = Field(alias="is")
    name: str | None = None
    within: str = Field(alias="in", description="the room or space it stands in")
    curve: tuple[tuple[Flow, Pressure], ...] = Field(
        min_length=2,
        description='fan curve at full speed, as [["0 cfm", "0.2 in w.g."], ["400 cfm", "0 Pa"]]',
    )
    extract_curve: tuple[tuple[Flow, Pressure], ...] | None = Field(
        default=None,
        min_length=2,
        description="curve of a heat-recovery unit's extract stream, if it differs",
    )
    sound: Sound
    fan: Literal["forward-curved", "backward-curved", "tubeaxial", "propeller", "unknown"] = Field(
        default="unknown", description="kind of fan, for a spectrum where only a dBA figure is known"
    )

    @model_validator(mode="after")
    def _curves_make_sense(self) -> Mover:
        for points in (self.curve, self.extract_curve or self.curve):
            flows, pressures = zip(*points, strict=True)
            if any(b <= a for a, b in pairwise(flows)):
                raise ValueError("the curve's flows must rise from point to point")
            if pressures[0] <= 0:
                raise ValueError(
                    "the curve starts with no pressure at its lowest flow: a fan must push against something"
                )
            if pressures[-1] >= pressures[-2]:
                raise ValueError(
                    "the curve's pressure must fall towards its highest flow: are flow and pressure swapped?"
                )
        return self

    @property
    def streams(self) -> tuple[tuple[str, str], ...]:
        """Pairs of ports, where each stream enters and leaves."""
        return STREAMS[self.kind]

    @property
    def ports(self) -> tuple[str, ...]:
        """All ports that a run may be joined to."""
        return tuple(port for stream in self.streams for port in stream)

    def fan_curve(self, stream: int) -> FanCurve:
        """Curve of one stream at full speed."""
        points = self.extract_curve if stream == 1 and self.extract_curve else self.curve
        flows, pressures = zip(*points, strict=True)
        return FanCurve(flows, pressures)
