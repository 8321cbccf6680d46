"""Variants side by side, for people and for machines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from sordino.assess.airflow import Stream
from sordino.assess.finding import Finding
from sordino.assess.loudness import Loudness
from sordino.assess.weight import PLANNING, mass
from sordino.assess.wording import rating_words
from sordino.bands import OCTAVES
from sordino.physics.sound.weighting import a_level
from sordino.report import layout
from sordino.report.phrases import count, flow, pressure
from sordino.report.record import Record, finding_record, loudness_record
from sordino.report.verdict import targets
from sordino.search.comparison import Column

ABREAST = 4
"""Columns in one table of flows, that of the project as written among them."""


def comparison_text(columns: tuple[Column, ...], modes: tuple[str, ...], places: tuple[str, ...]) -> str:
    """Noise at each place, then flow and pressure of every run, then what the runs that differ take away."""
    plan = columns[0].assessment.plan
    name = f"{plan.title}: {count(len(columns) - 1, 'variant')} beside the project as written"
    lines = [name, "=" * len(name), *_targets(columns, modes)]
    lines += layout.heading("Noise at each place, dB per octave")
    for place in places:
        for mode in modes:
            lines += _noise(columns, place, mode)
    lines += [*_isolation(columns, places), *_runs(columns, modes), *_fans(columns, modes), *_weights(columns)]
    lines += _taken(columns)
    return layout.page([*lines, "", *layout.paragraph(_NOTE)])


_NOTE = (
    "– not assessed, or not in that variant. dBA is of the levels from 63 Hz up. The ranges of the variants move "
    "together: differences between them are surer than the figures themselves."
)


def _targets(columns: tuple[Column, ...], modes: tuple[str, ...]) -> list[str]:
    width = max(len(column.name) for column in columns)
    lines = ["", f"{'':<{width}}  {'missed':<8}  what is missed, or likely to be"]
    for column in columns:
        held = targets(column.assessment, modes)
        missed = [each for each in held if each.missed]
        count_of = f"{len(missed)} of {len(held)}"
        lines += layout.hanging(f"{column.name:<{width}}  {count_of:<8}", _worst(missed), width + 12)
    return lines


def _worst(missed: list[Finding]) -> str:
    """Each question that is missed, with everything that misses it."""
    subjects: dict[str, dict[str, None]] = {}
    for each in missed:
        subjects.setdefault(each.question, {})[each.subject] = None
    return ", ".join(f"{question} ({', '.join(found)})" for question, found in subjects.items()) or "nothing"


def _noise(columns: tuple[Column, ...], place: str, mode: str) -> Iterator[str]:
    known = [(column, heard) for column in columns if (heard := column.noise(place, mode)) is not None]
    if not known:
        return
    plan, (_, first) = known[0][0].assessment.plan, known[0]
    where = f"{plan.place_name(place)}, {mode}" if len(plan.mode) > 1 else plan.place_name(place)
    against = f", target {first.target}" if first.target is not None else ""
    yield layout.band_head(f"{where}{against}")
    for column, heard in known:
        yield from layout.band_row(f"  {column.name}: {_figures(heard)}", heard.levels)
    yield ""


def _figures(heard: Loudness) -> str:
    words = rating_words(heard)
    return words if heard.scale == "dBA" else f"{words}, {float(a_level(heard.levels)):.0f} dBA"


def _isolation(columns: tuple[Column, ...], places: tuple[str, ...]) -> Iterator[str]:
    pairs = [(pair.source, pair.receiver) for pair in columns[0].assessment.isolations if pair.receiver in places]
    if pairs:
        yield from layout.heading("Loss between rooms by all ways, dB per octave")
    for source, receiver in pairs:
        plan = columns[0].assessment.plan
        yield layout.band_head(f"{plan.place_name(source)} to {plan.place_name(receiver)}")
        for column in columns:
            for pair in column.assessment.isolations:
                if (pair.source, pair.receiver) == (source, receiver) and pair.together is not None:
                    yield from layout.band_row(f"  {column.name}", pair.together)
        yield ""


def _runs(columns: tuple[Column, ...], modes: tuple[str, ...]) -> Iterator[str]:
    names = dict.fromkeys(name for column in columns for name in column.assessment.plan.run)
    for mode in modes:
        yield from layout.heading(f"Flow and pressure of every run, {mode}")
        rows = [[name, *[_run(column, name, mode) for column in columns]] for name in names]
        yield from _abreast(columns, "run", rows)


def _run(column: Column, name: str, mode: str) -> str:
    figures = column.runs.get((name, mode))
    if figures is None:
        return layout.NOTHING
    plan = column.assessment.plan
    return f"{flow(plan, figures.flow)} {pressure(plan, figures.drop)}"


def _fans(columns: tuple[Column, ...], modes: tuple[str, ...]) -> Iterator[str]:
    keys = dict.fromkeys((m, s.mover, s.index) for c in columns for m in modes for s in _streams(c, m))
    rows = [
        [f"{mover}{_side(columns, mover, i)}, {mode}", *[_fan(c, mode, mover, i) for c in columns]]
        for mode, mover, i in keys
    ]
    if rows:
        yield from layout.heading("Fans: what they move against what")
        yield from _abreast(columns, "mover", rows)


def _streams(column: Column, mode: str) -> Iterable[Stream]:
    state = column.assessment.states.get((mode, "clean"))
    return () if state is None else state.streams


def _side(columns: tuple[Column, ...], mover: str, index: int) -> str:
    several = any(len(c.assessment.plan.mover[mover].streams) > 1 for c in columns if mover in c.assessment.plan.mover)
    return ("", " extract")[index] if several else ""


def _fan(column: Column, mode: str, mover: str, index: int) -> str:
    plan = column.assessment.plan
    for stream in _streams(column, mode):
        if (stream.mover, stream.index) == (mover, index):
            return f"{flow(plan, stream.flow)} {pressure(plan, stream.pressure)}"
    return layout.NOTHING


def _weights(columns: tuple[Column, ...]) -> Iterator[str]:
    """Boxes by mass, where any of them differs."""
    keys = dict.fromkeys(key for column in columns for key in column.assessment.structure.weights)
    rows = [[key, *[_weighed(column, key) for column in columns]] for key in keys]
    if any(len(set(row[1:])) > 1 for row in rows):
        yield from layout.heading("What boxes weigh")
        yield from _abreast(columns, "box", rows)
        yield from layout.paragraph(PLANNING)


def _weighed(column: Column, key: str) -> str:
    weight = column.assessment.structure.weights.get(key)
    return layout.NOTHING if weight is None else mass(column.assessment.plan, weight.whole)


def _abreast(columns: tuple[Column, ...], first: str, rows: list[list[str]]) -> Iterator[str]:
    """A table whose variants stand abreast, a few at a time, each time beside the project as written."""
    step = ABREAST - 1
    for start in range(1, max(len(columns), 2), step):
        chosen = [0, *range(start, min(start + step, len(columns)))]
        head = [first, *[columns[place].name for place in chosen]]
        yield from layout.grid(head, [[row[0], *[row[1 + place] for place in chosen]] for row in rows])
        if start + step < len(columns):
            yield ""


def _taken(columns: tuple[Column, ...]) -> Iterator[str]:
    names = dict.fromkeys(name for column in columns for name in column.taken)
    if names:
        yield from layout.heading("What the runs that differ take from the fan's sound, dB per octave")
    for name in names:
        yield layout.band_head(name)
        for column in columns:
            yield from layout.band_row(f"  {column.name}", column.taken.get(name, np.full(9, np.nan)))
        yield ""


def comparison_record(columns: tuple[Column, ...], modes: tuple[str, ...], places: tuple[str, ...]) -> Record:
    """The same for machines."""
    return {"octaves_hz": OCTAVES, "columns": [_column(column, modes, places) for column in columns]}


def _column(column: Column, modes: tuple[str, ...], places: tuple[str, ...]) -> Record:
    found = column.assessment
    return {
        "name": column.name,
        "noise": [
            loudness_record(heard) | {"level_dba": float(a_level(heard.levels))}
            for (place, mode), heard in found.noise.items()
            if place in places and mode in modes
        ],
        "isolation": [
            {"source": pair.source, "receiver": pair.receiver, "together_db": pair.together}
            for pair in found.isolations
            if pair.receiver in places
        ],
        "runs": [
            {"run": run, "mode": mode, "flow_m3_s": figures.flow, "pressure_loss_pa": figures.drop}
            for (run, mode), figures in column.runs.items()
            if mode in modes
        ],
        "fans": [
            {
                "mover": stream.mover,
                "stream": stream.index,
                "mode": mode,
                "flow_m3_s": stream.flow,
                "pressure_pa": stream.pressure,
            }
            for mode in modes
            for stream in _streams(column, mode)
        ],
        "taken_db": column.taken,
        "findings": [finding_record(each) for each in found.findings if each.missed and each.mode in ("", *modes)],
    }
