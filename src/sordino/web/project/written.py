"""Values as a project file writes them: numbers with the unit that people use, all else on one line."""

from __future__ import annotations

import json
import math
from typing import Any

import tomlkit

from sordino.kinds import INCH, KINDS
from sordino.units import System, show

STEPS = {"metric": 0.001, "inch": INCH / 16.0}
"""What a dragged length snaps to, m: what a tape measure shows."""


def length(value: float, system: System) -> str:
    """A length to the millimetre or the sixteenth of an inch."""
    step = STEPS[system]
    return show(max(round(value / step), 1) * step, "length", system)


def exactly(value: float, kind: str, system: System, figures: int = 6) -> str:
    """A quantity in its usual unit with as many figures as it has, up to six."""
    units = KINDS[kind].units
    unit = next((each for each in units if each.inch), units[0]) if system == "inch" else units[0]
    number = (value - unit.offset) / unit.factor
    return f"{number:.{figures}g} {unit.name}" if math.isfinite(number) else ""


def literal(value: Any) -> str:
    """A value as a project file has it, on one line."""
    item = tomlkit.item(value)
    return " ".join(item.as_string().split()) if not isinstance(value, dict) else json.dumps(value, ensure_ascii=False)
