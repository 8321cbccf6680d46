"""Changes to one box as a table: what each does band by band, to the air, the mass and the air path."""

from __future__ import annotations

from sordino.bands import Bands, name
from sordino.kinds import INCH_OF_WATER, POUND
from sordino.plan.statement import Plan
from sordino.report import layout
from sordino.search.box_compared import BoxChange
from sordino.search.departures import ALL
from sordino.units import show

CHANGE_BANDS = range(1, 9)
WORTH = 0.5
"""Changes under this are not told, dB."""


def usual_changes(plan: Plan, changes: tuple[BoxChange, ...]) -> list[str]:
    """What the usual changes would do."""
    note = f"Outer sizes stay except with: {_grown(plan, changes)}."
    return _table(plan, "What a change would do, dB", "change", changes, note)


def departed(plan: Plan, changes: tuple[BoxChange, ...]) -> list[str]:
    """What each departure of a variant's box from the box as written does."""
    bands = CHANGE_BANDS
    told = [change for change in changes if change.counted is not None and change.words != ALL]
    most = max(told, key=lambda change: _weight(change, bands), default=None)
    note = "It takes the same as the box as written, to less than half a decibel in every band."
    if most is not None and _weight(most, bands) >= WORTH:
        at = max(bands, key=lambda band: abs(_counted(most)[band]))
        gain = float(_counted(most)[at])
        note = f"What matters most: {most.words} ({layout.whole(gain, signed=True)} dB at {name(at)})."
    return _table(plan, "What differs from the project as written, dB", "it has", changes, note)


def _weight(change: BoxChange, bands: range) -> float:
    return max(abs(float(_counted(change)[band])) for band in bands)


def _counted(change: BoxChange) -> Bands:
    assert change.counted is not None, "only asked of changes that fit"
    return change.counted


def _table(plan: Plan, title: str, first: str, changes: tuple[BoxChange, ...], told: str) -> list[str]:
    mass, drop = ("lb", "in w.g.") if plan.units == "inch" else ("kg", "Pa")
    head = [first, *[layout.BAND_NAMES[band] for band in CHANGE_BANDS], drop, mass, "air path"]
    rows = [_change_row(plan, change) for change in changes if change.counted is not None]
    clashes = [change for change in changes if change.counted is None]
    note = (
        "Changes of what the box counts for, passage and what goes round it together, each change alone, at the same "
        f"flow; worked out on cells one and a half times as coarse. {told}"
    )
    lines = [*layout.heading(title), *layout.grid(head, rows), *layout.paragraph(note)]
    return lines + [line for text in _clashes(clashes) for line in layout.paragraph(text)]


def _change_row(plan: Plan, change: BoxChange) -> list[str]:
    bands = [layout.whole(float(_counted(change)[band]), signed=True) for band in CHANGE_BANDS]
    return [
        change.words,
        *bands,
        _pressure_change(plan, change),
        _mass_change(plan, change),
        _path_change(plan, change),
    ]


def _pressure_change(plan: Plan, change: BoxChange) -> str:
    if plan.units == "inch":
        return _signed(change.pressure / INCH_OF_WATER, 3)
    return _signed(change.pressure, 1)


def _mass_change(plan: Plan, change: BoxChange) -> str:
    return _signed(change.mass / (POUND if plan.units == "inch" else 1.0), 0)


def _signed(value: float, decimals: int) -> str:
    return "0" if abs(value) < 0.5 * 10.0**-decimals else f"{value:+.{decimals}f}"


def _path_change(plan: Plan, change: BoxChange) -> str:
    if abs(change.path) < 5e-4:
        return "0"
    return ("+" if change.path > 0 else "") + show(change.path, "length", plan.units)


def _grown(plan: Plan, changes: tuple[BoxChange, ...]) -> str:
    told = []
    for change in changes:
        sides = zip(("longer", "wider", "higher"), change.outside, strict=True)
        grown = [f"{show(more, 'length', plan.units)} {side}" for side, more in sides if more > 1e-6]
        if grown:
            told.append(f"{change.words} ({' and '.join(grown)})")
    return "; ".join(told) or "none"


def _clashes(changes: list[BoxChange]) -> list[str]:
    groups: dict[str, list[str]] = {}
    for change in changes:
        groups.setdefault(change.clash, []).append(change.words)
    return [f"Does not fit: {'; '.join(names)}: {clash}." for clash, names in groups.items()]
