"""The box's faces as polygons of its inside, in millimetres, slopes and all."""

from __future__ import annotations

from dataclasses import dataclass

from sordino.elements.box_planes import Flat, Frame, Plane, area, borders, cut_flat, dot
from sordino.elements.box_sheets import frames
from sordino.physics.wave import prism as wave

MM = 1e3


@dataclass(frozen=True, kw_only=True, slots=True)
class InsideFace:
    """One face from outside: its inside outline, and where it lies, mm."""

    name: str
    outline: tuple[Flat, ...]
    pose: Frame

    @property
    def area(self) -> float:
        """mm2."""
        return area(self.outline)


def inside_faces(prism: wave.Prism) -> tuple[InsideFace, ...]:
    """Every face that the box has."""
    bases = frames(prism)
    return tuple(_face(name, bases) for name in bases)


def _face(name: str, bases: dict[str, Frame]) -> InsideFace:
    walls = tuple(wall for wall in inside_planes(bases) if wall.name != name)
    ring = tuple(point for point, _ in cut_flat(0.0, 0.0, borders(bases[name], walls)))
    pose, outline = settled(bases[name], (ring,))
    return InsideFace(name=name, outline=outline[0], pose=pose)


def inside_planes(bases: dict[str, Frame]) -> tuple[Plane, ...]:
    """The planes between which the cavity lies, m."""
    return tuple(Plane(name=name, normal=base.n, offset=dot(base.n, base.origin)) for name, base in bases.items())


def settled(frame: Frame, rings: tuple[tuple[Flat, ...], ...]) -> tuple[Frame, tuple[tuple[Flat, ...], ...]]:
    """A frame in mm whose origin is the lower left corner of all rings, and the rings counted from there."""
    u0, v0 = (min(point[axis] for ring in rings for point in ring) for axis in (0, 1))
    ox, oy, oz = frame.at(u0, v0, 0.0)
    pose = Frame(origin=(MM * ox, MM * oy, MM * oz), u=frame.u, v=frame.v, n=frame.n)
    return pose, tuple(tuple((_mm(u - u0), _mm(v - v0)) for u, v in ring) for ring in rings)


def _mm(length: float) -> float:
    """Millimetres without the last bits of arithmetic."""
    return round(MM * length, 9) + 0.0
