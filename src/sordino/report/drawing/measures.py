"""Sizes on drawings of boards: their figures, dimension lines with them, and the scales that drawings are made to."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.report.drawing.records import XY, Item, Stroke, Text
from sordino.units import System, show

SCALES: dict[System, tuple[float, ...]] = {
    "metric": (1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 200),
    "inch": (1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 192),
}
"""How many times smaller a drawing may be than what it shows."""
FINE, LETTERS, TICK, OVER = 0.13, 2.2, 0.9, 1.0
ROW = 4.4
"""From one dimension line to the next, mm."""


def measure(millimetres: float, units: System) -> str:
    """A size as it is cut to: millimetres with at most one decimal, or inches to a sixteenth."""
    if units == "inch":
        return show(millimetres / 1e3, "length", units)
    return f"{figure(millimetres, units)} mm"


def figure(millimetres: float, units: System) -> str:
    """The same for drawings, whose millimetres go without their name."""
    if units == "inch":
        return show(millimetres / 1e3, "length", units)
    return f"{millimetres:.1f}".removesuffix(".0")


def pair(size: tuple[float, float], units: System) -> str:
    """Length by width."""
    if units == "inch":
        return " x ".join(measure(side, units) for side in size)
    return f"{' x '.join(figure(side, units) for side in size)} mm"


def fitting_scale(size: XY, room: XY, units: System) -> float:
    """The largest usual scale at which something of that size fits into a room on paper, as 10 for 1:10."""
    least = max(size[0] / room[0], size[1] / room[1])
    return next((scale for scale in SCALES[units] if scale >= least), SCALES[units][-1] * max(1.0, least))


def scale_words(scale: float) -> str:
    """`true size`, or as 1:10."""
    return "true size" if scale == 1 else f"1:{scale:g}"


def level(left: XY, right: XY, y: float, words: str, size: float = LETTERS) -> Iterator[Item]:
    """A level dimension at height y; its figure stands over it, or behind it where the line is too short."""
    for x, from_y in (left, right):
        yield Stroke(points=((x, from_y), (x, y + OVER)), width=FINE)
        yield _tick(x, y)
    yield Stroke(points=((left[0], y), (right[0], y)), width=FINE)
    told = Text(at=((left[0] + right[0]) / 2.0, y - 0.7), text=words, size=size, anchor="middle")
    if told.length <= right[0] - left[0]:
        yield told
    else:
        yield Text(at=(right[0] + 1.6, y + 0.35 * size), text=words, size=size)


def standing(lower: XY, upper: XY, x: float, words: str, size: float = LETTERS) -> Iterator[Item]:
    """An upright dimension at x, its figure read from below, or over its end where the line is too short."""
    for from_x, y in (lower, upper):
        yield Stroke(points=((from_x, y), (x - OVER, y)), width=FINE)
        yield _tick(x, y)
    yield Stroke(points=((x, lower[1]), (x, upper[1])), width=FINE)
    told = Text(at=(x - 0.7, (lower[1] + upper[1]) / 2.0), text=words, size=size, anchor="middle", upright=True)
    if told.length <= lower[1] - upper[1]:
        yield told
    else:
        yield Text(at=(x + 0.35 * size, upper[1] - 1.6), text=words, size=size, upright=True)


def _tick(x: float, y: float) -> Stroke:
    return Stroke(points=((x - TICK, y + TICK), (x + TICK, y - TICK)), width=0.3)
