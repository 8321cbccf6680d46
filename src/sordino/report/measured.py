"""What a test gave, as text: the answer first, then bands measured beside predicted, causes, and what to write down."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sordino.bands import Array, Bands
from sordino.measure.result import Measurement, Predicted, Row, Single
from sordino.physics.signal.background import AT_LEAST, AT_MOST, Reading
from sordino.physics.signal.thirds import THIRDS
from sordino.plan.statement import Plan
from sordino.report import layout
from sordino.report.phrases import figure
from sordino.units import show

SIGNS = {AT_MOST: "≤", AT_LEAST: "≥"}
LEGEND = (
    "Plain figures are values; ≤ at most, ≥ at least: the background or the microphone's own noise hides the rest; "
    "– not known. Ranges are meant to hold nine times in ten. A band is a value where it leads the background by 6 dB "
    "or more (corrected as ISO 16283-1 has it), else it is only bounded."
)
CAUTION = (
    "A measurement with a home kit is good advice to yourself. It is not the measurement that a rule, a permit or a "
    "contract names, and says nothing of fire, electricity or structure. A plugged room gets no air: take the plugs "
    "out."
)


def measured_text(plan: Plan, found: Measurement, variant: str | None = None) -> str:
    """Everything a person reads of one test."""
    title = f"{found.title} (test {found.name})" + (f", variant {variant}" if variant else "")
    head = layout.paragraph(title)
    lines = [*head, "=" * max(map(len, head)), ""]
    for sentence in found.answer:
        lines += layout.hanging("-", sentence, 2)
    lines += [*_flags(found), *_singles(plan, found), *_octaves(found), *_thirds(found), *_causes(found)]
    lines += [*_paste(found), *layout.heading("Read this with it"), *layout.paragraph(LEGEND)]
    lines += layout.paragraph(CAUTION)
    return layout.page(lines)


def _flags(found: Measurement) -> list[str]:
    if not found.flags:
        return []
    told = [line for flag in found.flags for line in layout.hanging("-", _sentence(flag), 2)]
    return [*layout.heading("What to know of the readings"), *told]


def _sentence(flag: str) -> str:
    """A remark with its capital, but a file keeps its name, and its full stop."""
    first = flag.split(" ", 1)[0]
    lead = flag if "." in first else f"{flag[0].upper()}{flag[1:]}"
    return lead if lead.endswith(("?", "!")) else f"{lead}."


def _singles(plan: Plan, found: Measurement) -> list[str]:
    if not found.singles:
        return []
    rows = [(one.label, _kind(one), _value(plan, one), _span(plan, one), _said(plan, one)) for one in found.singles]
    head = ("measured", "", "value", "range", "predicted")
    return [*layout.heading("In one figure"), *layout.grid(head, rows, left=2)]


def _kind(one: Single) -> str:
    return "flow" if one.unit == "m3/s" else one.unit if one.unit != "dB" else ""


def shown(plan: Plan, one: Single, value: float) -> str:
    """One figure in its unit."""
    if one.unit == "m3/s":
        return show(value, "flow", plan.units)
    return figure(one.unit, value) if one.unit in ("NC", "NR", "dBA") else f"{value:.0f} dB"


def _value(plan: Plan, one: Single) -> str:
    return f"{one.bound} {shown(plan, one, one.value)}".strip()


def _span(plan: Plan, one: Single) -> str:
    if not (math.isfinite(one.low) and math.isfinite(one.high)):
        return layout.NOTHING
    return f"{shown(plan, one, one.low)} to {shown(plan, one, one.high)}"


def _said(plan: Plan, one: Single) -> str:
    if one.predicted is None:
        return layout.NOTHING
    value, low, high = (shown(plan, one, each) for each in one.predicted)
    return value if low == value == high else f"{value} ({low} to {high})"


def _octaves(found: Measurement) -> list[str]:
    if not found.rows:
        return []
    unit = "s" if found.rows[0].sign == "time" else "dB"
    lines = layout.heading(f"Measured beside predicted, {unit} per octave")
    for row in found.rows:
        lines += [*_row(row), ""]
    return lines[:-1]


def _row(row: Row) -> Iterator[str]:
    yield layout.band_head(row.label)
    decimals = 2 if row.sign == "time" else 0
    yield from cells("  measured", marked(row.levels.octaves, decimals))
    yield from cells("  could be as low as", figures(row.levels.octaves.low, decimals))
    yield from cells("  could be as high as", figures(row.levels.octaves.high, decimals))
    if row.predicted is not None:
        yield from _prediction(row.predicted, decimals)
        yield from _beside(row, row.predicted)


def _beside(row: Row, said: Predicted) -> list[str]:
    """The difference of levels, the ratio of times, where a value was measured."""
    known = row.levels.octaves.valued
    if row.sign == "time":
        return cells(
            "  measured over predicted", figures(np.where(known, row.levels.octaves.level / said.level, np.nan), 1)
        )
    gap = np.where(known, row.levels.octaves.level - said.level, np.nan)
    return cells("  measured minus predicted", figures(gap, 0, signed=True))


def _prediction(said: Predicted, decimals: int) -> Iterator[str]:
    yield from cells("  predicted", figures(said.level, decimals))
    yield from cells("  predicted, low", figures(said.low, decimals))
    yield from cells("  predicted, high", figures(said.high, decimals))


def _thirds(found: Measurement) -> list[str]:
    rows = [row for row in found.rows if np.isfinite(row.levels.thirds.level).any()]
    if not rows:
        return []
    lines = layout.heading("Measured, dB per one-third octave")
    for start in range(0, THIRDS, 9):
        part = slice(start, start + 9)
        lines += cells("", list(layout.THIRD_NAMES[part]))
        for row in rows:
            lines += cells(f"  {row.label}", marked(row.levels.thirds, 0)[part])
    return lines


def cells(label: str, values: list[str]) -> list[str]:
    """One row of nine columns."""
    return [f"{label:<{layout.LABEL}}" + "".join(f"{value:>{layout.BAND_WIDTH}}" for value in values)]


def marked(one: Reading, decimals: int) -> list[str]:
    """Values plain, bounds with their sign."""
    plain = figures(one.level, decimals)
    return [
        _signed(SIGNS.get(int(bound), ""), text, decimals) if text != layout.NOTHING else text
        for text, bound in zip(plain, one.bound, strict=True)
    ]


def _signed(sign: str, text: str, decimals: int) -> str:
    """With its sign, and a decimal less where it would touch the next column."""
    return f"{sign}{text[:-1] if sign and decimals and len(text) >= layout.BAND_WIDTH - 1 else text}"


def figures(values: Array | Bands, decimals: int, signed: bool = False) -> list[str]:
    """Figures with so many decimals; a dash for what is not known or endless."""
    sign = "+" if signed else ""
    if decimals == 2 and np.nanmax(np.abs(np.where(np.isfinite(values), values, 0.0)), initial=0.0) >= 10.0:
        decimals = 1  # two more would touch the next column
    return [f"{value:{sign}z.{decimals}f}" if math.isfinite(value) else layout.NOTHING for value in values]


def _causes(found: Measurement) -> list[str]:
    if not found.causes:
        return []
    lines = layout.heading("What may be behind it, the likeliest first, and the next cheapest test")
    for number, cause in enumerate(found.causes, start=1):
        words = f"{cause.words[0].upper()}{cause.words[1:]}. Test: {cause.test}."
        lines += layout.hanging(f"{number}.", words, 3)
    return lines


def _paste(found: Measurement) -> list[str]:
    if found.paste is None:
        return []
    table, line = found.paste
    words = f"To have it counted as measured, put this line under [{table}] in the project file:"
    return [*layout.heading("To go on with"), *layout.paragraph(words), f"  {line}"]
