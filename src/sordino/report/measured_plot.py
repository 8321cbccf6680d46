"""Measured beside predicted as a drawing: one panel a row, the prediction as a band, readings as marks with ranges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.bands import COUNT
from sordino.measure.result import Measurement, Row
from sordino.physics.signal.background import AT_LEAST, AT_MOST
from sordino.report.drawing.records import Area, Item, Sheet, Stroke, Text, rectangle
from sordino.report.layout import BAND_NAMES

WIDTH, LEFT, RIGHT = 180.0, 18.0, 6.0
HEAD, PANEL, TITLE, FOOT = 16.0, 62.0, 8.0, 12.0
"""Heights of the head, of a panel, of its title and of its axis, mm."""
INK, SOFT, SAID, MARK = "#222222", "#c9c9c9", "#b9c8b4", "#7a2e63"
EDGE = 4.0
"""Room left and right of the bands, mm."""
STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
LINES = 7
"""Most grid lines of a panel."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Frame:
    """Where a panel lies and what its axis spans."""

    upper: float
    low: float
    high: float
    step: float

    def x(self, band: float) -> float:
        """Place of an octave on paper, mm."""
        return LEFT + EDGE + (band + 0.5) * (WIDTH - LEFT - RIGHT - 2.0 * EDGE) / COUNT

    def y(self, value: float) -> float:
        """Place of a value on paper, mm; values beyond the axis stay at its end."""
        share = (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)
        return self.upper + TITLE + (1.0 - share) * (PANEL - TITLE - FOOT)


def measured_plot(found: Measurement) -> Sheet:
    """The sheet of one test; a test without bands has figures alone."""
    rows = [row for row in found.rows if np.isfinite(row.levels.octaves.level).any()]
    items: list[Item] = [
        Text(at=(LEFT, 8.0), text=found.title, size=4.0, bold=True),
        Text(at=(LEFT, 13.0), text=_key(rows), size=2.4),
    ]
    for index, row in enumerate(rows):
        items += _panel(row, HEAD + index * PANEL)
    height = HEAD + PANEL * len(rows) + 4.0
    words = " ".join(found.answer)
    return Sheet(width=WIDTH, height=height, title=found.title, description=words, items=tuple(items))


def _key(rows: list[Row]) -> str:
    if not rows:
        return "No bands: see the text."
    return "squares: values with range; triangles down: at most, up: at least; grey-green: predicted, with range"


def _panel(row: Row, upper: float) -> Iterator[Item]:
    frame = _frame(row, upper)
    unit = "s" if row.sign == "time" else "dB"
    yield Text(at=(LEFT, upper + 5.0), text=f"{row.label}, {unit}", size=3.0, bold=True)
    yield from _axes(frame)
    if row.predicted is not None:
        yield from _prediction(row, frame)
    yield from _marks(row, frame)


def _frame(row: Row, upper: float) -> Frame:
    values = [row.levels.octaves.level, row.levels.octaves.low, row.levels.octaves.high]
    if row.predicted is not None:
        values += [row.predicted.level, row.predicted.low, row.predicted.high]
    known = np.concatenate(values)
    known = known[np.isfinite(known)]
    least, most = float(known.min()), float(known.max())
    step = next((one for one in STEPS if (most - least) / one <= LINES), STEPS[-1])
    return Frame(upper=upper, low=step * np.floor(least / step), high=step * (np.floor(most / step) + 1.0), step=step)


def _axes(frame: Frame) -> Iterator[Item]:
    right = WIDTH - RIGHT
    for value in np.arange(frame.low, frame.high + frame.step / 2.0, frame.step):
        y = frame.y(float(value))
        yield Stroke(points=((LEFT, y), (right, y)), colour=SOFT, width=0.15)
        yield Text(at=(LEFT - 1.5, y + 0.9), text=f"{value:z.3g}", size=2.4, anchor="end")
    for band, name in enumerate(BAND_NAMES):
        yield Text(at=(frame.x(band), frame.y(frame.low) + 4.0), text=name, size=2.4, anchor="middle")
    yield Text(at=(right, frame.y(frame.low) + 7.5), text="octave, Hz", size=2.2, anchor="end")


def _prediction(row: Row, frame: Frame) -> Iterator[Item]:
    said = row.predicted
    assert said is not None
    for band in range(COUNT):
        if np.isfinite([said.level[band], said.low[band], said.high[band]]).all():
            x, half = frame.x(band), 5.5
            ring = rectangle(x - half, frame.y(said.high[band]), x + half, frame.y(said.low[band]))
            yield Area(rings=(ring,), fill=SAID)
            y = frame.y(said.level[band])
            yield Stroke(points=((x - half, y), (x + half, y)), colour=INK, width=0.35)


def _marks(row: Row, frame: Frame) -> Iterator[Item]:
    one = row.levels.octaves
    for band in np.flatnonzero(np.isfinite(one.level)):
        x, y, bound = frame.x(float(band)), frame.y(one.level[band]), int(one.bound[band])
        if bound == AT_MOST:
            yield Area(rings=(((x - 2.0, y - 1.6), (x + 2.0, y - 1.6), (x, y + 1.6)),), fill=MARK)
        elif bound == AT_LEAST:
            yield Area(rings=(((x - 2.0, y + 1.6), (x + 2.0, y + 1.6), (x, y - 1.6)),), fill=MARK)
        else:
            whisker = ((x, frame.y(one.low[band])), (x, frame.y(one.high[band])))
            yield Stroke(points=whisker, colour=MARK, width=0.4)
            yield Area(rings=(rectangle(x - 1.1, y - 1.1, x + 1.1, y + 1.1),), fill=MARK)
