"""Rooms, and the spaces around them that are not rooms."""

from __future__ import annotations

from typing import Annotated, Literal

import numpy as np
from pydantic import Field, PlainValidator, WithJsonSchema, field_validator, model_validator

from sordino.bands import Bands
from sordino.errors import Refusal
from sordino.names import OnRecord
from sordino.physics.sound.sources import absorption, loud_kinds, surfaces
from sordino.plan.climate import Comfort, Weather
from sordino.plan.limits import within
from sordino.plan.section import Corners, check_one_shape, corners_of
from sordino.quantities import (
    Area,
    Concentration,
    Flow,
    Fraction,
    Length,
    NotNegative,
    Point,
    Power,
    Spectrum,
    Statement,
    Target,
    Volume,
    shown,
    spectrum,
)

Activity = Literal["seated", "desk work", "standing", "singing", "light work", "drumming", "dancing"]


class People(Statement):
    """Some people doing one thing."""

    count: int = Field(ge=0, le=500, description="how many of them")
    activity: Activity = Field(default="seated", description="what they do, for their breath and warmth")


def _themselves(names: tuple[str, ...]) -> dict[str, str]:
    return dict(zip(names, names, strict=True))


SurfaceName = Annotated[str, OnRecord(what="surface", names=lambda: _themselves(surfaces()))]
SOURCE = OnRecord(what="source", names=lambda: _themselves(loud_kinds()))


def loud(value: object) -> str | tuple[float, ...]:
    """The loudest source by its kind or by its octave-band levels."""
    if isinstance(value, str):
        return SOURCE.read(value)
    if isinstance(value, list | tuple):
        return spectrum(value)
    raise Refusal(f"{shown(value)} is no source", 'name a kind, as "drum kit", or list 8 levels in dB at 1 m')


Loudest = Annotated[
    str | tuple[float, ...],
    PlainValidator(loud),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "examples": ["speech loud"]},
                {"type": "array", "items": {"type": "number"}, "minItems": 8, "maxItems": 9},
            ],
            "description": "The loudest source inside: its kind, or octave-band levels at 1 m in dB.",
        }
    ),
]


class Patch(Statement):
    """An area of some other surface: a rug, a curtain, panels."""

    surface: SurfaceName = Field(description="what it is covered with, by a name on record")
    area: Area = Field(description="how much of it there is")


class Surfaces(Statement):
    """What the room is finished with, by name in the absorption table; patches cover part of the walls."""

    floor: SurfaceName = Field(default="wood lining on frame", description="by a name on record")
    walls: SurfaceName = Field(default="plasterboard on studs with wool", description="by a name on record")
    ceiling: SurfaceName = Field(default="plasterboard on studs with wool", description="by a name on record")
    patches: tuple[Patch, ...] = Field(default=(), description="other surfaces that cover part of the walls")


class Door(Statement):
    """The door that room pressure pushes on."""

    width: Length = 0.8
    height: Length = 2.0


SMALLEST, LARGEST = 0.5, 100.0
"""Sides of a room that are believed, m (judgement)."""
Side = Annotated[
    Length, within(SMALLEST, LARGEST, "{read} is no size for a room", "rooms from 0.5 m to 100 m can be assessed")
]
Absorbing = Annotated[Fraction, within(0.01, 0.9, "no space absorbs {read} of its sound", "1 % to 90 % is wanted")]


class Room(Statement):
    """A room to be made quiet. Give length, width and height, or a `profile` extruded over the length."""

    name: str | None = Field(default=None, description="what people call it")
    use: str = Field(default="", description="what is done in it, in your own words")
    target: Target | dict[str, Target] | None = Field(default=None, description='"NC-20", or one for each mode')
    length: Side = Field(description="inside length")
    width: Side | None = Field(default=None, description="inside width")
    height: Side | None = Field(default=None, description="from floor to ceiling")
    profile: tuple[tuple[NotNegative, NotNegative], ...] | None = Field(
        default=None,
        description="corners of the cross-section, across and up from the floor, for a sloped ceiling",
    )
    surfaces: Surfaces = Surfaces()
    people: tuple[People, ...] = ()
    gear: Power = Field(default=0.0, description="heat of the equipment")
    lights: Power = Field(default=0.0, description="heat of the lights")
    comfort: Comfort = Comfort()
    loudest: Loudest | None = Field(default=None, description="the loudest source inside, by kind or in dB at 1 m")
    listener: Length = Field(default=1.5, description="distance from the nearest outlet to the ear or microphone")
    ear: Point | None = Field(default=None, description="where ear or microphone is: along, across, up from the floor")
    background: Spectrum | None = Field(default=None, description="level inside with all air off, dB per octave")
    leakage: Flow | None = Field(default=None, description="air leakage at 50 Pa; one air change per hour if not given")
    door: Door = Door()

    @field_validator("profile")
    @classmethod
    def _encloses(cls, corners: Corners | None) -> Corners | None:
        if corners is None:
            return None
        if len(corners) < 3 or _area(corners) < SMALLEST**2 or max(max(point) for point in corners) > LARGEST:
            raise Refusal(
                "these corners enclose no room",
                "list at least three corners in order round the section, as "
                '[["0 m", "0 m"], ["3 m", "0 m"], ["3 m", "2.4 m"], ["0 m", "1.4 m"]]',
            )
        if _edges(corners, "floor") < SMALLEST:
            raise Refusal("no edge of the profile lies on the floor", 'begin with ["0 m", "0 m"], ["3 m", "0 m"]')
        return corners

    @model_validator(mode="after")
    def _has_a_shape(self) -> Room:
        check_one_shape("the room", self.profile, self.width, self.height)
        return self

    @property
    def corners(self) -> Corners:
        """The cross-section as corners (across, up), m."""
        return corners_of(self.profile, self.width, self.height)

    @property
    def volume(self) -> float:
        """m3."""
        return _area(self.corners) * self.length

    @property
    def floor_area(self) -> float:
        """m2."""
        return _edges(self.corners, "floor") * self.length

    @property
    def ceiling_area(self) -> float:
        """Level and sloping ceiling, m2."""
        return _edges(self.corners, "ceiling") * self.length

    @property
    def wall_area(self) -> float:
        """Side walls and both ends, m2."""
        return _edges(self.corners, "wall") * self.length + 2.0 * _area(self.corners)

    @property
    def surface(self) -> float:
        """The whole inside surface, m2."""
        return self.floor_area + self.ceiling_area + self.wall_area

    @property
    def mean_size(self) -> tuple[float, float, float]:
        """Sides of the rectangular room of the same length, width and volume, m."""
        across = max(x for x, _ in self.corners) - min(x for x, _ in self.corners)
        return self.length, across, self.volume / self.length / across

    @property
    def diagonal(self) -> float:
        """From corner to far corner of the box around the room, m."""
        across, up = (max(c[axis] for c in self.corners) - min(c[axis] for c in self.corners) for axis in (0, 1))
        return float(np.sqrt(self.length**2 + across**2 + up**2))

    @property
    def absorption_area(self) -> Bands:
        """Sabine absorption area of the finishes per octave, m2, shape (9,)."""
        finish, covered = self.surfaces, sum(patch.area for patch in self.surfaces.patches)
        total = self.floor_area * absorption(finish.floor) + self.ceiling_area * absorption(finish.ceiling)
        total = total + max(self.wall_area - covered, 0.0) * absorption(finish.walls)
        return total + sum((patch.area * absorption(patch.surface) for patch in finish.patches), np.zeros(9))

    def holds(self, point: Point) -> bool:
        """Whether a point lies within the length and the outline of the room."""
        along, across, up = point
        width, height = (max(corner[axis] for corner in self.corners) for axis in (0, 1))
        return along <= self.length and across <= width and up <= height

    def target_in(self, mode: str) -> Target | None:
        """The target that holds in a mode."""
        return self.target.get(mode) if isinstance(self.target, dict) else self.target


class Space(Statement):
    """Somewhere that is not a room of the project: it may be noisy, and ducts may pass through it."""

    kind: Literal["attic", "void", "outside", "room", "window"] = Field(
        alias="is", description="outside, or a neighbour's window, or a space that ducts run through"
    )
    name: str | None = Field(default=None, description="what people call it")
    use: Literal["garage", "plant room"] | None = Field(default=None, description="if no air may be taken from it")
    noise: Spectrum | None = Field(default=None, description="sound pressure level there without this project, dB")
    volume: Volume = Field(default=40.0, description="volume of an enclosed space")
    absorbing: Absorbing = Field(default=0.2, description="mean absorption of its surfaces, 1 % to 90 %")
    distance: Length | None = Field(default=None, description="from the project's outside ends to a neighbour's window")
    distances: dict[str, Length] = Field(default_factory=dict, description="the same for single runs, by name")
    target: Target | None = Field(default=None, description="what must not be exceeded there")
    air: dict[Literal["summer_day", "humid_night", "winter", "summer_month", "winter_month"], Weather] = Field(
        default_factory=dict, description="temperature and humidity there where they are known, by condition"
    )
    co2: Concentration | None = Field(default=None, description="carbon dioxide there, if it is not as outdoors")

    @model_validator(mode="after")
    def _is_placed(self) -> Space:
        if self.kind == "window" and self.distance is None and not self.distances:
            raise Refusal("the window's distance is missing", 'add how far the ducts end from it, as distance = "12 m"')
        return self

    @property
    def enclosed(self) -> bool:
        """Whether sound builds up in it."""
        return self.kind in ("attic", "void", "room")

    @property
    def surface(self) -> float:
        """Surface of an enclosed space, taken as a flat box four times as wide as high, m2."""
        high = (self.volume / 16.0) ** (1.0 / 3.0)
        return 48.0 * high**2


def _edges(points: Corners, part: str) -> float:
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return sum(float(np.hypot(b[0] - a[0], b[1] - a[1])) for a, b in pairs if _part(a, b) == part)


def _area(points: Corners) -> float:
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2.0


def _part(a: tuple[float, float], b: tuple[float, float]) -> str:
    if abs(a[0] - b[0]) < 1e-9:
        return "wall"
    return "floor" if max(a[1], b[1]) < 1e-9 else "ceiling"
