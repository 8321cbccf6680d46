"""The noise in a room: its rating as far as it can be proven, and what the fans add."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.bands import COUNT, Bands
from sordino.errors import Fault, PlanError
from sordino.measure.causes import bands_words, causes, comparison, gap
from sordino.measure.chain import own_noise
from sordino.measure.crossed import SWAPPED, crossed, under_own
from sordino.measure.levels import Levels, each
from sordino.measure.result import Measurement, Predicted, Row, Single, predicted
from sordino.measure.takes import Reader, absolute, needs_scale
from sordino.physics.signal.background import AT_MOST, Reading, cleared
from sordino.physics.sound.criteria import (
    HIGHEST_NC,
    LOWEST_NC,
    criterion_curve,
    noise_criterion_values,
    noise_rating_values,
)
from sordino.physics.sound.weighting import a_level
from sordino.plan.test import RoomNoise
from sordino.quantities import Target

FIRST = 1
"""63 Hz: ratings begin there."""
UNSTATED = 35.0
"""What a small microphone whose own noise is not stated may make by itself, dBA (judgement: a loud one)."""
NOTHING = -200.0
"""Stands for no sound at all, dB."""
SCALES: dict[str, Callable[[Bands], Bands]] = {
    "NC": noise_criterion_values,
    "NR": noise_rating_values,
    "dBA": a_level,
}


def room_noise(found: Assessment, name_: str, test: RoomNoise, reader: Reader) -> Measurement:
    """Fans on, fans off, and the fans alone, with the microphone's own noise taken off where it can be."""
    _check_scale(name_, test, reader)
    plan, mode = found.plan, test.mode or next(iter(found.plan.mode))
    own = own_noise(test)
    on_read = absolute(reader.level(test.on, excited=False), reader)
    floor = own_noise(test.model_copy(update={"self_noise": UNSTATED})) if own is None else own
    on = each(_without(own is None), on_read, floor)
    off_read = None if test.off is None else absolute(reader.level(test.off, excited=False), reader)
    said = _predicted(found, test.room, mode)
    rows = [Row(label="fans on", levels=on, sign="noise", predicted=said if off_read is None else None)]
    if off_read is not None:
        off = each(_without(own is None), off_read, floor)
        alone = each(cleared, _relative(on_read, reader), _relative(off_read, reader))
        alone = absolute(alone, reader)
        rows += [
            Row(label="fans off", levels=off, sign="noise"),
            Row(label="fans alone", levels=alone, sign="noise", predicted=said),
        ]
    main = rows[-1] if off_read is not None else rows[0]
    worse, target = gap(main), _target(found, test.room, mode)
    singles = _ratings("fans on", on.octaves, found, test.room, mode, off_read is None)
    if off_read is not None:
        singles = (*singles, *_ratings("fans alone", main.levels.octaves, found, test.room, mode, True))
    wrong = (
        *crossed(on_read, off_read, "It is louder with the fans off than on"),
        *(under_own(on_read.octaves, own.octaves, "The noise with fans on") if own is not None else ()),
        *(under_own(off_read.octaves, own.octaves, "The noise with fans off") if own and off_read else ()),
    )
    verdict, missed = _verdict(plan.place_name(test.room), main.label, main.levels.octaves, on, own, target)
    return Measurement(
        name=name_,
        kind="room noise",
        title=f"Noise in {plan.place_name(test.room)}, {mode}",
        rows=tuple(rows),
        singles=singles,
        answer=tuple(filter(None, (*wrong, *verdict, comparison(main, f"The noise with {main.label}")))),
        causes=(SWAPPED,) if wrong else () if worse is None else causes(worse, "noise"),
        flags=reader.told(),
        missed=missed or (worse is not None and worse.worst is not None),
    )


def _without(guessed: bool) -> Callable[[Reading, Reading], Reading]:
    """A microphone's own noise taken off; one that is only guessed bounds what it may be, and corrects nothing."""

    def bounded(read: Reading, own: Reading) -> Reading:
        hidden = cleared(read, own).bound == AT_MOST
        return replace(read, bound=np.where(hidden, AT_MOST, read.bound))

    return bounded if guessed else cleared


def _relative(levels: Levels, reader: Reader) -> Levels:
    """Without what the scale is worth: it moves two readings of one chain together."""
    strip = reader.scale.half
    return Levels(thirds=_less_sure(levels.thirds, strip), octaves=_less_sure(levels.octaves, strip))


def _less_sure(one: Reading, half: float) -> Reading:
    return replace(one, half=np.sqrt(np.maximum(one.half**2 - half**2, 0.0)))


def span(octaves: Reading, scale: str) -> tuple[float, float, float] | None:
    """Rating with the least and the most it may be; minus infinity where nothing holds it up. None if a band lacks."""
    if not np.isfinite(octaves.high[FIRST:]).all():
        return None
    figure = SCALES[scale]
    most, best = float(figure(octaves.high)), float(figure(_heard(octaves.level)))
    if not octaves.valued[FIRST:].any():
        return best, -np.inf, most
    return best, float(figure(_heard(octaves.low))), most


def _heard(levels: Bands) -> Bands:
    return np.where(np.isfinite(levels), levels, NOTHING)


def governed_by_values(octaves: Reading, scale: str) -> bool:
    """Whether the bands with a value alone give the rating: those that are only bounded would have to rise to reach it.

    Then the rating is a value, else an `at most`.
    """
    found = span(octaves, scale)
    if found is None:
        return False
    proven = float(SCALES[scale](_heard(np.where(octaves.valued, octaves.level, NOTHING))))
    return found[2] - proven <= 1.0 + float(np.nanmax(np.where(octaves.valued, octaves.half, 0.0)))


def _ratings(label: str, octaves: Reading, found: Assessment, room: str, mode: str, beside: bool) -> tuple[Single, ...]:
    singles = []
    for scale in SCALES:
        got = span(octaves, scale)
        if got is None:
            continue
        best, low, high = got
        proven = governed_by_values(octaves, scale)
        said = _said(found, room, mode, scale) if beside else None
        low = low if proven else -np.inf
        singles.append(
            Single(label=label, unit=scale, value=best if proven else high, low=low, high=high, predicted=said)
        )
    return tuple(singles)


def _said(found: Assessment, room: str, mode: str, scale: str) -> tuple[float, float, float] | None:
    heard = found.noise.get((room, mode))
    if heard is None or heard.scale != scale:
        return None
    return heard.rating.value, heard.rating.low, heard.rating.high


def _predicted(found: Assessment, room: str, mode: str) -> Predicted | None:
    heard = found.noise.get((room, mode))
    return None if heard is None else predicted(heard.levels, heard.below, heard.above)


def _target(found: Assessment, room: str, mode: str) -> Target | None:
    return found.plan.room[room].target_in(mode)


def _verdict(
    room: str, label: str, main: Reading, on: Levels, own: Levels | None, target: Target | None
) -> tuple[tuple[str, ...], bool]:
    """What is proven of a target, band by band, and what this microphone can't tell."""
    scale = "NC" if target is None else target.scale
    words = [_rated(f"{room}, {label}", main, scale)]
    curve, missed = None if target is None else criterion_curve(target.scale, target.value), False
    if target is not None and curve is not None:
        proof, missed = _proof(main, curve, target)
        words += proof
    elif target is not None:
        got = span(main, scale)
        missed = got is not None and got[1] > target.value
        met = got is not None and got[2] <= target.value
        words.append(f"{target} is {'proven' if met else 'missed' if missed else 'neither proven nor ruled out'}.")
    words += _limits(own, curve, target, on.octaves, main)
    return tuple(words), missed


def _rated(lead: str, octaves: Reading, scale: str) -> str:
    got = span(octaves, scale)
    if got is None:
        return f"{lead}: not rated, because a band from 63 Hz to 8 kHz is not known."
    if governed_by_values(octaves, scale):
        best, low, high = (_figure(scale, value) for value in got)
        return f"{lead}: {best}." if best == low == high else f"{lead}: {best} ({low} to {high})."
    bounded = tuple(band for band in range(FIRST, COUNT) if not octaves.valued[band])
    return f"{lead}: at most {_figure(scale, got[2])}. Only a bound is known at {bands_words(bounded)}."


def _figure(scale: str, value: float) -> str:
    if scale == "dBA":
        return f"{value:.0f} dBA"
    if scale == "NC" and not LOWEST_NC < value < HIGHEST_NC:
        return f"under NC {LOWEST_NC:.0f}" if value <= LOWEST_NC else f"over NC {HIGHEST_NC:.0f}"
    return f"{scale} {value:.0f}"


def _proof(main: Reading, curve: Bands, target: Target) -> tuple[list[str], bool]:
    bands = range(FIRST, COUNT)
    met = tuple(band for band in bands if main.high[band] <= curve[band])
    missed = tuple(band for band in bands if main.low[band] > curve[band])
    unsure = tuple(band for band in bands if band not in met and band not in missed)
    words = [f"{target} is proven at {bands_words(met)}."] if met and len(met) < len(bands) else []
    words += [f"{target} is proven in every band."] if len(met) == len(bands) else []
    words += [f"{target} is missed at {bands_words(missed)}."] if missed else []
    words += [f"{target} is neither proven nor ruled out at {bands_words(unsure)}."] if unsure else []
    return words, bool(missed)


def _limits(own: Levels | None, curve: Bands | None, target: Target | None, on: Reading, main: Reading) -> list[str]:
    """What the microphone's own noise lets be proven, and what else to do."""
    if own is None:
        return [
            f"The microphone's own noise is not stated. It may make {UNSTATED:.0f} dBA by itself, so what is not clear "
            "of that is only bounded. Give self_noise, as 18 dBA."
        ]
    floor, words = own.octaves.level, []
    met = np.zeros(COUNT, bool) if curve is None else main.high <= curve
    alone = float(noise_criterion_values(_heard(floor)))
    if curve is not None:
        hidden = tuple(band for band in range(FIRST, COUNT) if floor[band] > curve[band] - 1.0)
        if hidden:
            words.append(
                f"This microphone by itself reads as {_figure('NC', alone)}: no recording with it can prove {target} "
                f"at {bands_words(hidden)}, where its own noise is as loud as the target."
            )
    limited = tuple(
        band
        for band in range(FIRST, COUNT)
        if on.bound[band] == AT_MOST and np.isfinite(on.level[band]) and not met[band]
    )
    if limited:
        words.append(
            f"What would do at {bands_words(limited)}: a microphone with less noise of its own; a reading close to the "
            "grille, where it is louder; and the flow and the pressure across the box, which are cheap to read and "
            "solid: a box that loses what it should, at the flow it should have, makes what it should."
        )
    return words


def _check_scale(name_: str, test: RoomNoise, reader: Reader) -> None:
    takes = (*test.on, *(test.off or ()))
    if needs_scale(takes) and not reader.scale.known:
        raise PlanError(
            [
                Fault(
                    file=f"test.{name_}",
                    line=None,
                    key="",
                    problem="the level of its recordings is not known.",
                    cure='Add calibrator = { file = "calibrator.wav", level = "94 dB" }, or full_scale = "120 dB".',
                )
            ]
        )
