"""Dimension lines and scale bars."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.kinds import INCH
from sordino.report.drawing.records import XY, Area, Item, Stroke, Text, rectangle
from sordino.report.drawing.view import View
from sordino.units import System, show

TICK, OVER = 1.0, 1.2
"""Half length of a tick's shadow, and how far a witness line runs past, mm."""
FINE = 0.13
LETTERS = 2.6
BARS = {"metric": (0.05, 0.1, 0.2, 0.5, 1.0), "inch": tuple(n * INCH for n in (2, 4, 6, 12, 24, 36))}
"""Lengths of scale bars, m."""


def along(left: XY, right: XY, y: float, value: float, units: System) -> Iterator[Item]:
    """A level dimension at height y between two points on paper, its figure over it."""
    for x, from_y in ((left[0], left[1]), (right[0], right[1])):
        yield Stroke(points=((x, from_y), (x, y + OVER)), width=FINE)
        yield _tick(x, y)
    yield Stroke(points=((left[0], y), (right[0], y)), width=FINE)
    middle = ((left[0] + right[0]) / 2.0, y - 0.8)
    yield Text(at=middle, text=show(value, "length", units), size=LETTERS, anchor="middle")


def upright(lower: XY, upper: XY, x: float, value: float, units: System) -> Iterator[Item]:
    """An upright dimension at x between two points on paper, its figure left of it, read from below."""
    for from_x, y in (lower, upper):
        yield Stroke(points=((from_x, y), (x + OVER, y)), width=FINE)
        yield _tick(x, y)
    yield Stroke(points=((x, lower[1]), (x, upper[1])), width=FINE)
    figure = show(value, "length", units)
    middle = (x - 0.8, (lower[1] + upper[1]) / 2.0)
    text = Text(at=middle, text=figure, size=LETTERS, anchor="middle", upright=True)
    if text.length <= lower[1] - upper[1]:
        yield text
    else:
        yield Text(at=(x + OVER + 0.6, middle[1] + 0.35 * LETTERS), text=figure, size=LETTERS)


def _tick(x: float, y: float) -> Stroke:
    return Stroke(points=((x - TICK, y + TICK), (x + TICK, y - TICK)), width=0.3)


def scale_bar(at: XY, view: View, most: float, units: System) -> Iterator[Item]:
    """A bar of a round length no longer than `most` mm, half of it black."""
    fits = [bar for bar in BARS[units] if bar * view.scale <= most]
    bar = fits[-1] if fits else BARS[units][0]
    x, y = at
    long = bar * view.scale
    yield Area(rings=(rectangle(x, y - 1.4, x + long / 2.0, y),), fill="#222222", stroke="#222222", width=FINE)
    yield Area(rings=(rectangle(x + long / 2.0, y - 1.4, x + long, y),), fill="#ffffff", stroke="#222222", width=FINE)
    yield Text(at=(x + long + 1.5, y), text=show(bar, "length", units), size=LETTERS)
