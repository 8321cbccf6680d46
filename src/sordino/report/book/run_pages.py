"""What stands on the pages of the project: the runs, the brief for the contractor, the schedule of silencers."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.box_answer import BoxAnswer
from sordino.bands import Bands
from sordino.build.words import mass
from sordino.plan.statement import Plan
from sordino.report import layout
from sordino.report.air import stream_name
from sordino.report.book.blocks import Block, Caution, Heading, Page, Picture, Points, Table, Words
from sordino.report.book.cautions import AIR, ELECTRICITY, FIRE, PREDICTED
from sordino.report.book.material import BoxMaterial, Material
from sordino.report.drawing.measures import measure
from sordino.report.drawing.schematic import Line, schematic
from sordino.report.phrases import flow, pressure, velocity
from sordino.report.spectra import target_curve
from sordino.units import show


def run_pages(book: Material) -> Iterator[Page]:
    """The schematic."""
    room = book.paper.room
    sheets = schematic(lines(book), (room[0], room[1] - 12.0), "Runs")
    for index, sheet in enumerate(sheets):
        words = "Each run from where its air comes from to where it goes; not to scale. Heavy frames are boxes."
        title = "Runs with their sizes and flows" + (f" ({index + 1})" if index else "")
        yield Page(title=title, blocks=(Words(text=words), Picture(sheet=sheet)))


def lines(book: Material) -> tuple[Line, ...]:
    """Every run in words."""
    plan = book.plan
    return tuple(
        Line(
            name=name,
            told=f"{run.size.shown(plan.units)}; {_flows(book, name)}",
            start=end_name(plan, run.start),
            end=end_name(plan, run.end),
            parts=tuple((str(getattr(part, "kind", "part")), part.label()) for part in run.parts),
        )
        for name, run in plan.run.items()
    )


def end_name(plan: Plan, end: str) -> str:
    """A place, junction or port of a mover."""
    thing, _, port = end.partition(".")
    return f"{plan.place_name(thing)}{', ' + port if port else ''}"


def _flows(book: Material, run: str) -> str:
    plan, found = book.plan, book.found
    told = [f"{mode} {flow(plan, found.state(mode).flows[run])}" for mode in plan.mode]
    wanted = plan.run[run].wanted
    return ", ".join(told) + (f"; wanted {flow(plan, wanted)}" if wanted is not None else "")


def brief(book: Material) -> Page:
    """One page for the contractor."""
    return Page(title="Brief for the contractor", blocks=tuple(_brief(book)), dense=True)


def _brief(book: Material) -> Iterator[Block]:
    plan, found, modes = book.plan, book.found, tuple(book.plan.mode)
    yield Heading(text="Flows and sizes")
    yield Table(
        head=("run", "from", "to", "size", *modes),
        widths=(2.0, 2.3, 2.3, 1.9, *(1.2 for _ in modes)),
        left=4,
        rows=tuple(
            (
                name,
                end_name(plan, run.start),
                end_name(plan, run.end),
                run.size.shown(plan.units),
                *(flow(plan, found.state(mode).flows[name]) for mode in modes),
            )
            for name, run in plan.run.items()
        ),
    )
    openings = tuple(_openings(book))
    if openings:
        yield Heading(text="Speeds in ducts, and in free area with its limit; ! is over it")
        yield Table(
            head=("run", *(title for mode in modes for title in (mode, "limit"))),
            widths=(2.4, *(1.2 for _ in range(2 * len(modes)))),
            rows=openings,
        )
    movers = tuple(_movers(book))
    if movers:
        yield Heading(text="Fans: flow against external static pressure, filters clean")
        yield Table(
            head=("fan", "mode", "speed", "moves", "against"), widths=(2.5, 1, 1, 1.2, 1.2), left=2, rows=movers
        )
    yield from _criterion(book)
    yield Points(items=tuple(_rules(book)))
    yield Points(items=tuple(_acceptance()), mark="box")
    yield Caution(items=(f"{FIRE} {ELECTRICITY} {AIR}",))


def _criterion(book: Material) -> Iterator[Block]:
    rows = tuple(_criteria(book))
    yield Heading(text="Noise criterion, dB per octave, at the microphone")
    if rows:
        head = ("room and mode", "target", *layout.BAND_NAMES[1:])
        yield Table(head=head, widths=(2.6, 1.1, *([0.7] * 8)), rows=rows)
    else:
        yield Words(text="The project states no target: agree on one in writing before anybody is hired.")


def _openings(book: Material) -> Iterator[tuple[str, ...]]:
    """Each run's duct, and each place that has a limit."""
    plan, found, modes = book.plan, book.found, tuple(book.plan.mode)
    for name, run in plan.run.items():
        ducts = (abs(found.state(mode).flows[name]) / run.size.area for mode in modes)
        yield f"{name}: duct", *(cell for speed in ducts for cell in (velocity(plan, speed), layout.NOTHING))
    for along in zip(*(found.speeds[mode] for mode in modes), strict=True):
        if any(speed.limit is not None for speed in along):
            cells = [
                cell
                for speed in along
                for cell in (
                    velocity(plan, speed.velocity) + _beyond(speed.velocity, speed.limit),
                    layout.NOTHING if speed.limit is None else velocity(plan, speed.limit),
                )
            ]
            yield f"{along[0].run}: {along[0].station}, {along[0].place}", *cells


def _beyond(value: float, limit: float | None) -> str:
    return " !" if limit is not None and value > limit else ""


def _movers(book: Material) -> Iterator[tuple[str, ...]]:
    plan, found = book.plan, book.found
    for mode in plan.mode:
        for stream in found.states[mode, "clean"].streams:
            speed = f"{100 * stream.speed:.0f} %" if stream.speed > 0.0 else "off"
            yield (
                stream_name(found, stream),
                mode,
                speed,
                flow(plan, stream.flow),
                pressure(plan, stream.pressure) if stream.speed > 0.0 else layout.NOTHING,
            )


def _criteria(book: Material) -> Iterator[tuple[str, ...]]:
    plan = book.plan
    for name, room in plan.room.items():
        for mode in plan.mode:
            target = room.target_in(mode)
            if target is None:
                continue
            curve = target_curve(target)
            bands = [layout.NOTHING] * 8 if curve is None else [layout.whole(float(value)) for value in curve[1:]]
            scale = f"{target.value:.0f} dBA" if target.scale == "dBA" else f"{target.scale} {target.value:.0f}"
            yield f"{plan.place_name(name)}, {mode}", scale, *bands


def _rules(book: Material) -> Iterator[str]:
    yield (
        "No damper, boot with a sharp turn or flow straightener at a face: balancing dampers stand before the box, "
        "seen from the fan on supply and from the room on return."
    )
    yield "A flexible connector at each fan and at each leaf; nothing rigid from one leaf to the other."
    yield "Flexible duct pulled tight; no bend tighter than one diameter inside. Ask before you replace a part."
    yield "Every joint in ducts, boxes and leaves sealed before it is covered; photographs handed over."
    spare = [each for each in book.found.findings if each.question in ("flow", "fan") and each.missed]
    for finding in spare:
        yield f"Known and still open: {finding.sentence}"


def _acceptance() -> Iterator[str]:
    yield (
        "Accept the air: each flow measured with a hood or a traverse, filters clean, in each mode, within a tenth of "
        "the table; speeds in free area no faster than the limits."
    )
    yield (
        "Accept the noise: doors shut, people out, in each mode, the mean level of at least 30 s per octave at the "
        "microphone and at two more places; the same with all fans off, and where that is less than 10 dB lower, state "
        "it. It passes if no octave from 63 Hz to 8 kHz is over the criterion, and fails if any is."
    )
    yield "Accept the sealing: no draught felt or smoke drawn at any joint, collar or leaf with the fans on."


def schedule_page(book: Material) -> Page:
    """Silencers for a consultant."""
    return Page(title="Schedule of silencers", blocks=tuple(_schedule(book)))


def _schedule(book: Material) -> Iterator[Block]:
    yield Words(
        text="Predicted from each box's own sound field up to the frequency named, from handbook methods above it; not "
        "laboratory data, and not comparable with data measured in place. " + PREDICTED
    )
    for one in book.boxes:
        yield Heading(text=f"Box {one.name}, in {one.kit.run}")
        yield Table(head=("what", "value"), widths=(1.2, 2.4), left=2, rows=tuple(_facts(book, one)), whole=True)
        yield Table(
            head=("dB per octave", *layout.BAND_NAMES),
            widths=(3.2, *([0.75] * 9)),
            rows=tuple(_bands(one.answer)),
            whole=True,
        )
    yield Caution(items=(FIRE,))


def _facts(book: Material, one: BoxMaterial) -> Iterator[tuple[str, str]]:
    plan, answer, units = book.plan, one.answer, book.units
    through, low, high = answer.through, one.weight.low, one.weight.high
    inside = (one.kit.made.prism.length, one.kit.made.prism.width, one.kit.made.prism.height)
    yield "outside, length x width x height", " x ".join(measure(b - a, units) for a, b in zip(low, high, strict=True))
    yield "inside", " x ".join(measure(1e3 * side, units) for side in inside)
    yield "kind", f"{one.kit.box.family}, closed by the {one.kit.closing.face}"
    yield "connection", one.kit.section.shown(units)
    yield "flow", f"{flow(plan, through.flow)} in {through.mode}"
    yield (
        "free area and speed in it",
        f"{show(through.free_area, 'area', units)} ({through.narrowest}), {velocity(plan, through.velocity)}",
    )
    yield "pressure lost", pressure(plan, through.loss)
    yield "weighs", f"{mass(one.weight.whole, units)} without duct, screws and sealant"
    yield "field holds to", f"{answer.validity.field_limit:.0f} Hz"
    notes = "; ".join(answer.notes)
    if notes:
        yield "notes", notes


def _bands(answer: BoxAnswer) -> Iterator[tuple[str, ...]]:
    yield _band_row("insertion loss, matched ducts, counted", answer.counted)
    yield _band_row("  at least", answer.counted_low)
    yield _band_row("  at most", answer.counted_high)
    yield _band_row("what goes round it allows", answer.ceiling)
    yield _band_row("noise made by the air, dB re 1 pW", answer.through.noise)


def _band_row(words: str, values: Bands) -> tuple[str, ...]:
    known = [layout.whole(float(value)) if np.isfinite(value) else layout.NOTHING for value in values]
    return words, *known
