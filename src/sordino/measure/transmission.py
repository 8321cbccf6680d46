"""What a box takes, and how much less is heard in the next room, with the vent open and plugged."""

from __future__ import annotations

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.isolation import Isolation
from sordino.assess.spread import half_width as predicted_width
from sordino.bands import COUNT, OCTAVES, Bands, name
from sordino.measure.between_ends import predicted_loss, predicted_run_loss
from sordino.measure.causes import Gap, bands_words, causes, comparison, gap
from sordino.measure.crossed import SWAPPED, crossed
from sordino.measure.levels import Levels, each, half_width, widened
from sordino.measure.result import Cause, Measurement, Predicted, Row, Single, predicted
from sordino.measure.takes import Reader
from sordino.physics.signal.background import AT_LEAST, LEAST, VALUE, Reading, cleared, difference
from sordino.physics.sound.ratings import stc, weighted_reduction
from sordino.plan.statement import Plan
from sordino.plan.take import Take
from sordino.plan.test import InsertionLoss, LevelDifference, Vent

SURE = 5.0
"""Half-width up to which a loss is offered to be counted as measured, dB (judgement)."""
LONGEST_LINE = 98
"""Signs of a line that is offered; a longer one goes in whole decibels, which is what it is worth."""
STC_THIRDS, RW_THIRDS = slice(7, 23), slice(6, 22)
"""125 Hz to 4 kHz, and 100 Hz to 3.15 kHz."""


def insertion_loss(plan: Plan, name_: str, test: InsertionLoss, reader: Reader) -> Measurement:
    """Level without the box minus level with it."""
    background = _background(test.background, reader)
    bare, boxed = reader.level(test.without), reader.level(test.built)
    without, built = each(cleared, bare, background), each(cleared, boxed, background)
    loss = widened(each(difference, without, built), half_width("same chain"))
    thing = f"box {test.box}" if test.box is not None else f"run {test.run}"
    wrong = (
        *crossed(bare, boxed, f"It is louder with {thing} than without"),
        *crossed(bare, background, "The background is louder than what was played without it"),
    )
    row = Row(label=thing, levels=loss, sign="loss", predicted=_predicted(plan, test))
    found = gap(row)
    return Measurement(
        name=name_,
        kind="insertion loss",
        title=f"Insertion loss of {thing}",
        rows=(row,),
        singles=(),
        answer=(
            *wrong,
            _bands_said(loss.octaves, "It takes"),
            *(() if wrong else filter(None, (comparison(row, f"{thing[0].upper()}{thing[1:]}"),))),
            *_hidden(built.octaves, background),
        ),
        causes=_likely(found, "loss", wrong, {"gap": 0.02}),
        flags=reader.told(),
        paste=None if test.box is None or wrong else _paste(test.box, loss.octaves),
        missed=found is not None and found.worst is not None,
    )


def _predicted(plan: Plan, test: InsertionLoss) -> Predicted:
    if test.box is not None:
        return predicted_loss(plan, test.box)
    assert test.run is not None
    return predicted_run_loss(plan, test.run)


def level_difference(found: Assessment, name_: str, test: LevelDifference, reader: Reader) -> Measurement:
    """Level in the one room minus level in the other."""
    source, arrived = reader.level(test.source), reader.level(test.received)
    background = _background(test.background, reader)
    received = each(cleared, arrived, background)
    apart = widened(each(difference, source, received), half_width("same chain"))
    wrong = (
        *crossed(source, arrived, "It is louder in the room that listens than where the loudspeaker plays"),
        *crossed(arrived, background, "The background is louder than with the loudspeaker on"),
    )
    pair = _pair(found, test.start, test.end)
    row = Row(label="all ways", levels=apart, sign="loss", predicted=_said(None if pair is None else pair.together))
    names = _names(found.plan, test.start, test.end)
    worse = gap(row)
    return Measurement(
        name=name_,
        kind="level difference",
        title=f"Level difference, {names}",
        rows=(row,),
        singles=ratings(apart.thirds),
        answer=(
            *wrong,
            _bands_said(apart.octaves, "It is quieter by"),
            *(() if wrong else filter(None, (comparison(row, names),))),
            *_hidden(received.octaves, background),
        ),
        causes=_likely(worse, "rooms", wrong),
        flags=reader.told(),
        missed=worse is not None and worse.worst is not None,
    )


def vent(found: Assessment, name_: str, test: Vent, reader: Reader) -> Measurement:
    """The ways by the vent and by everything else, told apart by a plug."""
    source, background = reader.level(test.source), _background(test.background, reader)
    opened, plugged = reader.level(test.opened), reader.level(test.plugged)
    pair = _pair(found, test.start, test.end)
    said = (None, None, None) if pair is None else (pair.together, pair.shell, pair.ducts)
    kinds = ("with the vent open", "with the vent plugged", "by the vent alone")
    heard = (each(cleared, opened, background), each(cleared, plugged, background), each(cleared, opened, plugged))
    rows = tuple(
        Row(label=label, levels=_apart(source, levels), sign="loss", predicted=_said(spoken))
        for label, levels, spoken in zip(kinds, heard, said, strict=True)
    )
    gaps = [gap(row) for row in rows]
    worst = max(range(3), key=lambda index: _most(gaps[index]))
    worse = gaps[worst]
    roles = vent_roles(opened.octaves, plugged.octaves, None if background is None else background.octaves)
    wrong = (
        *crossed(source, opened, "It is louder in the room that listens than where the loudspeaker plays"),
        *crossed(opened, plugged, "It is louder with the vent plugged than open"),
        *crossed(opened, background, "The background is louder than with the loudspeaker on"),
    )
    leads = ("The isolation with the vent open", "The isolation with the vent plugged", "The way by the vent alone")
    words = [comparison(row, lead) for row, lead in zip(rows, leads, strict=True) if row.predicted is not None]
    return Measurement(
        name=name_,
        kind="vent",
        title=f"Level difference, {_names(found.plan, test.start, test.end)}, vent open and plugged",
        rows=rows,
        singles=ratings(rows[0].levels.thirds),
        answer=wrong or (*vent_words(roles), *words, *_hidden(heard[0].octaves, background)),
        causes=_likely(worse, "rooms" if worst == 1 else "vent", wrong, _suspects(roles)),
        flags=reader.told(),
        missed=gaps[0] is not None and gaps[0].worst is not None,
    )


def _likely(
    found: Gap | None, kind: str, wrong: tuple[str, ...], suspects: dict[str, float] | None = None
) -> tuple[Cause, ...]:
    """What may be behind a difference; where readings contradict each other, that alone."""
    if wrong:
        return (SWAPPED,)
    return () if found is None else causes(found, kind, suspects)


def _hidden(left: Reading, background: Levels | None) -> tuple[str, ...]:
    """Why no band has a value, and what to do."""
    if background is None:
        return (
            "No background is stated, so nothing tells what was played from what was there anyway: record it with the "
            "loudspeaker off, and add background.",
        )
    if not left.valued.any():
        return ("The background hides what came through in every band: play louder, or record at night.",)
    return ()


def _most(found: Gap | None) -> float:
    return -1.0 if found is None else float(np.nan_to_num(found.beyond).max())


def vent_roles(opened: Reading, plugged: Reading, background: Reading | None) -> tuple[str, ...]:
    """What the vent is in each octave: `hidden`, `not the limit`, `part of it`, `the limit`, or nothing if not known.

    Hidden: open or not, less than 6 dB over the background, so a change would not be heard. Not the limit: opening it
    changes less than the two readings are worth together.
    """
    change = opened.level - plugged.level
    worth = np.hypot(np.hypot(opened.half, plugged.half), half_width("same chain"))
    lead = np.full(COUNT, np.nan) if background is None else opened.level - background.level
    return tuple(_role(change[band], worth[band], lead[band], background is None) for band in range(COUNT))


def _role(change: float, worth: float, lead: float, unheard: bool) -> str:
    if not np.isfinite(change):
        return ""
    if change >= LEAST:
        return "the limit"
    if change > worth:
        return "part of it"
    if change < -max(worth, LEAST):
        return "contradicted"
    return "hidden" if unheard or not lead >= LEAST else "not the limit"


def vent_words(roles: tuple[str, ...]) -> tuple[str, ...]:
    """What that means, and what to test next."""
    by_role = {role: tuple(band for band, each_ in enumerate(roles) if each_ == role) for role in dict.fromkeys(roles)}
    said = {
        "the limit": "Most of the sound comes by the vent at {}.",
        "part of it": "The vent carries part of the sound at {}: plugging it helps, but by less than 6 dB.",
        "not the limit": "The vent is not the limit at {}: opening it makes no difference beyond what the readings are "
        "worth. Test next, with the vent left plugged: tape the door all round and record once more, then the other "
        "ducts, then lean a heavy sheet on the wall.",
        "contradicted": "At {} it is louder with the vent plugged than open, which no plug does: something else "
        "changed between the two readings. Record both once more.",
        "hidden": "At {} the background hides whether the vent matters: record a background, or play louder, or at "
        "night.",
    }
    return tuple(words.format(bands_words(by_role[role])) for role, words in said.items() if role in by_role)


def _suspects(roles: tuple[str, ...]) -> dict[str, float]:
    share = roles.count("not the limit") / COUNT
    return {"flanking": 0.3 * share, "background": 0.3 * roles.count("hidden") / COUNT}


def ratings(thirds: Reading) -> tuple[Single, ...]:
    """NIC and D_w of a level difference; `at least` where a band is, none where a band is not known."""
    kinds = (("NIC", STC_THIRDS, stc), ("Dw", RW_THIRDS, lambda losses: weighted_reduction(losses).rw))
    return tuple(filter(None, (_rating(thirds, label, part, figure) for label, part, figure in kinds)))


def _rating(thirds: Reading, label: str, part: slice, figure: object) -> Single | None:
    level, half, bound = thirds.level[part], thirds.half[part], thirds.bound[part]
    if not np.isfinite(level).all() or (bound < VALUE).any() or not callable(figure):
        return None
    low, high = float(figure(level - half)), float(figure(level + half))
    open_ended = bool((bound == AT_LEAST).any())
    return Single(label=label, unit="dB", value=float(figure(level)), low=low, high=np.inf if open_ended else high)


def _apart(source: Levels, levels: Levels) -> Levels:
    return widened(each(difference, source, levels), half_width("same chain"))


def _background(takes: tuple[Take, ...] | None, reader: Reader) -> Levels | None:
    return None if takes is None else reader.level(takes, excited=False)


def _pair(found: Assessment, start: str, end: str) -> Isolation | None:
    return next((pair for pair in found.isolations if (pair.source, pair.receiver) == (start, end)), None)


def _said(loss: Bands | None) -> Predicted | None:
    if loss is None:
        return None
    return predicted(loss, np.hypot(predicted_width("shell loss given"), predicted_width("room effect diffuse")))


def _names(plan: Plan, start: str, end: str) -> str:
    return f"{plan.place_name(start)} to {plan.place_name(end)}"


def _bands_said(found: Reading, verb: str) -> str:
    """Values first, then what is only bounded, in words."""
    kinds = {VALUE: verb, AT_LEAST: f"{verb} at least", -1: f"{verb} at most"}
    parts = []
    for bound, lead in kinds.items():
        bands = [band for band in range(COUNT) if found.bound[band] == bound and np.isfinite(found.level[band])]
        if bands:
            parts.append(f"{lead} " + ", ".join(f"{found.level[band]:.0f} dB at {name(band)}" for band in bands) + ".")
    unheard = tuple(band for band in range(COUNT) if not np.isfinite(found.level[band]))
    if unheard:
        parts.append(f"Nothing is known at {bands_words(unheard)}.")
    return " ".join(parts)


def _paste(box: str, loss: Reading) -> tuple[str, str] | None:
    sure = loss.valued & (loss.half <= SURE) & (loss.level >= 0.0)
    bands = [band for band in range(COUNT) if sure[band]]
    if not bands:
        return None
    keys = [f"{OCTAVES[band]:g}" if OCTAVES[band] < 1000 else f"{OCTAVES[band] / 1000:g}k" for band in bands]
    pairs = zip(keys, bands, strict=True)
    levels = [(_key(key), loss.level[band]) for key, band in pairs]
    line = f"measured = {{ {', '.join(f'{key} = {level:.1f}' for key, level in levels)} }}"
    if len(line) > LONGEST_LINE:
        line = f"measured = {{ {', '.join(f'{key}={level:.0f}' for key, level in levels)} }}"
    return f"box.{box}", line


def _key(key: str) -> str:
    return f'"{key}"' if "." in key else key
