"""Air movers: recirculating ducted units, inline fans, heat-recovery units."""

from __future__ import annotations

from itertools import pairwise
from math import inf
from typing import Annotated, Literal

from pydantic import ConfigDict, Field, field_validator, model_validator

from sordino.errors import Refusal
from sordino.names import OnRecord
from sordino.physics.air.fan import FanCurve
from sordino.physics.structure.refrigerant import refrigerants
from sordino.plan.limits import within
from sordino.quantities import (
    Flow,
    Fraction,
    Length,
    Mass,
    Power,
    Pressure,
    SoundLevel,
    Spectrum,
    Statement,
    Temperature,
)

RefrigerantName = Annotated[str, OnRecord(what="refrigerant", names=refrigerants)]
Kind = Literal["ducted unit", "inline fan", "heat-recovery unit"]

STREAMS: dict[str, tuple[tuple[str, str], ...]] = {
    "ducted unit": (("return", "supply"),),
    "inline fan": (("inlet", "outlet"),),
    "heat-recovery unit": (("outdoor", "supply"), ("extract", "exhaust")),
}
"""For each kind the ports that each of its air streams enters and leaves by."""


Rating = Annotated[
    SoundLevel,
    within(0.0, inf, "no fan is as quiet as {read}", "0 dBA or more is wanted, as the maker rates it"),
]
Away = Annotated[
    Length,
    within(
        0.1,
        20.0,
        "no maker rates a fan at {read}",
        "a distance from 100 mm to 20 m is wanted, as 1 m or 1.5 m; leave it out if the figure is sound power",
    ),
]
"""Distances that a dBA figure is believed at (judgement)."""
Cold = Annotated[
    Temperature,
    within(2.0, 20.0, "no unit cools with air of {read}", "what it blows at its coldest is wanted, 2 °C to 20 °C"),
]
"""What a unit may blow at its coldest: a coil freezes below, and nothing is cooled above (judgement)."""


class Sound(Statement):
    """Sound power per octave at full speed; a port left out takes the spectrum of the other end of its stream."""

    model_config = ConfigDict(json_schema_extra={"examples": [{"rated": "32 dBA", "at": "1 m"}]})

    supply: Spectrum | None = None
    return_: Spectrum | None = Field(default=None, alias="return")
    inlet: Spectrum | None = None
    outlet: Spectrum | None = None
    outdoor: Spectrum | None = None
    extract: Spectrum | None = None
    exhaust: Spectrum | None = None
    casing: Spectrum | None = None
    rated: Rating | None = Field(default=None, description="only a dBA figure is known")
    at: Away | None = Field(default=None, description="distance that figure holds at; none if it is sound power")

    @model_validator(mode="after")
    def _says_something(self) -> Sound:
        if self.rated is None and not any(self.given(port) for port in PORTS):
            raise Refusal(
                "this tells no sound",
                "give a spectrum for a port, as supply = [...], or rated = '32 dBA'",
            )
        return self

    def given(self, port: str) -> Spectrum | None:
        """The spectrum written for a port, if any."""
        value: Spectrum | None = getattr(self, "return_" if port == "return" else port)
        return value


PORTS = ("supply", "return", "inlet", "outlet", "outdoor", "extract", "exhaust", "casing")


Points = tuple[tuple[Flow, Pressure], ...]


DIP = 0.5
"""Share of the lesser peak on either side below which no real curve dips (judgement; axial fans dip to two thirds)."""


def _deepest_dip(pressures: tuple[float, ...]) -> float | None:
    """The first pressure that lies under half of what the curve reaches on either side."""
    inner = range(1, len(pressures) - 1)
    dips = (i for i in inner if pressures[i] < DIP * min(max(pressures[:i]), max(pressures[i + 1 :])))
    return next((pressures[i] for i in dips), None)


class Mover(Statement):
    """A machine that moves air. Its curve is that of each stream at full speed."""

    kind: Kind = Field(alias="is", description="what kind of machine it is")
    name: str | None = Field(default=None, description="what people call it")
    within: str = Field(alias="in", description="the room or space it stands in")
    curve: Points = Field(
        min_length=2,
        description='fan curve at full speed, as [["0 cfm", "0.2 in w.g."], ["400 cfm", "0 Pa"]]',
    )
    extract_curve: Points | None = Field(
        default=None,
        min_length=2,
        description="curve of a heat-recovery unit's extract stream, if it differs",
    )
    sound: Sound
    refrigerant: RefrigerantName | None = Field(default=None, description="what a ducted unit is filled with")
    charge: Mass | None = Field(default=None, description="all of it that is in the system")
    fan: Literal["forward-curved", "backward-curved", "tubeaxial", "propeller", "unknown"] = Field(
        default="unknown", description="kind of fan, for a spectrum where only a dBA figure is known"
    )

    cooling: Power | None = Field(
        default=None, description="most heat that a ducted unit takes away, sensible and latent, at full speed"
    )
    sensible: Fraction = Field(default=0.75, description="share of that which lowers the temperature")
    coldest: Cold = Field(default=13.0, description="coldest air that a ducted unit blows")
    recovery: Fraction = Field(default=0.75, description="share of the heat that a heat-recovery unit hands on")
    moisture_recovery: Fraction = Field(
        default=0.0, description="share of the moisture it hands on: none in plates of metal, half in paper or a wheel"
    )

    @field_validator("curve", "extract_curve")
    @classmethod
    def _makes_sense(cls, points: Points | None) -> Points | None:
        if points is None:
            return None
        flows, pressures = zip(*points, strict=True)
        if any(b <= a for a, b in pairwise(flows)):
            raise Refusal("the curve's flows don't rise from point to point", "list its points by rising flow")
        if pressures[0] <= 0:
            raise Refusal("the curve has no pressure at its lowest flow", "begin with what the fan can push against")
        if pressures[-1] >= pressures[-2]:
            raise Refusal(
                "the curve's pressure does not fall towards its highest flow", "list it down to the free flow at 0 Pa"
            )
        dip = _deepest_dip(pressures)
        if dip is not None:
            raise Refusal(
                f"the curve's pressure falls to {dip:g} Pa and rises again", "no fan has such a dip: check its points"
            )
        return points

    @model_validator(mode="after")
    def _cools_if_it_can(self) -> Mover:
        if self.cooling is not None and self.kind != "ducted unit":
            cure = "leave cooling out; only a ducted unit takes heat away"
            raise Refusal(f"this {self.kind} moves air and does not cool it", cure)
        return self

    @model_validator(mode="after")
    def _sounds_at_its_ports(self) -> Mover:
        strange = [port for port in PORTS if self.sound.given(port) and port not in (*self.ports, "casing")]
        if strange:
            raise Refusal(
                f"sound is given for {', '.join(strange)}, which a {self.kind} doesn't have",
                f"its ports are {', '.join(self.ports)}; casing is what it sends into the space around it",
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
