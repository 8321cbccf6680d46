"""What a room will hear, octave by octave: each bar split into the sounds that make it up, against the target."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.loudness import Loudness
from sordino.assess.wording import rating_words
from sordino.bands import COUNT, OCTAVES, Bands, energy_sum
from sordino.bands import name as band_name
from sordino.report.phrases import heading_of
from sordino.report.spectra import grouped, shown_sounds, target_curve
from sordino.web.pictures import marks
from sordino.web.pictures.marks import BODY, SMALL
from sordino.web.pictures.scales import nice_steps
from sordino.web.pictures.words import wrapped

LEFT, TOP, BASE = 40.0, 30.0, 46.0
"""Room left of, over and under the bars, px."""
HIGH = {False: 300.0, True: 250.0}
"""Height of the bars' field, px."""
LEGEND_LINE = 19.0
SLIVER = 1.5
"""Parts of a bar thinner than this are not drawn, px."""
LETTERED = 13.0
"""Parts at least this high carry their letter, px."""
CAP = 3.6
LETTERS = "ABCDEF"
REST = "rest"


@dataclass(frozen=True, kw_only=True, slots=True)
class Sound:
    """One part of the bars."""

    letter: str
    label: str
    levels: Bands


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """Where bands and levels lie in the picture."""

    wide: float
    high: float
    low: float
    top: float

    def y(self, level: float) -> float:
        """Height of a level, kept within the field."""
        share = (min(max(level, self.low), self.top) - self.low) / (self.top - self.low)
        return TOP + self.high * (1.0 - share)

    @property
    def step(self) -> float:
        """Width of a band."""
        return (self.wide - LEFT - 6.0) / COUNT

    def left(self, band: int) -> float:
        """Left edge of a band."""
        return LEFT + band * self.step


def spectrum(found: Assessment, place: str, mode: str, narrow: bool = False) -> str:
    """The picture of one room or window in one mode."""
    heard = found.noise[place, mode]
    parts, curve = sounds(found, heard), target_curve(heard.target)
    field = _field(heard, curve, narrow)
    legend, bottom = _legend(parts, heard, field)
    marks_ = [
        *_levels(field),
        *(part for band in range(COUNT) for part in _band(heard, parts, curve, band, field)),
        *(() if curve is None else _target(curve, str(heard.target), field)),
        *legend,
    ]
    title = f"What {heading_of(found, heard)} will sound like: {rating_words(heard)}"
    return marks.picture(field.wide, bottom, title, share_words(found, place, mode), marks_, name="spectrum")


def sounds(found: Assessment, heard: Loudness) -> tuple[Sound, ...]:
    """The sounds that are told by name, loudest in the band that governs first, and the rest together."""
    groups = grouped(found.plan, heard.heard.contributions)
    shown = shown_sounds(groups, heard.levels, heard.band)
    named = [
        Sound(letter=letter, label=label, levels=groups[label]) for letter, label in zip(LETTERS, shown, strict=False)
    ]
    rest = [levels for label, levels in groups.items() if label not in shown[: len(LETTERS)]]
    if rest:
        named.append(Sound(letter=REST, label=_others(len(rest)), levels=energy_sum(rest)))
    return tuple(named)


def _others(count: int) -> str:
    return "1 other" if count == 1 else f"{count} others together"


def shares(parts: tuple[Sound, ...], band: int) -> tuple[float, ...]:
    """Each sound's part of the power in a band; a sound that is not assessed there has none."""
    power = np.array([10.0 ** (np.nan_to_num(part.levels[band], nan=-300.0) / 10.0) for part in parts])
    return tuple(power / power.sum())


def share_words(found: Assessment, place: str, mode: str) -> str:
    """Who is to blame, in a sentence."""
    heard = found.noise[place, mode]
    parts = sounds(found, heard)
    each = shares(parts, heard.band)
    first = int(np.argmax(each))
    told = f"Worst at {band_name(heard.band)}, where {100.0 * each[first]:.0f} % of the sound is {parts[first].label}."
    curve = target_curve(heard.target)
    if curve is None:
        return told  # a target in dBA says nothing of a single band
    over = bands_over(heard.levels, curve)
    where = ", ".join(band_name(band) for band in over)
    return f"{told} Over the target {heard.target} at {where}." if over else f"{told} No band is over {heard.target}."


def bands_over(levels: Bands, curve: Bands | None) -> tuple[int, ...]:
    """Bands in which the prediction is over the target's curve."""
    return () if curve is None else tuple(int(band) for band in np.flatnonzero(levels > curve))


def _field(heard: Loudness, curve: Bands | None, narrow: bool) -> Field:
    known = [heard.levels + heard.above, *([curve] if curve is not None else [])]
    top = 10.0 * np.ceil((float(np.nanmax(known)) + 3.0) / 10.0)
    return Field(wide=marks.NARROW if narrow else marks.WIDE, high=HIGH[narrow], low=0.0, top=max(float(top), 30.0))


def _levels(field: Field) -> Iterator[str]:
    yield marks.text((2.0, TOP - 13.0), "dB per octave", class_="soft")
    for level in nice_steps(field.low, field.top, 7):
        y = field.y(level)
        yield marks.line(((LEFT, y), (field.wide, y)), class_="grid")
        yield marks.text((LEFT - 6.0, y + 4.0), f"{level:.0f}", anchor="end", class_="soft")
    for row, unit in ((16.0, "Hz"), (32.0, "dB")):
        yield marks.text((LEFT - 6.0, TOP + field.high + row), unit, anchor="end", class_="soft")


def _band(heard: Loudness, parts: tuple[Sound, ...], curve: Bands | None, band: int, field: Field) -> Iterator[str]:
    left, wide = field.left(band) + 0.1 * field.step, 0.68 * field.step
    middle, level = left + wide / 2.0, float(heard.levels[band])
    yield marks.text((middle, TOP + field.high + 16.0), _short(band), anchor="middle")
    if np.isnan(level):
        yield marks.text((middle, field.y(field.low) - 5.0), "–", anchor="middle", class_="soft")
        return
    yield from _stack(shares(parts, band), parts, field.y(level), (left, wide), field)
    beside = left + wide + 0.1 * field.step
    yield from _range(level - float(heard.below[band]), level + float(heard.above[band]), beside, field)
    over = curve is not None and level > curve[band]
    word = f"+{level - curve[band]:.0f}" if over and curve is not None else f"{max(level, 0.0):.0f}"
    word = "under 0" if level < 0.0 and field.step > 50.0 else "<0" if level < 0.0 else word
    foot = TOP + field.high + 32.0
    yield marks.text((middle + (5.0 if over else 0.0), foot), word, anchor="middle", class_="over" if over else "soft")
    if over:
        x = middle + 5.0 - marks.width(word) / 2.0 - 9.0
        yield marks.area(((x, foot), (x + 4.0, foot - 8.0), (x + 8.0, foot)), class_="over-mark")


def _short(band: int) -> str:
    hertz = OCTAVES[band]
    return f"{hertz:g}" if hertz < 1000.0 else f"{hertz / 1000.0:g}k"


def _stack(
    each: tuple[float, ...], parts: tuple[Sound, ...], top: float, across: tuple[float, float], field: Field
) -> Iterator[str]:
    """One bar from the bottom, loudest of the governing band lowest."""
    (left, wide), lower = across, field.y(field.low)
    whole = lower - top
    for part, share in zip(parts, each, strict=True):
        high = share * whole
        if high < SLIVER:
            continue
        lower -= high
        inner = [marks.bar(left, lower, wide, high, class_=f"sound-{part.letter.lower()}")]
        if high >= LETTERED and part.letter != REST:
            at = (left + wide / 2.0, lower + high / 2.0 + 4.2)
            inner.append(marks.text(at, part.letter, anchor="middle", class_=f"on-sound-{part.letter.lower()}"))
        yield marks.group(inner, class_="sound", data_sound=part.label)


def _range(low: float, high: float, x: float, field: Field) -> Iterator[str]:
    """From as low to as high as it could be: a stem beside the bar, its ends capped."""
    upper, lower = field.y(high), field.y(low)
    yield marks.line(((x, upper), (x, lower)), class_="range-under")
    yield marks.line(((x, upper), (x, lower)), class_="range")
    for y in (upper, lower):
        yield marks.line(((x - CAP, y), (x + CAP, y)), class_="range")


def _target(curve: Bands, words: str, field: Field) -> Iterator[str]:
    points = []
    for band in range(COUNT):
        if np.isfinite(curve[band]):
            y = field.y(float(curve[band]))
            points += [(field.left(band), y), (field.left(band) + field.step, y)]
    yield marks.line(points, class_="target-under")
    yield marks.line(points, class_="target")


def _legend(parts: tuple[Sound, ...], heard: Loudness, field: Field) -> tuple[list[str], float]:
    """What the letters and lines mean, each sound with its part of the band that governs."""
    head = f"Who makes it, with its part at {band_name(heard.band)} (bars are split likewise)"
    y, found = TOP + field.high + BASE + 10.0, []
    for row in wrapped(head, field.wide - 4.0, BODY):
        found.append(marks.text((2.0, y), row, BODY, class_="strong"))
        y += 17.0
    entries = [
        (_letter_sign(part), f"{part.label}, {_percent(share)}")
        for part, share in zip(parts, shares(parts, heard.band), strict=True)
    ]
    entries.append((_range_sign(), "as low and as high as it could be, nine times in ten"))
    if heard.target is not None:
        curve = target_curve(heard.target) is not None
        words = f"target {heard.target}" if curve else f"target {heard.target}, which has no curve by bands"
        entries.append((marks.line(((2.0, -4.0), (18.0, -4.0)), class_="target") if curve else "", words))
    y += 2.0
    for sample, words in entries:
        found.append(marks.element("g", sample or " ", transform=f"translate(0 {marks.number(y)})"))
        for row in wrapped(words, field.wide - 26.0, SMALL):
            found.append(marks.text((24.0, y), row))
            y += 15.0
        y += LEGEND_LINE - 15.0
    return found, y - LEGEND_LINE + 8.0


def _letter_sign(part: Sound) -> str:
    box = marks.bar(2.0, -11.0, 15.0, 14.0, class_=f"sound-{part.letter.lower()}")
    if part.letter == REST:
        return box
    return box + marks.text((9.5, 0.2), part.letter, anchor="middle", class_=f"on-sound-{part.letter.lower()}")


def _range_sign() -> str:
    ends = (marks.line(((5.5, y), (13.5, y)), class_="range") for y in (-12.0, 2.0))
    return marks.line(((9.5, -12.0), (9.5, 2.0)), class_="range") + "".join(ends)


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %" if share >= 0.01 else "under 1 %"
