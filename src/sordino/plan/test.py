"""Tests after the build: recordings, or levels typed from a meter, and what they are to tell."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from sordino.errors import Refusal
from sordino.plan.take import OwnNoise, Take, Takes
from sordino.quantities import Duration, Level, Pressure, Size, Statement, Velocity, Volume

CALIBRATORS = (80.0, 130.0)
"""Levels that sound calibrators make, dB: 94, 104, 114 and 124 are usual (IEC 60942, from memory)."""
FULL_SCALES = (60.0, 190.0)
"""Levels that are believed to fill a recording, dB."""
SWEEPS = (3.0, 60.0)
"""Lengths of the sweeps that `sordino signal` writes, s."""
SHORTEST_FILL, LARGEST_BAG = 1.0, 5.0
"""Least that a hand can time, s, and the largest bag that is believed, m3."""


class Calibrator(Statement):
    """A recording of a sound calibrator on the microphone."""

    file: str = Field(description="recording with the calibrator on the microphone")
    level: Level = Field(default=94.0, description="what the calibrator makes")
    after: str | None = Field(default=None, description="the same recorded once more at the end")
    channel: Literal["left", "right"] | None = Field(default=None, description="which one of a stereo recording")

    @field_validator("level")
    @classmethod
    def _is_a_calibrators(cls, level: float) -> float:
        if not CALIBRATORS[0] <= level <= CALIBRATORS[1]:
            raise Refusal(f"no sound calibrator makes {level:g} dB", "read its label: 94 dB and 114 dB are usual")
        return level


class Chain(Statement):
    """What all tests by ear of a microphone share."""

    microphone: str | None = Field(default=None, description="its calibration file: lines of Hz and dB")
    calibrator: Calibrator | None = Field(default=None, description="how the recordings' level is known")
    full_scale: Level | None = Field(
        default=None, description="level of a sine that just fills the recording, if no calibrator is at hand"
    )
    self_noise: OwnNoise | None = Field(default=None, description="own noise of microphone and preamp")
    signal: Literal["steady", "sweep"] = Field(
        default="steady", description="what the loudspeaker played: steady noise, or the sweep of `sordino signal`"
    )
    sweep_time: Duration = Field(default=10.0, description="length of that sweep")

    @model_validator(mode="after")
    def _knows_its_level_once(self) -> Chain:
        if self.calibrator is not None and self.full_scale is not None:
            raise Refusal("the level is stated twice", "drop full_scale: the calibrator's recording is better")
        return self

    @model_validator(mode="after")
    def _reads_nothing_twice(self) -> Chain:
        """One recording can't be two readings: what is told apart by them would come out as nothing."""
        parts = [take.part for takes in vars(self).values() for take in _recorded(takes)]
        twice = next((part for index, part in enumerate(parts) if part in parts[:index]), None)
        if twice is not None:
            raise Refusal(f"{twice[0]} stands for two readings", "give each reading its own recording")
        return self

    @field_validator("full_scale")
    @classmethod
    def _is_a_full_scale(cls, level: float | None) -> float | None:
        if level is not None and not FULL_SCALES[0] <= level <= FULL_SCALES[1]:
            cure = "work it out from the microphone's sensitivity and the gain, or use a calibrator: 120 dB is usual"
            raise Refusal(f"no recording is filled by {level:g} dB", cure)
        return level

    @field_validator("sweep_time")
    @classmethod
    def _is_a_sweeps(cls, seconds: float) -> float:
        if not SWEEPS[0] <= seconds <= SWEEPS[1]:
            raise Refusal(f"no sweep lasts {seconds:g} s", f"say how long it was: {SWEEPS[0]:g} to {SWEEPS[1]:g} s")
        return seconds


def _recorded(takes: object) -> list[Take]:
    listed = takes if isinstance(takes, tuple) else ()
    return [take for take in listed if isinstance(take, Take) and not take.typed]


class InsertionLoss(Chain):
    """What a box or a whole run takes: the level beyond it without it and with it, all else alike."""

    kind: Literal["insertion loss"] = Field(alias="is")
    box: str | None = Field(default=None, description="name of the box")
    run: str | None = Field(default=None, description="or name of the run, all its parts together")
    without: Takes = Field(description="with a bare tube of the same length in its place, or nothing")
    built: Takes = Field(alias="with", description="with the box or the run's parts")
    background: Takes | None = Field(default=None, description="with the loudspeaker off")

    @model_validator(mode="after")
    def _is_of_one_thing(self) -> InsertionLoss:
        if (self.box is None) == (self.run is None):
            raise Refusal("an insertion loss is that of one thing", 'write box = "NAME", or run = "NAME"')
        return self


class LevelDifference(Chain):
    """From room to room, all ways together: the level in the one minus that in the other."""

    kind: Literal["level difference"] = Field(alias="is")
    start: str = Field(alias="from", description="room with the loudspeaker")
    end: str = Field(alias="to", description="room that listens")
    source: Takes = Field(description="in the room with the loudspeaker")
    received: Takes = Field(description="in the room that listens")
    background: Takes | None = Field(default=None, description="there with the loudspeaker off")


class Vent(Chain):
    """From room to room with the vent open, then plugged, which tells the vent's way from all others."""

    kind: Literal["vent"] = Field(alias="is")
    start: str = Field(alias="from", description="room with the loudspeaker")
    end: str = Field(alias="to", description="room that listens")
    source: Takes = Field(description="in the room with the loudspeaker")
    opened: Takes = Field(alias="open", description="in the room that listens, vent open")
    plugged: Takes = Field(description="there with the vent plugged: heavy, airtight, at both ends if it can be")
    background: Takes | None = Field(default=None, description="there with the loudspeaker off")


class RoomNoise(Chain):
    """The noise in a room with the fans on, and with them off."""

    kind: Literal["room noise"] = Field(alias="is")
    room: str = Field(description="name of the room")
    mode: str | None = Field(default=None, description="the mode the fans ran in; the only one if not given")
    on: Takes = Field(description="with the fans on")
    off: Takes | None = Field(default=None, description="with them off")


class Reverberation(Chain):
    """How long a room rings, from recordings of the sweep."""

    kind: Literal["reverberation"] = Field(alias="is")
    room: str = Field(description="name of the room")
    sweep: Takes = Field(description="recordings of the sweep in it")

    @model_validator(mode="after")
    def _is_recorded(self) -> Reverberation:
        if any(take.typed for take in self.sweep):
            raise Refusal("how long a room rings can't be told from levels", "record the sweep in it")
        return self


class Traverse(Statement):
    """Air speeds read over an opening or a duct's section."""

    speeds: tuple[Velocity, ...] = Field(min_length=1, description="readings, evenly spread over the area")
    size: Size = Field(description="clear size of what the readings are spread over")
    free: float = Field(default=1.0, gt=0.0, le=1.0, description="share of that size that is free, behind a grille")


class Bag(Statement):
    """A bag of known volume held over an opening until it is full."""

    volume: Volume = Field(description="volume of the full bag")
    times: tuple[Duration, ...] = Field(min_length=1, description="times to fill it")

    @field_validator("times")
    @classmethod
    def _took_a_while(cls, times: tuple[float, ...]) -> tuple[float, ...]:
        if min(times) <= 0.0:
            raise Refusal("a bag that fills in no time is no measurement", "give the seconds that it took")
        if min(times) < SHORTEST_FILL:
            raise Refusal(f"no hand times {min(times):g} s", "use a larger bag, which takes a few seconds to fill")
        return times

    @field_validator("volume")
    @classmethod
    def _can_be_held(cls, volume: float) -> float:
        if volume > LARGEST_BAG:
            raise Refusal(f"nobody holds a bag of {volume:g} m3", "give what the full bag holds, as 120 L")
        return volume


class AirFlow(Statement):
    """What a run carries: by an anemometer, by a bag, or by the pressure across a box."""

    kind: Literal["air flow"] = Field(alias="is")
    run: str = Field(description="name of the run")
    mode: str | None = Field(default=None, description="the mode the fans ran in; the only one if not given")
    traverse: Traverse | None = Field(default=None, description="anemometer readings")
    bag: Bag | None = Field(default=None, description="bag-filling times")
    box_pressure: Pressure | None = Field(
        default=None, description="pressure lost from one end of its box to the other"
    )

    @model_validator(mode="after")
    def _is_measured(self) -> AirFlow:
        if self.traverse is None and self.bag is None and self.box_pressure is None:
            raise Refusal("nothing is measured here", "give traverse, bag or box_pressure")
        return self


Test = Annotated[
    InsertionLoss | LevelDifference | Vent | RoomNoise | Reverberation | AirFlow, Field(discriminator="kind")
]
"""One test of a project."""
