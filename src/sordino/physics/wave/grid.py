"""The grid: boxes on lines in x, y and z, halved along their diagonal where a roof slope passes.

Lines are placed so that each slope runs exactly through cell corners; dividers lie between lines and their
cells are left out. Where a duct stands at a slant the lines go on outside the box; the cells of its stub are whole ones
of the same lines.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.prism import FLAT, Prism, ceiling, slope, symmetric
from sordino.physics.wave.stub import Stub, bounds, end_depth, face_height, opening, slanting, wall_depth

NONE, FULL, LEFT_CUT, RIGHT_CUT = 0, 1, 2, 3
CLOSE = 1e-7
"""Lines nearer than this are one line, m."""
SLIVER = 0.3
"""An optional line nearer to a needed one than this share of the cell size is left out."""


@dataclass(frozen=True, kw_only=True)
class Grid:
    """Lines (m), the kind of each profile cell (nx, nz) of the box, and whether only the front half is meshed.

    `box` is the far corner of its meshed part, m. `stubs` are the cells (i, j, k) of each slanting port's stub.
    """

    x: Array
    y: Array
    z: Array
    kinds: Array
    half: bool
    box: tuple[float, float, float]
    stubs: dict[int, Array] = field(default_factory=dict)

    @property
    def lines(self) -> tuple[Array, Array, Array]:
        return self.x, self.y, self.z

    @property
    def shape(self) -> tuple[int, int, int]:
        """Cells along x, y, z."""
        return len(self.x) - 1, len(self.y) - 1, len(self.z) - 1

    @cached_property
    def span(self) -> Array:
        """First and last cell of the box along x, y, z, (2, 3)."""
        first = [int(np.searchsorted(line, -CLOSE)) for line in self.lines]
        last = [int(np.searchsorted(line, end - CLOSE)) - 1 for line, end in zip(self.lines, self.box, strict=True)]
        return np.array([first, last])

    @cached_property
    def _within(self) -> Array:
        """Indices of the box's own cells."""
        (_, first, _), (_, last, _) = self.span
        alive = np.repeat((self.kinds > NONE)[:, None, :], self.shape[1], axis=1)
        alive[:, :first] = alive[:, last + 1 :] = False
        return np.argwhere(alive)

    @cached_property
    def cells(self) -> Array:
        """Indices (i, j, k) of the cells that hold sound, (cells, 3): the box's, then those of each stub."""
        return np.concatenate([self._within, *self.stubs.values()])

    @cached_property
    def owner(self) -> Array:
        """Whose each cell is: 0 the box's, 1 and 2 the first and the second port's stub's, (cells,)."""
        counts = [len(self._within), *(len(cells) for cells in self.stubs.values())]
        return np.repeat([0, *(number + 1 for number in self.stubs)], counts)

    @cached_property
    def number(self) -> Array:
        """The row of `cells` at each (i, j, k) of the box, -1 where there is none."""
        return self.numbers(0)

    def numbers(self, owner: int) -> Array:
        """The same for the cells of one owner."""
        rows = np.full(self.shape, -1)
        mine = np.flatnonzero(self.owner == owner)
        rows[tuple(self.cells[mine].T)] = mine
        return rows

    @cached_property
    def cell_kinds(self) -> Array:
        own = self.kinds[self._within[:, 0], self._within[:, 2]]
        return np.concatenate([own, np.full(len(self.cells) - len(own), FULL)])

    @property
    def origins(self) -> Array:
        """Lowest corner of each cell, m."""
        return np.stack([line[self.cells[:, axis]] for axis, line in enumerate(self.lines)], axis=-1)

    @property
    def sizes(self) -> Array:
        """Edge lengths of each cell, m."""
        return np.stack([np.diff(line)[self.cells[:, axis]] for axis, line in enumerate(self.lines)], axis=-1)

    def corners(self, cells: Array) -> Array:
        """Node numbers of the eight corners of cells (n, 3): corner 4 a + 2 b + c lies at step (a, b, c)."""
        steps = np.array([(a, b, c) for a in (0, 1) for b in (0, 1) for c in (0, 1)])
        place = cells[:, None, :] + steps
        _, ny, nz = self.shape
        return (place[..., 0] * (ny + 1) + place[..., 1]) * (nz + 1) + place[..., 2]


def grid(prism: Prism, size: float) -> Grid:
    """The grid of a prism with cells of about `size`, m; half of it when front and back mirror each other."""
    half, stubs = symmetric(prism), slanting(prism)
    x, z = _profile_lines(prism, size)
    end = prism.width / 2 if half else prism.width
    y = _filled(_with_optional([0.0, end], _y_wishes(prism, end), size), size)
    if prism.turned:
        y = np.array([0.0, prism.width])
    x, y, z = _carried_on((x, y, z), tuple(stubs.values()), size, half)
    most = end if half else np.inf
    found = {number: _stub_cells(of, (x, y, z), most) for number, of in stubs.items()}
    return Grid(x=x, y=y, z=z, kinds=_kinds(prism, x, z), half=half, box=(prism.length, end, prism.height), stubs=found)


def _carried_on(
    lines: tuple[Array, Array, Array], stubs: tuple[Stub, ...], size: float, half: bool
) -> tuple[Array, Array, Array]:
    """Lines carried on outside the box as far as stubs reach."""
    found = []
    for axis, line in enumerate(lines):
        low = min([line[0], *(bounds(of)[0][axis] - FLAT for of in stubs)])
        high = max([line[-1], *(bounds(of)[1][axis] + FLAT for of in stubs if not (half and axis == 1))])
        found.append(_longer(line, low, high, size))
    return found[0], found[1], found[2]


def _longer(line: Array, low: float, high: float, size: float) -> Array:
    """Lines with more before and behind them; a hair's breadth more is nothing."""
    before = _filled([low, float(line[0])], size) if low < line[0] - CLOSE else line[:1]
    after = _filled([float(line[-1]), high], size) if high > line[-1] + CLOSE else line[-1:]
    return np.concatenate([before[:-1], line, after[1:]])


def _stub_cells(of: Stub, lines: tuple[Array, Array, Array], most: float) -> Array:
    """Indices (n, 3) of the cells, y below `most`, that a stub may touch: rather too many."""
    middles = np.stack(np.meshgrid(*[(line[1:] + line[:-1]) / 2 for line in lines], indexing="ij"), axis=-1)
    halves = np.stack(np.meshgrid(*[np.diff(line) / 2 for line in lines], indexing="ij"), axis=-1)
    reach = np.linalg.norm(halves, axis=-1)
    depth = np.minimum(wall_depth(of, middles), end_depth(of, middles))
    above = face_height(of, middles) > CLOSE - halves @ np.abs(of.normal)
    return np.argwhere((depth > -reach) & above & (middles[..., 1] < most))


def _y_wishes(prism: Prism, end: float) -> list[float]:
    wishes = [edge for region in prism.regions for edge in (region.front, region.back)]
    for port in prism.ports:
        if port.sides is not None:
            side = port.sides[0 if port.face in ("front", "back") else 1]
            wishes += [port.centre[1] - side / 2, port.centre[1] + side / 2]
    return [wish for wish in wishes if 0 < wish < end]


def _profile_lines(prism: Prism, size: float) -> tuple[Array, Array]:
    """Lines in x and z such that each slope joins them corner to corner."""
    knots_x = [0.0, prism.length, prism.left.run, prism.length - prism.right.run]
    knots_z = [0.0, prism.height, prism.height - prism.left.drop, prism.height - prism.right.drop]
    for divider in prism.dividers:
        knots_x, knots_z = [*knots_x, divider.x0, divider.x1], [*knots_z, divider.z0, divider.z1]
    wishes_x, wishes_z = _profile_wishes(prism)
    knots_x = _with_optional(knots_x, wishes_x, size)
    knots_z = _with_optional(knots_z, wishes_z, size)
    slopes = [slope(prism, f"{side} slope") for side in ("left", "right") if getattr(prism, side).run > 0]
    for _ in range(2):
        knots_x, knots_z = _joined(knots_x, knots_z, slopes)
    return _spread(np.array(knots_x), np.array(knots_z), slopes, size)


def _profile_wishes(prism: Prism) -> tuple[list[float], list[float]]:
    corners = [corner for region in prism.regions for corner in region.polygon]
    for port in (port for port in prism.ports if port.sides is not None):
        (x, _, z), (along, other) = port.centre, opening(port)
        if port.face in ("left", "right"):
            corners += [(x, z - along / 2), (x, z + along / 2)]
        elif port.face in ("floor", "ceiling"):
            corners += [(x - along / 2, z), (x + along / 2, z)]
        elif port.face in ("front", "back"):
            corners += [(x - along / 2, z - other / 2), (x + along / 2, z + other / 2)]
        else:
            (x0, z0), (x1, z1) = slope(prism, port.face)
            share = along / 2 / float(np.hypot(x1 - x0, z1 - z0))
            corners += [(x + sign * share * (x1 - x0), z + sign * share * (z1 - z0)) for sign in (-1, 1)]
    inside_x = [x for x, _ in corners if 0 < x < prism.length]
    return inside_x, [z for _, z in corners if 0 < z < prism.height]


def _with_optional(needed: Iterable[float], wishes: Iterable[float], size: float) -> list[float]:
    kept = _distinct(needed)
    for wish in sorted(wishes):
        if min(abs(wish - line) for line in kept) > SLIVER * size:
            kept.append(wish)
    return sorted(kept)


def _distinct(values: Iterable[float]) -> list[float]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > CLOSE:
            kept.append(float(value))
    return kept


Slope = tuple[tuple[float, float], tuple[float, float]]


def _joined(knots_x: list[float], knots_z: list[float], slopes: list[Slope]) -> tuple[list[float], list[float]]:
    """Knots of either axis carried over each slope to the other."""
    more_x, more_z = list(knots_x), list(knots_z)
    for (x0, z0), (x1, z1) in slopes:
        more_z += [z0 + (x - x0) * (z1 - z0) / (x1 - x0) for x in knots_x if x0 < x < x1]
        more_x += [x0 + (z - z0) * (x1 - x0) / (z1 - z0) for z in knots_z if min(z0, z1) < z < max(z0, z1)]
    return _distinct(more_x), _distinct(more_z)


def _spread(knots_x: Array, knots_z: Array, slopes: list[Slope], size: float) -> tuple[Array, Array]:
    """Knots filled with lines; stretches joined by a slope get the same number of cells."""
    count_x, count_z = _counts(knots_x, size), _counts(knots_z, size)
    links = [pair for one in slopes for pair in _links(knots_x, knots_z, one)]
    for _ in range(2):
        for i, k in links:
            count_x[i] = count_z[k] = max(count_x[i], count_z[k])
    return _divided(knots_x, count_x), _divided(knots_z, count_z)


def _links(knots_x: Array, knots_z: Array, one: Slope) -> list[tuple[int, int]]:
    """Stretches of x and of z that a slope passes together."""
    (x0, z0), (x1, z1) = one
    middles = (knots_x[1:] + knots_x[:-1]) / 2
    under = np.flatnonzero((middles > x0) & (middles < x1))
    heights = z0 + (middles[under] - x0) * (z1 - z0) / (x1 - x0)
    return list(zip(under.tolist(), (np.searchsorted(knots_z, heights) - 1).tolist(), strict=True))


def _counts(knots: Array, size: float) -> Array:
    return np.maximum(1, np.ceil(np.diff(knots) / size - 1e-6)).astype(int)


def _divided(knots: Array, counts: Array) -> Array:
    parts = [np.linspace(a, b, n, endpoint=False) for a, b, n in zip(knots[:-1], knots[1:], counts, strict=True)]
    return np.concatenate([*parts, knots[-1:]])


def _filled(knots: list[float], size: float) -> Array:
    return _divided(np.array(knots), _counts(np.array(knots), size))


def _kinds(prism: Prism, x: Array, z: Array) -> Array:
    """What each profile cell is: whole, cut by a slope, or not there (outside, above a slope, inside a divider)."""
    middle_x, middle_z = np.meshgrid((x[1:] + x[:-1]) / 2, (z[1:] + z[:-1]) / 2, indexing="ij")
    below = ceiling(prism, middle_x) - middle_z
    kinds = np.where(below > CLOSE, FULL, NONE)
    kinds[(middle_x < 0) | (middle_x > prism.length) | (middle_z < 0)] = NONE
    on_slope = (np.abs(below) <= CLOSE) & (middle_x > 0) & (middle_x < prism.length)
    kinds = np.where(on_slope & (middle_x < prism.left.run), LEFT_CUT, kinds)
    kinds = np.where(on_slope & (middle_x > prism.length - prism.right.run), RIGHT_CUT, kinds)
    for divider in prism.dividers:
        inside = (middle_x > divider.x0) & (middle_x < divider.x1)
        kinds = np.where(inside & (middle_z > divider.z0) & (middle_z < divider.z1), NONE, kinds)
    return kinds
