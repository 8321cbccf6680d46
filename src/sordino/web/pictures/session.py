"""A session in a room: carbon dioxide and temperature against time, each with what it is held against."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.cooling import WARM
from sordino.assess.freshair import MARKER
from sordino.assess.session import SCHEDULE, Session
from sordino.bands import Array
from sordino.units import System
from sordino.web.pictures import marks
from sordino.web.pictures.scales import nice_step, nice_steps

LEFT, RIGHT, HIGH, HEAD, GAP = 52.0, 14.0, 150.0, 40.0, 26.0
POINTS = 120
"""Points that a curve is drawn with."""


MINUTES = (5.0, 10.0, 15.0, 30.0, 60.0, 120.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Panel:
    """One quantity of one room over the session, in the units shown."""

    kind: str
    """`gas` or `warmth`, also its class."""
    title: str
    values: Array
    limit: float
    limit_words: str
    asked: bool
    """Whether the plan asks for the limit; else it is only a mark."""
    least: float
    """The scale spans at least this much."""
    words: Callable[[float], str]


@dataclass(frozen=True, kw_only=True, slots=True)
class Frame:
    """Where moments and values lie."""

    wide: float
    upper: float
    minutes: float
    low: float
    top: float

    def at(self, minute: float, value: float) -> marks.XY:
        """A moment and a value in the picture."""
        x = LEFT + (self.wide - LEFT - RIGHT) * minute / self.minutes
        return x, self.upper + HIGH * (self.top - value) / (self.top - self.low)


def session(found: Assessment, room: str, mode: str, units: System, narrow: bool = False) -> str:
    """The picture of one room in a session of one mode, or of the schedule."""
    told, wide = found.indoors.sessions[mode], marks.NARROW if narrow else marks.WIDE
    kept = np.unique(np.linspace(0, told.co2.shape[0] - 1, POINTS).astype(int))
    minutes = kept * told.step / 60.0
    drawn: list[str] = []
    upper = HEAD
    for panel in panels(found, told, room, units):
        shown = Panel(**{name: getattr(panel, name) for name in Panel.__slots__} | {"values": panel.values[kept]})
        drawn += _panel(shown, minutes, told, wide, upper)
        upper += HIGH + GAP + HEAD
    by = "by its schedule" if mode == SCHEDULE else f"in mode {mode}"
    title = f"A session in {found.plan.place_name(room)}, {by}, {told.condition.replace('_', ' ')}"
    return marks.picture(
        wide, upper - HEAD + 6.0, title, session_words(found, room, mode, units), drawn, name="session"
    )


def panels(found: Assessment, told: Session, room: str, units: System) -> tuple[Panel, Panel]:
    """Carbon dioxide and temperature with their limits."""
    place, comfort = told.rooms.index(room), found.plan.room[room].comfort
    gas, warm = told.co2[:, place], told.temperature[:, place]
    limit = comfort.co2 if comfort.co2 is not None else MARKER
    warmest = comfort.warmest if comfort.warmest is not None else WARM
    shown = _degrees(warm, units)
    return (
        Panel(
            kind="gas",
            title="Carbon dioxide, ppm",
            values=gas,
            limit=limit,
            limit_words=f"{limit:.0f} ppm" + ("" if comfort.co2 is not None else ", commonly called stuffy"),
            asked=comfort.co2 is not None,
            least=800.0,
            words=lambda value: f"{value:.0f} ppm",
        ),
        Panel(
            kind="warmth",
            title=f"Temperature, {'°C' if units == 'metric' else '°F'}",
            values=shown,
            limit=float(_degrees(np.array(warmest), units)),
            limit_words=_shown(float(_degrees(np.array(warmest), units)), units)
            + (" at most" if comfort.warmest is not None else ", commonly called warm"),
            asked=comfort.warmest is not None,
            least=8.0 if units == "metric" else 14.0,
            words=lambda value: _shown(value, units),
        ),
    )


def _degrees(celsius: Array, units: System) -> Array:
    return celsius if units == "metric" else 1.8 * celsius + 32.0


def _shown(value: float, units: System) -> str:
    return f"{value:z.1f} °C" if units == "metric" else f"{value:z.0f} °F"


def session_words(found: Assessment, room: str, mode: str, units: System) -> str:
    """Where both end, and when a limit is passed."""
    told = found.indoors.sessions[mode]
    return " ".join(_told(panel, told) for panel in panels(found, told, room, units))


def _told(panel: Panel, told: Session) -> str:
    name = panel.title.split(",")[0]
    first, last = panel.words(float(panel.values[0])), panel.words(float(panel.values[-1]))
    words = f"{name} goes from {first} to {last} in {told.length / 60.0:.0f} min"
    over = np.flatnonzero(panel.values >= panel.limit)
    limit = panel.limit_words.split(",")[0].removesuffix(" at most")
    return f"{words}, past {limit} after {told.step * over[0] / 60.0:.0f} min." if over.size else f"{words}."


def _panel(panel: Panel, minutes: Array, told: Session, wide: float, upper: float) -> Iterator[str]:
    frame = _frame(panel, float(minutes[-1]), wide, upper)
    base = upper + HIGH
    yield marks.text((2.0, upper - 14.0), panel.title, marks.BODY, class_="strong")
    for value in nice_steps(frame.low, frame.top, 5):
        _, y = frame.at(0.0, value)
        yield marks.line(((LEFT, y), (wide - RIGHT, y)), class_="grid")
        yield marks.text((LEFT - 6.0, y + 4.0), f"{value:.0f}", anchor="end", class_="soft")
    yield from _clock(frame, base)
    yield from _stretches(told, frame)
    points = [frame.at(float(m), float(v)) for m, v in zip(minutes, panel.values, strict=True)]
    yield marks.area([*points, (points[-1][0], base), (points[0][0], base)], class_=f"{panel.kind}-area")
    yield marks.line(points, class_=f"{panel.kind}-line")
    yield from _limit(panel, frame)
    yield from _ending(panel, points)


def _frame(panel: Panel, minutes: float, wide: float, upper: float) -> Frame:
    low, high = float(np.min(panel.values)), max(float(np.max(panel.values)), panel.limit)
    high = max(high + 0.12 * (high - low), low + panel.least)
    step = nice_step(low, high, 5)
    return Frame(
        wide=wide,
        upper=upper,
        minutes=minutes,
        low=float(step * np.floor(low / step)),
        top=float(step * np.ceil(high / step)),
    )


def _clock(frame: Frame, base: float) -> Iterator[str]:
    step = next((each for each in MINUTES if frame.minutes / each <= 6.0), MINUTES[-1])
    for minute in np.arange(0.0, frame.minutes + 1e-6, step):
        x, _ = frame.at(float(minute), frame.low)
        yield marks.line(((x, base), (x, base + 4.0)), class_="axis")
        last = minute + step > frame.minutes
        words = f"{minute:.0f} min" if last else f"{minute:.0f}"
        anchor = "end" if last and frame.wide - x < 30.0 else "middle"
        yield marks.text((x + (RIGHT if anchor == "end" else 0.0), base + 17.0), words, anchor=anchor, class_="soft")
    yield marks.line(((LEFT, base), (frame.wide - RIGHT, base)), class_="axis")


def _stretches(told: Session, frame: Frame) -> Iterator[str]:
    """Where modes change, by name where there is room."""
    if len(told.modes) < 2:
        return
    begins = [seconds / 60.0 for seconds, _ in told.modes]
    for (begin, end), (_, name) in zip(zip(begins, [*begins[1:], frame.minutes], strict=True), told.modes, strict=True):
        (left, y), (right, _) = frame.at(begin, frame.low), frame.at(end, frame.low)
        yield marks.line(((left, frame.upper), (left, y)), class_="stretch")
        if right - left > marks.width(name) + 8.0:
            yield marks.text((left + 4.0, y - 6.0), name, class_="soft")


def _limit(panel: Panel, frame: Frame) -> Iterator[str]:
    """The limit across the panel, its words with a piece of its line in the panel's head."""
    (left, y), (right, _) = frame.at(0.0, panel.limit), frame.at(frame.minutes, panel.limit)
    style = "target" if panel.asked else "marker"
    yield marks.line(((left, y), (right, y)), class_=style)
    words, head = panel.limit_words, frame.upper - 14.0
    if marks.width(words) + 30.0 > frame.wide - RIGHT - marks.width(panel.title, marks.BODY):
        words = words.split(",")[0]
    end = frame.wide - RIGHT
    start = end - marks.width(words) - 6.0
    yield marks.line(((start - 18.0, head - 4.0), (start, head - 4.0)), class_=style)
    yield marks.text((start + 6.0, head), words)


def _ending(panel: Panel, points: list[marks.XY]) -> Iterator[str]:
    x, y = points[-1]
    yield marks.element("circle", cx=x, cy=y, r=4.0, class_=f"{panel.kind}-dot")
    under = y < points[0][1] - 1.0 and min(p[1] for p in points[-12:]) < y
    yield marks.plated((x, y + 19.0 if under else y - 9.0), panel.words(float(panel.values[-1])), anchor="end")
