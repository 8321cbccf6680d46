"""Rooms, and the spaces around them that are not rooms."""

from __future__ import annotations

from typing import Literal

import numpy as np
from pydantic import Field, model_validator

from sordino.bands import Bands
from sordino.physics.sound.sources import absorption, loud_kinds, surfaces
from sordino.quantities import (
    Area,
    Flow,
    Fraction,
    Length,
    NotNegative,
    Power,
    Spectrum,
    Statement,
    Target,
    Volume,
)

Activity = Literal["seated", "desk work", "standing", "singing", "light work", "drumming", "dancing"]


class People(Statement):
    """Some people doing one thing."""

    count: int = Field(ge=0, le=500)
    activity: Activity = "seated"


def _check_surface(name: str) -> None:
    if name not in surfaces():
        raise ValueError(f"{name!r} is no surface on record: {', '.join(surfaces())}")


class Patch(Statement):
    """An area of some other surface: a rug, a curtain, panels."""

    surface: str
    area: Area

    @model_validator(mode="after")
    def _is_known(self) -> Patch:
        _check_surface(self.surface)
        return self


class Surfaces(Statement):
    """What the room is finished with, by name in the absorption table; patches cover part of the walls."""

    floor: str = "wood lining on frame"
    walls: str = "plasterboard on studs with wool"
    ceiling: str = "plasterboard on studs with wool"
    patches: tuple[Patch, ...] = ()

    @model_validator(mode="after")
    def _are_known(self) -> Surfaces:
        for name in (self.floor, self.walls, self.ceiling):
            _check_surface(name)
        return self


class Door(Statement):
    """The door that room pressure pushes on."""

    width: Length = 0.8
    height: Length = 2.0


class Room(Statement):
    """A room to be made quiet. Give length, width and height, or a `profile` extruded over the length."""

    name: str | None = None
    use: str = ""
    target: Target | dict[str, Target] | None = Field(default=None, description='"NC-20", or one for each mode')
    length: Length
    width: Length | None = None
    height: Length | None = None
    profile: tuple[tuple[NotNegative, NotNegative], ...] | None = Field(
        default=None,
        description="corners of the cross-section, across and up from the floor, for a sloped ceiling",
    )
    surfaces: Surfaces = Surfaces()
    people: tuple[People, ...] = ()
    gear: Power = Field(default=0.0, description="heat of the equipment")
    loudest: str | Spectrum | None = Field(
        default=None, description="the loudest source inside, by kind or in dB at 1 m"
    )
    listener: Length = Field(default=1.5, description="distance from the nearest outlet to the ear or microphone")
    background: Spectrum | None = Field(default=None, description="level inside with all air off, dB per octave")
    leakage: Flow | None = Field(default=None, description="air leakage at 50 Pa; one air change per hour if not given")
    door: Door = Door()

    @model_validator(mode="after")
    def _has_a_shape(self) -> Room:
        if self.profile is None and (self.width is None or self.height is None):
            raise ValueError("a room wants width and height, or a profile")
        if self.profile is not None:
            if self.width is not None or self.height is not None:
                raise ValueError("give either width and height or a profile, not both")
            if len(self.profile) < 3 or self.floor_area <= 0 or _area(self.profile) < 0.1:
                raise ValueError("the profile wants at least three corners round an area, some of them on the floor")
        if isinstance(self.loudest, str) and self.loudest not in loud_kinds():
            raise ValueError(f"{self.loudest!r} is no source on record: {', '.join(loud_kinds())}")
        return self

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """The cross-section as corners (across, up), m."""
        if self.profile is not None:
            return self.profile
        assert self.width is not None
        assert self.height is not None
        return ((0.0, 0.0), (self.width, 0.0), (self.width, self.height), (0.0, self.height))

    @property
    def volume(self) -> float:
        """m3."""
        return _area(self.corners) * self.length

    @property
    def floor_area(self) -> float:
        """m2."""
        return self._edges("floor") * self.length

    @property
    def ceiling_area(self) -> float:
        """Level and sloping ceiling, m2."""
        return self._edges("ceiling") * self.length

    @property
    def wall_area(self) -> float:
        """Side walls and both ends, m2."""
        return self._edges("wall") * self.length + 2.0 * _area(self.corners)

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
    def absorption_area(self) -> Bands:
        """Sabine absorption area of the finishes per octave, m2, shape (9,)."""
        finish, covered = self.surfaces, sum(patch.area for patch in self.surfaces.patches)
        total = self.floor_area * absorption(finish.floor) + self.ceiling_area * absorption(finish.ceiling)
        total = total + max(self.wall_area - covered, 0.0) * absorption(finish.walls)
        return total + sum((patch.area * absorption(patch.surface) for patch in finish.patches), np.zeros(9))

    def target_in(self, mode: str) -> Target | None:
        """The target that holds in a mode."""
        return self.target.get(mode) if isinstance(self.target, dict) else self.target

    def _edges(self, part: str) -> float:
        points = self.corners
        pairs = zip(points, (*points[1:], points[0]), strict=True)
        return sum(float(np.hypot(b[0] - a[0], b[1] - a[1])) for a, b in pairs if _part(a, b) == part)


class Space(Statement):
    """Somewhere that is not a room of the project: it may be noisy, and ducts may pass through it."""

    kind: Literal["attic", "void", "outside", "room", "window"] = Field(alias="is")
    name: str | None = None
    noise: Spectrum | None = Field(default=None, description="sound pressure level there without this project, dB")
    volume: Volume = Field(default=40.0, description="volume of an enclosed space")
    absorbing: Fraction = Field(default=0.2, description="mean absorption of its surfaces")
    distance: Length | None = Field(default=None, description="from the project's outside ends to a neighbour's window")
    distances: dict[str, Length] = Field(default_factory=dict, description="the same for single runs, by name")
    target: Target | None = Field(default=None, description="what must not be exceeded there")

    @model_validator(mode="after")
    def _is_placed(self) -> Space:
        if self.kind == "window" and self.distance is None and not self.distances:
            raise ValueError('a window wants its distance from the outside ends of the ducts, as distance = "12 m"')
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


def _area(points: tuple[tuple[float, float], ...]) -> float:
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2.0


def _part(a: tuple[float, float], b: tuple[float, float]) -> str:
    if abs(a[0] - b[0]) < 1e-9:
        return "wall"
    return "floor" if max(a[1], b[1]) < 1e-9 else "ceiling"
