"""The records of what a box is made of, in millimetres: boards with holes and bevels, sticks, and where each goes.

Every part is drawn in a plane of its own, u to the right and v up, its lower left corner at the origin, seen from the
side that ends up outside (of a divider: from the side its frame's n points to). A pose puts it into the box.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import pi
from typing import Literal

from sordino.elements.box_planes import Flat, Frame, Vector

Grain = Literal["u", "v", "none"]
"""Along which side of the drawing the grain runs; none where the board has none."""
Kind = Literal["panel", "divider"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Hole:
    """A hole right through a board about its centre: round by `diameter`, rectangular by `sides` along u and v, or an
    ellipse by its `axes` along u and v, for a round duct at a slant."""

    label: str
    """Of the mouth it belongs to; the same through all layers."""
    centre: Flat
    diameter: float | None = None
    sides: tuple[float, float] | None = None
    axes: tuple[float, float] | None = None

    @property
    def rounded(self) -> bool:
        """Whether it is a circle or an ellipse."""
        return self.sides is None

    @property
    def whole(self) -> tuple[float, float]:
        """How far it reaches along u and v, mm."""
        if self.diameter is not None:
            return self.diameter, self.diameter
        found = self.sides or self.axes
        assert found is not None, "a hole is round, or has two sides or axes"
        return found

    @property
    def area(self) -> float:
        """mm2."""
        u, v = self.whole
        return (pi / 4.0 if self.rounded else 1.0) * u * v

    @property
    def half(self) -> tuple[float, float]:
        """How far it reaches from its centre, mm."""
        return self.whole[0] / 2.0, self.whole[1] / 2.0

    @property
    def around(self) -> float:
        """Length of its edge, mm; an ellipse's after Ramanujan."""
        u, v = self.half
        if not self.rounded:
            return 4.0 * (u + v)
        return pi * (3.0 * (u + v) - ((3.0 * u + v) * (u + 3.0 * v)) ** 0.5)

    @property
    def turned(self) -> Hole:
        """The same on a board that lies a quarter turn round."""
        sides = None if self.sides is None else (self.sides[1], self.sides[0])
        return replace(self, sides=sides, axes=None if self.axes is None else (self.axes[1], self.axes[0]))


@dataclass(frozen=True, kw_only=True, slots=True)
class Edge:
    """One edge of a board, from a corner of its outline to the next."""

    meets: str
    """The face or divider it ends at; `open` where air goes round it."""
    bevel: float
    """Degrees from square; above 0 where the inner side is the longer one, below 0 where the outer one is."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """One board as it is cut, mm. Its outline is at the long points; `inner` and `outer` are its two sides."""

    label: str
    kind: Kind
    face: str
    level: int
    """Which layer of its face, from inside, from 0; of a divider, which divider."""
    board: str
    thickness: float
    outline: tuple[Flat, ...]
    edges: tuple[Edge, ...]
    inner: tuple[Flat, ...]
    outer: tuple[Flat, ...]
    holes: tuple[Hole, ...]
    grain: Grain
    pose: Frame
    volume: float
    """Without its holes, mm3."""
    density: float
    """kg/m3."""
    damped: bool = False
    """Whether damping compound goes under it, on its inner side."""

    @property
    def size(self) -> tuple[float, float]:
        """Length and width of the piece it is cut from, along u and v, mm."""
        return max(u for u, _ in self.outline), max(v for _, v in self.outline)

    @property
    def mass(self) -> float:
        """kg, holes taken out."""
        return self.density * 1e-9 * (self.volume - self.thickness * sum(hole.area for hole in self.holes))

    @property
    def bevelled(self) -> bool:
        """Whether some edge isn't square."""
        return any(abs(edge.bevel) > 0.05 for edge in self.edges)

    def cut_through(self, holes: tuple[Hole, ...]) -> Part:
        """The same with holes."""
        return replace(self, holes=(*self.holes, *holes))


@dataclass(frozen=True, kw_only=True, slots=True)
class Stick:
    """A length of stick in the angle of two boards, mm: `section` lies in the pose's u and v, the length along n."""

    label: str
    length: float
    section: tuple[Flat, ...]
    """Its corners; the first lies in the angle, the second along the first board."""
    pose: Frame
    joins: tuple[str, str]
    """The two faces or dividers it is screwed to."""
    use: Literal["frame", "cleat", "spacer"]
    level: int = 0
    """Of a spacer: which layer of its face the cavity is, from inside."""

    @property
    def size(self) -> tuple[float, float]:
        """Sides of the square stick it is ripped from, mm."""
        us, vs = ([corner[axis] for corner in self.section] for axis in (0, 1))
        return max(us) - min(us), max(vs) - min(vs)

    @property
    def area(self) -> float:
        """Of its section, mm2."""
        ring = self.section
        return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2.0

    @property
    def square(self) -> bool:
        """Whether it is used as it comes, with no edge ripped to a bevel."""
        wide, high = self.size
        return len(self.section) == 4 and abs(self.area - wide * high) < 0.01 * wide * high

    @property
    def start(self) -> Vector:
        """Where its first corner begins."""
        return self.pose.origin
