"""One box as plain text: the answer first, then the tables."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.box_answer import BoxAnswer
from sordino.assess.box_loss import FLOOR, LossBands
from sordino.bands import Array
from sordino.names import listed
from sordino.physics.signal.thirds import nearest
from sordino.plan.statement import Plan
from sordino.report import box_changed, layout
from sordino.report import box_words as words
from sordino.report.phrases import CAUTION, flow, pressure, velocity
from sordino.search.box_compared import BoxChange
from sordino.units import show

FACE_BANDS = range(1, 6)
LEGEND = (
    "Losses are in dB without decimals, because no more is known. – not assessed; >60 more than "
    "the arithmetic can tell. What the box counts for is the passage and all that goes round it together."
)


def box_text(
    plan: Plan,
    answer: BoxAnswer,
    changes: tuple[BoxChange, ...] | None,
    variant: str | None = None,
    departures: tuple[BoxChange, ...] = (),
) -> str:
    """Everything a person reads of one box; without `changes` their table is left out."""
    lines = [
        *_title(plan, answer, variant),
        *_answer(plan, answer, changes),
        *_octaves(answer),
        *_thirds(answer),
        *_faces(plan, answer),
        *_air(plan, answer),
        *_pairs(plan, answer),
        *(box_changed.usual_changes(plan, changes) if changes is not None else []),
        *(box_changed.departed(plan, departures) if departures else []),
        *layout.heading("How sure, and where it holds"),
        *[line for told in words.validity_told(answer, plan) for line in layout.paragraph(told)],
        *layout.heading("Read this with it"),
        *layout.paragraph(LEGEND),
        *layout.paragraph(CAUTION),
    ]
    return layout.page(lines)


def _title(plan: Plan, answer: BoxAnswer, variant: str | None) -> list[str]:
    name = f"{plan.title}{f', variant {variant}' if variant else ''}: box {answer.name}"
    return [name, "=" * len(name), *layout.paragraph(_described(plan, answer))]


def _described(plan: Plan, answer: BoxAnswer) -> str:
    box = answer.built.build
    size = " x ".join(show(side, "length", plan.units) for side in (box.length, box.width, box.height))
    passes = f", {box.passes} passes" if box.passes > 1 and box.family != "custom" else ""
    duct = answer.built.section.shown(plan.units)
    return f"A {box.family} box{passes}, {size} inside (length x width x height), in {answer.standing.run} of {duct}."


def _answer(plan: Plan, answer: BoxAnswer, changes: tuple[BoxChange, ...] | None) -> Iterator[str]:
    told = [words.takes(answer), f"{words.weakness(answer, plan)} {words.rules(answer)}", words.dips_told(answer, plan)]
    told.append(words.air_told(answer, plan))
    if changes is not None:
        told.append(words.best_change(answer, changes))
    told += [f"Note: {note}." for note in answer.notes]
    for each in told:
        yield ""
        yield from layout.paragraph(each)


def _octaves(answer: BoxAnswer) -> list[str]:
    found = answer.octaves
    lines = [
        layout.band_head("through the passage"),
        _passage_row("  loss", found, found.loss),
        _passage_row("  could be as low as", found, found.low),
        _passage_row("  could be as high as", found, found.high),
        _passage_row("  numerical error, at most", found, np.ceil(found.error - 0.05)),
        *layout.band_row("  handbook tables would say", answer.handbook),
        layout.band_head("what goes round it"),
        *layout.band_row("  stated default, give or take 5: sealing, joints", answer.default_ceiling),
        *layout.band_row("  out through the casing and back in", answer.casing),
        *layout.band_row("  both together", answer.ceiling),
        layout.band_head("what the box counts for"),
        *layout.band_row("  both ways together", answer.counted),
        *layout.band_row("  could be as low as", answer.counted_low),
        *layout.band_row("  could be as high as", answer.counted_high),
    ]
    if answer.dividers is not None:
        lines += ["", *layout.band_row("Rigid dividers would change the passage by", answer.dividers, signed=True)]
    return [*layout.heading("Loss in octaves, dB"), *lines, *_lowest(found)]


def _passage_row(label: str, found: LossBands, values: Array) -> str:
    cells = [_cell(found, at, values) for at in range(found.centres.size)]
    return f"{label:<{layout.LABEL}}" + "".join(f"{cell:>{layout.BAND_WIDTH}}" for cell in cells)


def _cell(found: LossBands, at: int, values: Array) -> str:
    """A figure; where arithmetic does not carry it, that the loss is over what it does carry."""
    if found.certain[at]:
        return layout.whole(float(values[at]))
    return f">{FLOOR:.0f}" if values is found.loss else layout.NOTHING


def _lowest(found: LossBands) -> list[str]:
    """Which bracket gives the low end, bands with the same one together."""
    groups: dict[str, list[str]] = {}
    for band, case in enumerate(found.lowest_case):
        if case and band:
            groups.setdefault(words.case_words(case), []).append(layout.BAND_NAMES[band])
    told = "; ".join(f"{case} at {listed(bands)}" for case, bands in groups.items())
    return layout.paragraph(f"The low end comes with: {told} Hz.") if told else []


def _thirds(answer: BoxAnswer) -> list[str]:
    found = answer.thirds
    rows = [
        [
            layout.THIRD_NAMES[nearest(found.centres[at])],
            *[_cell(found, at, values) for values in (found.loss, found.low, found.high)],
            f"{found.error[at]:.1f}" if found.certain[at] else layout.NOTHING,
            words.case_words(found.lowest_case[at]) if found.certain[at] else layout.NOTHING,
        ]
        for at in range(found.centres.size)
    ]
    head = ["Hz", "loss", "low", "high", "numerical ±", "least with"]
    return [*layout.heading("Loss through the passage in third-octaves, dB"), *layout.grid(head, rows)]


def _faces(plan: Plan, answer: BoxAnswer) -> list[str]:
    head = ["face", "area", "mass", *[layout.BAND_NAMES[band] for band in FACE_BANDS], "verdict"]
    rows = [
        [
            face.face,
            show(face.area, "area", plan.units),
            show(face.mass, "surface mass", plan.units),
            *[layout.whole(face.radiated[band]) for band in FACE_BANDS],
            face.verdict,
        ]
        for face in answer.faces
    ]
    told = [line for each in words.faces_told(answer, plan) for line in layout.paragraph(each)]
    title = "What each face lets out, dB re the sound that arrives at the box"
    return [*layout.heading(title), *layout.grid(head, rows), *told]


def _pairs(plan: Plan, answer: BoxAnswer) -> Iterator[str]:
    for pair in answer.pairs:
        yield from layout.heading(f"Boxes {pair.first} and {pair.second}, one after the other in {pair.run}, dB")
        yield layout.band_head("through the passages")
        yield from layout.band_row(f"  {pair.first} alone", pair.alone[0])
        yield from layout.band_row(f"  {pair.second} alone", pair.alone[1])
        yield from layout.band_row(f"  {show(pair.apart, 'length', plan.units)} of duct between", pair.between)
        yield from layout.band_row("  plain sum", pair.plain_sum)
        yield from layout.band_row("  as they stand", pair.together)
        yield from layout.band_row("  against the plain sum", pair.interaction, signed=True)
        yield layout.band_head("with what goes round each of them")
        yield from layout.band_row("  both count for", pair.counted)
        yield from layout.paragraph(words.pair_told(pair))


def _air(plan: Plan, answer: BoxAnswer) -> list[str]:
    through = answer.through
    rows = [[label, pressure(plan, drop)] for label, drop in through.lines.items()]
    rows.append(["all of it", pressure(plan, through.loss)])
    narrow = (
        f"Narrowest: {through.narrowest}, {show(through.free_area, 'area', plan.units)} free, "
        f"{velocity(plan, through.velocity)}."
    )
    return [
        *layout.heading(f"Air in {through.mode}, {flow(plan, through.flow)}"),
        *layout.grid(["pressure lost in", "drop"], rows),
        *layout.paragraph(narrow),
        "",
        layout.band_head("air's own noise at the outlet, dB re 1 pW"),
        *layout.band_row("  sound power of the turns", through.noise),
    ]
