"""The length that an edge is moved to, by drag or by key, as it is written."""

from __future__ import annotations

import math
from collections.abc import Mapping

from sordino.errors import Refusal
from sordino.units import System, UnitError, parse
from sordino.web.project import written

FARTHEST = 100.0
"""Longest that something can be dragged, m."""
SAME, UNSEEN = 1e-6, 1.1e-3
"""Lengths that are one to reckoning, and to what a drag is written to, m."""


def dragged(form: Mapping[str, str], now: object, first: object, system: System) -> str:
    """The length at `metres` of a form; `first` is what was written before the drag, and stays so at the same length.

    `from` is where the edge was when the drag, or the key, was reckoned. If the project has moved on since to `now`,
    as when keys are pressed on a drawing that is about to be replaced, it is moved as far from there.
    """
    metres, start, present = _number(form["metres"]), _number(form.get("from", "nan")), _metres(now)
    if abs(present - start) > UNSEEN:
        metres += present - start
    if not 0.0 < metres < FARTHEST:
        raise Refusal("this is no length", "drag it once more")
    if isinstance(first, str) and abs(_metres(first) - metres) < SAME:
        return first
    return written.length(metres, system)


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return math.nan


def _metres(value: object) -> float:
    """A length as written, m; NaN if it is none."""
    try:
        return parse(value, "length from zero") if isinstance(value, str) else math.nan
    except UnitError:
        return math.nan
