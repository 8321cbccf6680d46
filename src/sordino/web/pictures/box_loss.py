"""What a box takes, in third-octaves, with its range, and what goes round it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.box_answer import BoxAnswer
from sordino.assess.box_loss import Dip
from sordino.bands import CENTRES, OCTAVES, Array
from sordino.bands import name as band_name
from sordino.web.pictures import marks
from sordino.web.pictures.scales import nice_steps
from sordino.web.pictures.words import wrapped

LEFT, RIGHT, TOP, HIGH = 40.0, 10.0, 30.0, 250.0
FIRST, LAST = 44.7, 11220.0
"""Edges of the picture, Hz: from the 50 Hz third to the top of the 8 kHz octave."""
LINE, ROW = 19.0, 18.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Frame:
    """Where frequencies and losses lie."""

    wide: float
    top: float

    def at(self, frequency: float, loss: float) -> marks.XY:
        """A point, kept within the picture."""
        share = float(np.log(frequency / FIRST) / np.log(LAST / FIRST))
        kept = min(max(loss, 0.0), self.top)
        return LEFT + (self.wide - LEFT - RIGHT) * min(max(share, 0.0), 1.0), TOP + HIGH * (1.0 - kept / self.top)


@dataclass(frozen=True, kw_only=True, slots=True)
class Course:
    """Points of a curve with its range, and whether each figure is carried by the arithmetic."""

    frequency: Array
    loss: Array
    low: Array
    high: Array
    certain: Array


def box_loss(answer: BoxAnswer, name: str, narrow: bool = False) -> str:
    """The picture of one box."""
    solved, beyond = courses(answer)
    highest = max(float(np.nanmax(course.high)) for course in (solved, beyond) if course.frequency.size)
    highest = max(highest, min(float(np.nanmax(answer.ceiling)) + 3.0, 1.6 * highest))
    frame = Frame(wide=marks.NARROW if narrow else marks.WIDE, top=10.0 * float(np.ceil(min(highest, 119.0) / 10.0)))
    legend, bottom = _legend(answer, frame)
    parts = [
        *_scales(frame),
        *_limit(answer, frame),
        *_course(solved, frame, "solved"),
        *_course(beyond, frame, "beyond"),
        *_round(answer.ceiling, frame),
        *_dips(answer.heard_dips, frame),
        *legend,
    ]
    return marks.picture(frame.wide, bottom, f"What box {name} takes", loss_words(answer, name), parts, name="loss")


def courses(answer: BoxAnswer) -> tuple[Course, Course]:
    """Thirds as solved, and octaves beyond the field, which begin with the last third."""
    thirds, octaves = answer.thirds, answer.octaves
    solved = Course(
        frequency=thirds.centres, loss=thirds.loss, low=thirds.low, high=thirds.high, certain=thirds.certain
    )
    edge = float(thirds.centres[-1]) if thirds.centres.size else 0.0
    above = np.flatnonzero(CENTRES / 2.0**0.5 >= edge * 0.99)
    tail = (thirds.loss[-1:], thirds.low[-1:], thirds.high[-1:])
    loss, low, high = (
        np.concatenate([last, values[above]])
        for last, values in zip(tail, (octaves.loss, octaves.low, octaves.high), strict=True)
    )
    frequency = np.concatenate([thirds.centres[-1:], CENTRES[above]])
    certain = np.concatenate([thirds.certain[-1:], octaves.certain[above]])
    return solved, Course(frequency=frequency, loss=loss, low=low, high=high, certain=certain)


def loss_words(answer: BoxAnswer, name: str) -> str:
    """Where it is weakest and how far the field reaches."""
    band = answer.weakest
    low, high = answer.counted_low[band], answer.counted_high[band]
    words = f"{name} counts for least at {band_name(band)}: {answer.counted[band]:.0f} dB ({low:.0f} to {high:.0f})."
    words += f" Solved as a sound field up to {answer.validity.field_limit:.0f} Hz, estimated above."
    if answer.ruled:
        words += f" More goes round it than through it at {', '.join(band_name(each) for each in answer.ruled)}."
    return words


def _scales(frame: Frame) -> Iterator[str]:
    yield marks.text((2.0, TOP - 13.0), "dB taken, between ducts that swallow all sound", class_="soft")
    for level in nice_steps(0.0, frame.top, 7):
        _, y = frame.at(FIRST, level)
        yield marks.line(((LEFT, y), (frame.wide - RIGHT, y)), class_="grid")
        yield marks.text((LEFT - 6.0, y + 4.0), f"{level:.0f}", anchor="end", class_="soft")
    for centre, octave in zip(CENTRES[1:], OCTAVES[1:], strict=True):
        x, y = frame.at(float(centre), 0.0)
        yield marks.line(((x, y), (x, y + 4.0)), class_="axis")
        words = f"{octave:g}" if octave < 1000.0 else f"{octave / 1000.0:g}k"
        yield marks.text((x, y + 17.0), words, anchor="middle")
    _, y = frame.at(FIRST, 0.0)
    yield marks.text((LEFT - 6.0, y + 17.0), "Hz", anchor="end", class_="soft")
    yield marks.line(((LEFT, y), (frame.wide - RIGHT, y)), class_="axis")


def _limit(answer: BoxAnswer, frame: Frame) -> Iterator[str]:
    """The frequency above which no field is solved."""
    x, base = frame.at(answer.validity.field_limit, 0.0)
    yield marks.line(((x, TOP), (x, base)), class_="stretch")
    yield marks.bar(x, TOP, frame.wide - RIGHT - x, base - TOP, class_="unsolved")


def _course(course: Course, frame: Frame, kind: str) -> Iterator[str]:
    if course.frequency.size < 1:
        return
    upper, middle, lower = (
        [frame.at(float(f), float(v)) for f, v in zip(course.frequency, values, strict=True) if np.isfinite(v)]
        for values in (course.high, course.loss, course.low)
    )
    yield marks.area([*upper, *reversed(lower)], class_=f"loss-range {kind}")
    yield marks.line(middle, class_=f"loss-line {kind}")
    if kind == "beyond":
        return
    for (x, y), certain in zip(middle, course.certain[np.isfinite(course.loss)], strict=True):
        yield marks.element("circle", cx=x, cy=y, r=3.4, class_="loss-dot" if certain else "loss-dot unsure")


def _round(ceiling: Array, frame: Frame) -> Iterator[str]:
    """What comes round the box, octave by octave, where it lies within the picture."""
    stretches: list[list[marks.XY]] = [[]]
    for centre, value in zip(CENTRES[1:], ceiling[1:], strict=True):
        if value > frame.top:
            stretches.append([])
            continue
        stretches[-1] += [frame.at(float(centre) * 2.0**side, float(value)) for side in (-0.5, 0.5)]
    for points in stretches:
        if points:
            yield marks.line(points, class_="target-under")
            yield marks.line(points, class_="target")


def _dips(dips: tuple[Dip, ...], frame: Frame) -> Iterator[str]:
    """Where the loss dips: a mark under the curve, or over it where that is low, and its frequency over the axis."""
    placed: list[marks.XY] = []
    for dip in dips:
        x, y = frame.at(dip.frequency, dip.loss)
        words, down = f"{dip.frequency:.0f} Hz", 1.0 if y + 34.0 <= TOP + HIGH else -1.0
        yield marks.area(((x, y + 5.0 * down), (x + 4.5, y + 13.0 * down), (x - 4.5, y + 13.0 * down)), class_="dip")
        left = min(max(x, LEFT + marks.width(words) / 2.0 + 3.0), frame.wide - RIGHT - marks.width(words) / 2.0)
        over = TOP + HIGH - 7.0 if down > 0.0 else y - 18.0
        while any(abs(left - at) < marks.width(words) + 8.0 and abs(over - other) < ROW for at, other in placed):
            over -= ROW
        placed.append((left, over))
        yield marks.plated((left, over), words, anchor="middle")


def _legend(answer: BoxAnswer, frame: Frame) -> tuple[list[str], float]:
    y, found = TOP + HIGH + 30.0, []
    unsure = not bool(np.all(answer.thirds.certain))
    rows = [
        ('<path d="M2 -4H18" class="loss-line"/><circle cx="10" cy="-4" r="3.4" class="loss-dot"/>', "through it"),
        ('<rect x="2" y="-11" width="16" height="13" class="loss-range"/>', "as low and as high as that could be"),
        ('<path d="M2 -4H18" class="loss-line beyond"/>', "estimated: no field is solved there"),
        ('<path d="M2 -4H18" class="target"/>', "what goes round it: no box counts for more than that"),
    ]
    if unsure:
        words = "only known to be over 60 dB"
        rows.insert(1, ('<circle cx="10" cy="-4" r="3.4" class="loss-dot unsure"/>', words))
    if answer.heard_dips:
        rows.append(('<path d="M10 -10L14.5 -2H5.5Z" class="dip"/>', "lets more through here than on either side"))
    for sample, words in rows:
        y += LINE
        found.append(f'<g transform="translate(0 {marks.number(y)})">{sample}</g>')
        for index, row in enumerate(wrapped(words, frame.wide - 26.0)):
            y += 15.0 if index else 0.0
            found.append(marks.text((24.0, y), row))
    return found, y + 8.0
