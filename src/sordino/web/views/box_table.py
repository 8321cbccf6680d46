"""The usual changes to a box as the page lists them: what helps where the box is weakest first, what harms apart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from sordino.assess.box_loss import counted
from sordino.bands import CENTRES, name
from sordino.elements.built_box import BuiltBox
from sordino.physics.air.properties import Air
from sordino.report import layout
from sordino.search.box_compared import BoxChange

BANDS = range(1, CENTRES.size)
LITTLE = 0.5
"""What less is neither gained nor lost, dB."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One change; without figures if it does not fit, and then why."""

    words: str
    gain: float
    """Where the box is weakest, dB."""
    least: float
    """Where most is lost, or least gained, dB."""
    bands: tuple[str, ...]
    pressure: str
    clash: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Group:
    """Changes that do alike, best first."""

    title: str
    rows: tuple[Row, ...]


def grouped_changes(changes: Iterable[BoxChange], weakest: int) -> tuple[Group, ...]:
    """In the order in which they are worth trying; a group without changes is left out."""
    rows = sorted((_row(change, weakest) for change in changes), key=lambda row: -row.gain)
    fit, at = [row for row in rows if not row.clash], name(weakest)
    helps = [row for row in fit if row.gain >= LITTLE]
    groups = (
        (f"Helps at {at}, where the box is weakest", [row for row in helps if row.least > -LITTLE]),
        (f"Helps at {at} and harms elsewhere", [row for row in helps if row.least <= -LITTLE]),
        (f"Next to nothing at {at}", [row for row in fit if -LITTLE < row.gain < LITTLE]),
        (f"Harms at {at}", [row for row in fit if row.gain <= -LITTLE]),
        ("Does not fit", [row for row in rows if row.clash]),
    )
    return tuple(Group(title=title, rows=tuple(chosen)) for title, chosen in groups if chosen)


def weakest_band(built: BuiltBox, air: Air) -> int:
    """The octave, from 63 Hz up, in which a solved box counts for least."""
    found = counted(built.attenuation(air), built.ceiling())
    return 1 + int(np.argmin(found[1:]))


def _row(change: BoxChange, weakest: int) -> Row:
    told = change.counted
    return Row(
        words=change.words,
        gain=0.0 if told is None else float(told[weakest]),
        least=0.0 if told is None else float(np.nanmin(told[1:])),
        bands=() if told is None else tuple(layout.whole(float(told[at]), signed=True) for at in BANDS),
        pressure="" if told is None else f"{change.pressure:+.1f}",
        clash=change.clash,
    )
