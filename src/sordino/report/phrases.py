"""Small phrases that several reports share."""

from __future__ import annotations

from math import ceil

from sordino.assess.assessment import Assessment
from sordino.assess.loudness import Loudness
from sordino.assess.wording import flow_words
from sordino.kinds import INCH, INCH_OF_WATER
from sordino.physics.sound.criteria import HIGHEST_NC, LOWEST_NC
from sordino.plan.statement import Plan
from sordino.quantities import Size
from sordino.units import show

LEGEND = (
    "Levels are in dB per octave (re 20 µPa in rooms, re 1 pW in ducts), without decimals, because no more is known. "
    "A range in brackets is meant to hold nine times in ten. – not assessed: no published method or data reaches there."
)
CAUTION = (
    "These are predictions from handbook methods and stated data, not measurements and not a permit. Wiring, fire "
    "stops, flues and other combustion air, refrigerant, and anything heavy hung from joists follow local codes: ask "
    "the authority that has a say there, an electrician, and a licensed engineer, before you build."
)


def flow(plan: Plan, value: float) -> str:
    """A flow without its sign, or `no air`."""
    return flow_words(plan, value)


def pressure(plan: Plan, value: float) -> str:
    """A pressure in the project's units, with the same decimals all down a column."""
    if plan.units == "inch":
        return f"{value / INCH_OF_WATER:z.3f} in w.g."
    return f"{value:z.1f} Pa"


def velocity(plan: Plan, value: float) -> str:
    """An air speed in the project's units."""
    return show(value, "velocity", plan.units)


def enough(plan: Plan, size: Size) -> str:
    """A size rounded up to what a builder measures: 5 mm or a quarter of an inch."""
    step = 0.005 if plan.units == "metric" else 0.25 * INCH
    width, height = (ceil(side / step - 1e-6) * step for side in (size.width, size.height))
    return Size(round=size.round, width=width, height=height).shown(plan.units)


def figure(scale: str, value: float) -> str:
    """One figure on a scale, as `NC 21`, `NC under 15` or `24 dBA`."""
    if scale == "dBA":
        return f"{value:.0f} dBA"
    if scale == "NC" and not LOWEST_NC < value < HIGHEST_NC:
        return f"NC under {LOWEST_NC:.0f}" if value <= LOWEST_NC else f"NC over {HIGHEST_NC:.0f}"
    return f"{scale} {value:.0f}"


def heading_of(found: Assessment, heard: Loudness) -> str:
    """A receiver in its mode, as `Reading room, quiet`."""
    place = found.plan.place_name(heard.heard.place)
    return f"{place}, {heard.heard.mode}" if heard.heard.mode and len(found.plan.mode) > 1 else place


def count(number: int, one: str, several: str = "") -> str:
    """A number with its noun."""
    return f"{number} {one if number == 1 else several or one + 's'}"
