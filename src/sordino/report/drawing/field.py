"""The sound field as areas of one colour each, contour lines, and figures on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.assess.box_picture import FieldSlice
from sordino.bands import Array
from sordino.report.drawing import palette
from sordino.report.drawing.records import Area, Rectangle, Ring, Stroke, Text, meet
from sordino.report.drawing.section import filled_rings
from sordino.report.drawing.view import View, length

FAR = 1e3
FIGURE = 2.3
"""Size of the figures on contour lines, mm."""
LABELLED = 6.0
"""Contour lines at whole multiples of this carry a figure, dB."""
NARROW = 18.0
"""A field that spans less than this has a figure on every line, dB."""
SHORTEST, LONG = 8.0, 40.0
"""Contour lines shorter than this carry no figure, longer ones two, mm."""
MOST, APART = 18, 14.0
"""Figures in one panel, and how far two of the same level lie apart, mm."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Raster:
    """Levels at points of the profile that reach over its edges, (z, x), without gaps."""

    x: Array
    z: Array
    level: Array


def raster(seen: FieldSlice, long: float, high: float) -> Raster:
    """A slice whose outermost points stand at the walls, each gap filled with the level nearest to it."""
    from scipy.ndimage import distance_transform_edt

    level = np.pad(seen.level, 1, mode="edge")
    nearest: Any = distance_transform_edt(np.isnan(level), return_distances=False, return_indices=True)
    x = np.concatenate([[0.0], seen.x, [long]])
    z = np.concatenate([[0.0], seen.z, [high]])
    return Raster(x=x, z=z, level=level[tuple(nearest)])


def areas(field: Raster, view: View) -> tuple[Area, ...]:
    """One area for each colour that occurs."""
    bounds = (-FAR, *palette.edges(), FAR)
    found = []
    for low, high, colour in zip(bounds[:-1], bounds[1:], palette.colours(), strict=True):
        if np.any((field.level >= low) & (field.level <= high)):
            rings = tuple(view.ring(ring) for ring in filled_rings(field.x, field.z, field.level, low, high))
            found.append(Area(rings=rings, fill=colour, stroke=colour, width=0.06))
    return tuple(found)


def lines(field: Raster, view: View) -> tuple[tuple[float, Ring], ...]:
    """Contour lines on paper, with their levels."""
    from contourpy import LineType, contour_generator

    maker: Any = contour_generator(field.x, field.z, field.level, line_type=LineType.Separate)
    return tuple(
        (level, tuple(view.at(float(x), float(z)) for x, z in line))
        for level in palette.edges()
        for line in maker.lines(level)
        if len(line) > 1
    )


def figure_step(field: Raster) -> float:
    """Levels at whole multiples of this carry figures, dB."""
    return LABELLED if float(np.ptp(field.level)) >= NARROW else palette.STEP


def strokes(found: tuple[tuple[float, Ring], ...], step: float) -> tuple[Stroke, ...]:
    """The contour lines; those with figures are drawn a little stronger."""
    return tuple(
        Stroke(points=line, colour="#40342e", width=0.18)
        if level % step == 0.0
        else Stroke(points=line, colour="#7d6c62", width=0.09)
        for level, line in found
    )


def figures(
    found: tuple[tuple[float, Ring], ...], step: float, free: Rectangle, taken: list[Rectangle]
) -> tuple[Text, ...]:
    """Figures on the contour lines, none over another, over what is `taken` or past the `free` rectangle."""
    placed: list[Text] = []
    for level, line in sorted(found, key=lambda each: -length(each[1])):
        wanted = 0 if level % step or length(line) < SHORTEST else 2 if length(line) > LONG else 1
        for _ in range(min(wanted, MOST - len(placed))):
            figure = _first_free(level, line, free, taken, placed)
            placed += [figure] if figure is not None else []
    return tuple(placed)


def _first_free(level: float, line: Ring, free: Rectangle, taken: list[Rectangle], placed: list[Text]) -> Text | None:
    for share in (0.5, 0.35, 0.65, 0.2, 0.8):
        x, y = line[int(share * (len(line) - 1))]
        figure = Text(
            at=(x, y + 0.35 * FIGURE), text=f"{level:.0f}".replace("-", "−"), size=FIGURE, anchor="middle", plate=True
        )
        left, upper, right, lower = figure.box
        inside = free[0] < left and free[1] < upper and right < free[2] and lower < free[3]
        same = [other for other in placed if other.text == figure.text]
        near = any(np.hypot(other.at[0] - x, other.at[1] - y) < APART for other in same)
        if inside and not near and not any(meet(figure.box, box) for box in (*taken, *(o.box for o in placed))):
            return figure
    return None
