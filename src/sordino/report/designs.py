"""What a search for a box found, as plain text and for machines."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino import __version__
from sordino.bands import OCTAVES, name
from sordino.elements.box import Box
from sordino.plan.statement import Plan
from sordino.report import layout
from sordino.report.phrases import CAUTION, count, flow, pressure
from sordino.report.record import Record
from sordino.search.designs import SIDES, Design, Search
from sordino.units import show

SHOWN = 6
"""Designs in the table."""
FREE = 1.0
"""A ceiling nearer than this to what a box counts for is what holds it, dB."""


def search_text(plan: Plan, box: str, mode: str, found: Search) -> str:
    """The answer, the designs beside each other, the best one to paste, and why others do not fit."""
    title = f"{plan.title}: a box in place of {box}"
    best = (*found.found, *found.nearest)[:SHOWN]
    lines = [
        title,
        "=" * len(title),
        *layout.paragraph(_asked(plan, mode, found)),
        "",
        *layout.paragraph(_answer(plan, found)),
        *(_table(plan, best) if best else []),
        *(_to_paste(plan, box, best[0]) if best else []),
        *_clashes(found),
        *layout.heading("Read this with it"),
        *layout.paragraph(_NOTE),
        *layout.paragraph(CAUTION),
    ]
    return layout.page(lines)


_NOTE = (
    "Solved on coarse cells, for the lower of a fibre frame that moves and one that does not; see the range with "
    "`sordino box` before building. Losses count what goes round the box, for the casing as stated."
)


def _asked(plan: Plan, mode: str, found: Search) -> str:
    built = (*found.found, *found.nearest)
    losses = ", ".join(
        f"{found.wanted.loss[band]:.0f} dB at {name(band)}"
        for band in range(OCTAVES.size)
        if np.isfinite(found.wanted.loss[band])
    )
    most = f" for no more than {pressure(plan, found.wanted.pressure)}" if np.isfinite(found.wanted.pressure) else ""
    inside = f", in {_inside(plan, built[0].built.build)} inside" if built else ""
    return f"Wanted: {losses}{most}, at the {flow(plan, found.flow)} of {mode}{inside}."


def _inside(plan: Plan, box: Box) -> str:
    return " x ".join(show(getattr(box, side), "length", plan.units) for side in SIDES)


def _answer(plan: Plan, found: Search) -> str:
    tried = f"{count(found.tried, 'box', 'boxes')} tried"
    if found.found:
        best = found.found[0]
        return (
            f"Yes: {len(found.found)} of {tried} do. The lightest is {_described(plan, best)}: "
            f"{pressure(plan, best.pressure)} and {show(best.mass, 'mass', plan.units)}."
        )
    if not found.nearest:
        return f"No: none of {tried} can be laid out in these sizes."
    best = found.nearest[0]
    return f"No: none of {tried} does. The nearest is {_described(plan, best)}: {_lacks(plan, best)}.{_grown(found)}"


def _described(plan: Plan, design: Design) -> str:
    box = design.built.build
    passes = f" of {box.passes} passes" if box.passes > 1 else ""
    lining = "" if box.holds_duct else f" lined {show(box.lining, 'length', plan.units)}"
    article = "an" if box.family[0] in "aeiou" else "a"
    return f"{article} {box.family} box{passes}{lining}, fibre of {show(box.fill.density, 'density', plan.units)}"


def _lacks(plan: Plan, design: Design) -> str:
    told, band = [], design.binding
    if band is not None:
        held = design.ceiling[band] < design.counted[band] + FREE
        why = ", where what goes round the box decides: seal it or make its casing heavier" if held else ""
        told.append(f"it lacks {design.short[band]:.0f} dB at {name(band)}{why}")
    if design.over > 0.0:
        told.append(f"it takes {pressure(plan, design.over)} too much")
    return " and ".join(told)


def _grown(found: Search) -> str:
    """Which side, made larger, would cure the nearest miss or help it most."""
    miss = found.nearest[0].miss
    better = {side: each for side, each in found.larger.items() if each.miss < miss - 0.5}
    if not better:
        return " A quarter more length, width or height would not cure that."
    side = min(better, key=lambda side: better[side].miss)
    rest = better[side]
    does = "would do" if rest.meets else f"helps most, and leaves {np.nanmax(rest.short):.0f} dB lacking"
    return f" A quarter more {side} {does}."


def _table(plan: Plan, designs: tuple[Design, ...]) -> list[str]:
    bands = range(1, 8)
    head = ["box", *[layout.BAND_NAMES[band] for band in bands], "drop", "mass", "lacks"]
    rows = [
        [
            _short(plan, each),
            *[layout.whole(float(each.counted[band])) for band in bands],
            pressure(plan, each.pressure),
            show(each.mass, "mass", plan.units),
            "nothing" if each.meets else f"{np.nanmax(each.short):.0f} dB" if each.binding is not None else "air",
        ]
        for each in designs
    ]
    return [*layout.heading("Best of those tried, dB"), *layout.grid(head, rows)]


def _short(plan: Plan, design: Design) -> str:
    box = design.built.build
    lining = "" if box.holds_duct else f", lined {show(box.lining, 'length', plan.units)}"
    return f"{box.family}{f' x {box.passes}' if box.passes > 1 else ''}{lining}, {box.fill.density:.0f} kg/m3"


def _to_paste(plan: Plan, box: str, best: Design) -> list[str]:
    made = best.built.build
    return [
        *layout.heading("To try it, add this to the project file"),
        f"[variant.searched.box.{box}]",
        f'family = "{made.family}"',
        f"passes = {made.passes}",
        *([] if made.holds_duct else [f"lining = '{show(made.lining, 'length', plan.units)}'"]),
        f'fill = {{ density = "{made.fill.density:g} kg/m3" }}',
    ]


def _clashes(found: Search) -> Iterator[str]:
    if found.clashes:
        yield from layout.heading("Do not fit, with the first of each kind")
    for clash, number in sorted(found.clashes.items(), key=lambda item: -item[1]):
        yield from layout.hanging(f"{number:>3}", clash, 5)


def search_record(plan: Plan, box: str, mode: str, found: Search) -> Record:
    """The same as plain values: SI units named in the keys."""
    return {
        "program": {"name": "sordino", "version": __version__},
        "title": plan.title,
        "box": box,
        "mode": mode,
        "flow_m3_s": found.flow,
        "octaves_hz": OCTAVES,
        "wanted_db": found.wanted.loss,
        "most_pressure_pa": found.wanted.pressure if np.isfinite(found.wanted.pressure) else None,
        "meets": bool(found.found),
        "tried": found.tried,
        "designs": [_design(each) for each in (*found.found, *found.nearest)],
        "do_not_fit": found.clashes,
        "a_quarter_larger": {side: _design(each) for side, each in found.larger.items()},
        "caution": CAUTION,
    }


def _design(design: Design) -> Record:
    box = design.built.build
    return {
        "family": box.family,
        "passes": box.passes,
        "lining_m": None if box.holds_duct else box.lining,
        "fibre_density_kg_m3": box.fill.density,
        "inside_m": {side: getattr(box, side) for side in SIDES},
        "counted_db": design.counted,
        "ceiling_db": design.ceiling,
        "pressure_pa": design.pressure,
        "mass_kg": design.mass,
        "lacks_db": design.short,
        "too_many_pa": design.over,
        "meets": design.meets,
    }
