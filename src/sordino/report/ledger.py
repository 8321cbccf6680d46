"""The schedule of one room as a consultant reads it: every path, station by station, nine bands."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.contribution import Contribution, Row
from sordino.assess.loudness import Loudness
from sordino.assess.wording import rating_words, sound_words
from sordino.bands import energy_sum
from sordino.report import layout
from sordino.report.phrases import heading_of

METHOD = (
    "Method: below the frequency named at each path its ducts, bends, boxes and ends are one cascade of plane waves "
    "between the source and the open end, and attenuation is the drop of net sound power from station to station, "
    "which may be negative where a station passes on what reflections held back. Above it each station takes its "
    "handbook loss and the open end its end reflection. Own noise is the sound power that the moving air makes in "
    "the station; the level after it holds what is left of everything before it."
)


def schedule(found: Assessment, room: str, modes: tuple[str, ...]) -> list[str]:
    """Every path to a room or window: ventilation in each mode, then the loudest sources of other rooms."""
    name = f"Schedule: {found.plan.place_name(room)}"
    lines = [name, "=" * len(name), *layout.paragraph(METHOD)]
    for (place, mode), heard in found.noise.items():
        if place == room and mode in modes:
            lines += _receiver(found, heard, heading_of(found, heard))
    if room in found.crosstalk:
        heard = found.crosstalk[room]
        lines += _receiver(found, heard, f"{found.plan.place_name(room)}, the loudest sources of other rooms")
    return lines


def _receiver(found: Assessment, heard: Loudness, name: str) -> Iterator[str]:
    yield from layout.heading(f"{name}: {rating_words(heard)}")
    ranked = sorted(heard.heard.contributions, key=lambda sound: -_level(sound, heard.band))
    number = 0
    for sound in ranked:
        if sound.rows:
            number += 1
            yield ""
            yield from _path(found, sound, number)
    yield from _air([sound for sound in ranked if sound.cause == "air"])
    yield from _others([(sound_words(found.plan, sound), sound) for sound in ranked if _plain(sound)])
    yield ""
    yield layout.band_head("Everything together, at the listener")
    yield from layout.band_row("  level", heard.levels)
    yield from layout.band_row("  range below", -heard.below, signed=True)
    yield from layout.band_row("  range above", heard.above, signed=True)


def _path(found: Assessment, sound: Contribution, number: int) -> Iterator[str]:
    yield from layout.paragraph(f"Path {number}: {sound_words(found.plan, sound)}")
    reach = plane_reach(found, sound)
    if reach is not None:
        yield f"Plane-wave cascade up to {reach:.0f} Hz; handbook losses above."
    yield layout.band_head("station")
    for row in sound.rows[:-1]:
        yield from _station(row, "level after it")
    yield from _station(sound.rows[-1], "level at the listener")


def _station(row: Row, left: str) -> Iterator[str]:
    note = f" ({row.note})" if row.note else ""
    yield f"{row.station}{note}"
    if row.attenuation is not None and not np.array_equal(row.attenuation, np.zeros(9)):
        yield from layout.band_row("    attenuation", row.attenuation)
    if row.own is not None:
        yield from layout.band_row("    own noise", row.own)
    yield from layout.band_row(f"    {left}", row.level)


def plane_reach(found: Assessment, sound: Contribution) -> float | None:
    """Frequency up to which the cascade of a path holds, Hz; None if the path is no single cascade."""
    for carried in found.acoustics.carriages:
        if carried.route.name() == sound.via and carried.route.start.place == sound.origin:
            return carried.plane_up_to
    return None


def _air(sounds: list[Contribution]) -> Iterator[str]:
    """Air noise by the opening it comes out of, station by station, as heard."""
    for via in dict.fromkeys(sound.via for sound in sounds):
        mine = [sound for sound in sounds if sound.via == via]
        yield ""
        yield layout.band_head(f"Air noise out of {via}, at the listener")
        for sound in mine:
            yield from layout.band_row(f"  {sound.station} in {sound.origin}", sound.levels)
        yield from layout.band_row("  all of it", energy_sum([sound.levels for sound in mine]))


def _others(sounds: list[tuple[str, Contribution]]) -> Iterator[str]:
    if sounds:
        yield ""
        yield layout.band_head("Other ways, at the listener")
    for words, sound in sounds:
        yield from layout.band_row(f"  {words}", sound.levels)


def _plain(sound: Contribution) -> bool:
    return not sound.rows and sound.cause != "air"


def _level(sound: Contribution, band: int) -> float:
    return float(np.nan_to_num(sound.levels[band], nan=-np.inf))
