"""What the solver is told: a profile in length x and height z, extruded over width y, with two ducts.

x runs from 0 to length, y from 0 to width, z from 0 to height. Regions are painted in order, the flexible
duct last.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, isclose, radians

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.wave.line import Point

FACES = ("left", "right", "floor", "ceiling", "left slope", "right slope", "front", "back")
FLAT = 1e-9
FLATTEST = radians(75.0)
"""A duct more at a slant than that runs along its face; its opening would be four times its size."""
TOUCH = 0.05
"""A divider may press into the duct by this share of its radius before it counts as cutting it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Cut:
    """A top corner taken off by a roof slope: `run` along the length, `drop` down the wall, m. Zero cuts
    nothing."""

    run: float = 0.0
    drop: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Region:
    """A polygon of the profile, from y = front to back, holding one fluid: 0 is air, n the n-th fibre of the
    filling."""

    polygon: tuple[tuple[float, float], ...]
    fluid: int
    front: float
    back: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Divider:
    """A plate over the full width: a rectangle of the profile, its thickness the shorter side; m."""

    x0: float
    z0: float
    x1: float
    z1: float

    @property
    def across_x(self) -> bool:
        """Whether its faces look along x (a standing plate)."""
        return self.x1 - self.x0 <= self.z1 - self.z0


@dataclass(frozen=True, kw_only=True, slots=True)
class Tube:
    """A flexible duct: air within `radius` of the centreline; with `film` its core is a wall the sound must
    move."""

    centreline: tuple[Point, ...]
    radius: float
    film: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Port:
    """A duct meeting a face: round by `diameter`, or rectangular by `sides` (along the profile, along the rest).

    `centre` is the point of that face where the duct's axis meets it. `slant` is the angle between the axis and square
    to the face, rad: above 0 the duct leans, on its way out, up on an end and to larger x on any other face. `stub` is
    a straight length of the same duct that still belongs to the box, m. In a profile turned about the x axis a round
    port sits on the axis.
    """

    face: str
    centre: Point
    diameter: float | None = None
    sides: tuple[float, float] | None = None
    stub: float = 0.0
    slant: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Prism:
    """The whole statement, m. `turned`: the profile is turned about its floor (z is a radius), the width one
    slice."""

    length: float
    width: float
    height: float
    ports: tuple[Port, Port]
    left: Cut = Cut()
    right: Cut = Cut()
    regions: tuple[Region, ...] = ()
    dividers: tuple[Divider, ...] = ()
    tube: Tube | None = None
    turned: bool = False

    def __post_init__(self) -> None:
        faults = [
            *_size_faults(self),
            *_cut_faults(self),
            *_divider_faults(self),
            *_tube_faults(self),
            *_port_faults(self),
        ]
        if faults:
            raise OutOfRange("; ".join(faults))

    @property
    def fibres(self) -> int:
        """How many fibres the filling must name."""
        return max((region.fluid for region in self.regions), default=0)


def ceiling(prism: Prism, x: Array) -> Array:
    """Height of the profile at x, m."""
    top = np.full(np.shape(x), prism.height)
    for cut, distance in ((prism.left, x), (prism.right, prism.length - np.asarray(x))):
        if cut.run > 0:
            top = np.minimum(top, prism.height - cut.drop * (1 - np.clip(distance / cut.run, 0, 1)))
    return top


def outline(prism: Prism) -> tuple[tuple[float, float], ...]:
    """The profile's corners, from the origin along the floor."""
    length, height, left, right = prism.length, prism.height, prism.left, prism.right
    corners = [(0.0, 0.0), (length, 0.0), (length, height - right.drop), (length - right.run, height)]
    corners += [(left.run, height), (0.0, height - left.drop)]
    return tuple(dict.fromkeys(corners))


def whole(prism: Prism, fluid: int) -> Region:
    """The whole inside as one region: fibre everywhere, before a tube or passages are painted into it."""
    return Region(polygon=outline(prism), fluid=fluid, front=0.0, back=prism.width)


def lining(prism: Prism, face: str, thickness: float, fluid: int) -> Region:
    """A layer of even thickness on one face, as a region."""
    length, width, height = prism.length, prism.width, prism.height
    if face in ("front", "back"):
        front = 0.0 if face == "front" else width - thickness
        return Region(polygon=outline(prism), fluid=fluid, front=front, back=front + thickness)
    corners = {
        "left": ((0.0, 0.0), (thickness, height)),
        "right": ((length - thickness, 0.0), (length, height)),
        "floor": ((0.0, 0.0), (length, thickness)),
        "ceiling": ((0.0, height - thickness), (length, height)),
    }
    polygon = rectangle(*corners[face]) if face in corners else _under_slope(prism, face, thickness)
    return Region(polygon=polygon, fluid=fluid, front=0.0, back=width)


def rectangle(low: tuple[float, float], high: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """A rectangle of the profile from two corners."""
    return (low, (high[0], low[1]), high, (low[0], high[1]))


def slope(prism: Prism, face: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """The two ends of a slope in the profile, from small x to large."""
    if face == "left slope":
        return (0.0, prism.height - prism.left.drop), (prism.left.run, prism.height)
    return (prism.length - prism.right.run, prism.height), (prism.length, prism.height - prism.right.drop)


def symmetric(prism: Prism) -> bool:
    """Whether the front half mirrors the back half, so that one half tells all."""
    middle = prism.width / 2
    spans = {(r.polygon, r.fluid, r.front, r.back) for r in prism.regions}
    mirrored = {(p, f, _tidy(prism.width - b), _tidy(prism.width - a)) for p, f, a, b in spans}
    return (
        not prism.turned
        and all(port.face not in ("front", "back") and isclose(port.centre[1], middle) for port in prism.ports)
        and {(p, f, _tidy(a), _tidy(b)) for p, f, a, b in spans} == mirrored
        and (prism.tube is None or all(isclose(y, middle) for _, y, _ in prism.tube.centreline))
    )


def _tidy(value: float) -> float:
    return round(value, 9) + 0.0


def _under_slope(prism: Prism, face: str, thickness: float) -> tuple[tuple[float, float], ...]:
    start, end = slope(prism, face)
    run, rise = end[0] - start[0], end[1] - start[1]
    along = (run**2 + rise**2) ** 0.5
    shift = (thickness * rise / along, -thickness * run / along)
    return start, end, (end[0] + shift[0], end[1] + shift[1]), (start[0] + shift[0], start[1] + shift[1])


def _size_faults(prism: Prism) -> list[str]:
    sides = {"length": prism.length, "width": prism.width, "height": prism.height}
    faults = [f"{name} is {value:g} m; it must be above 0" for name, value in sides.items() if value <= 0]
    if prism.turned and (prism.dividers or prism.tube or prism.left.run or prism.right.run):
        faults.append("a profile turned about its floor takes regions only: no dividers, tube or slopes")
    return faults


def _cut_faults(prism: Prism) -> list[str]:
    faults = []
    for name, cut in (("left", prism.left), ("right", prism.right)):
        if (cut.run > 0) != (cut.drop > 0) or min(cut.run, cut.drop) < 0:
            faults.append(f"{name} slope runs {cut.run:g} m and drops {cut.drop:g} m; both must be above 0 or both 0")
        if cut.drop > prism.height + FLAT:
            faults.append(f"{name} slope drops {cut.drop:g} m, more than the height of {prism.height:g} m")
    if prism.left.run + prism.right.run > prism.length + FLAT:
        faults.append(f"slopes run {prism.left.run:g} + {prism.right.run:g} m over a length of {prism.length:g} m")
    return faults


def _divider_faults(prism: Prism) -> list[str]:
    faults = []
    for divider in prism.dividers:
        inside = min(divider.x0, divider.z0) >= -FLAT and divider.x1 <= prism.length + FLAT
        if not (inside and divider.z1 <= prism.height + FLAT):
            faults.append(f"divider at x {divider.x0:g} m, z {divider.z0:g} m reaches outside the profile")
        if divider.x1 <= divider.x0 or divider.z1 <= divider.z0:
            faults.append(f"divider at x {divider.x0:g} m, z {divider.z0:g} m has no thickness")
    return faults


def _tube_faults(prism: Prism) -> list[str]:
    """Dividers that would cut the duct's core: the meshed divider is not pierced."""
    if prism.tube is None:
        return []
    faults = []
    for divider in prism.dividers:
        x, z = _dense(prism.tube.centreline, prism.tube.radius / 8)
        aside = np.maximum(0, np.maximum(divider.x0 - x, x - divider.x1))
        above = np.maximum(0, np.maximum(divider.z0 - z, z - divider.z1))
        gap = float(np.hypot(aside, above).min())
        if gap < (1 - TOUCH) * prism.tube.radius:
            faults.append(
                f"divider at x {divider.x0:g} m, z {divider.z0:g} m is {gap:.3g} m from the duct's centreline; "
                f"its radius is {prism.tube.radius:g} m"
            )
    return faults


def _dense(line: tuple[Point, ...], step: float) -> tuple[Array, Array]:
    """Points of a centreline in the profile, at most `step` apart."""
    corners = np.asarray(line, float)
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(corners, axis=0), axis=1))])
    places = np.linspace(0.0, along[-1], int(np.ceil(along[-1] / step)) + 1)
    return np.interp(places, along, corners[:, 0]), np.interp(places, along, corners[:, 2])


def _port_faults(prism: Prism) -> list[str]:
    faults = []
    for port in prism.ports:
        if port.face not in FACES:
            faults.append(f"port face {port.face!r} is none of {', '.join(FACES)}")
        if (port.diameter is None) == (port.sides is None):
            faults.append(f"port on the {port.face} needs a diameter or two sides, one of them")
        if abs(port.slant) > (0.0 if prism.turned else FLATTEST):
            faults.append(f"port on the {port.face} stands at {degrees(port.slant):.0f} degrees; that can't be meshed")
    return faults
