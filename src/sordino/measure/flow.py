"""What a run carries: an anemometer over an opening, a bag that fills, the pressure across its box."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.wording import flow_words
from sordino.elements.built_box import BuiltBox
from sordino.kinds import FOOT
from sordino.measure.levels import half_width
from sordino.measure.result import Cause, Measurement, Single
from sordino.physics.air.properties import Air
from sordino.physics.signal.background import STUDENT
from sordino.plan.statement import Plan
from sordino.plan.test import AirFlow, Bag, Traverse

MOST_FLOW = 10.0
"""Upper end of the search for a flow that loses a pressure, m3/s."""
CFM = FOOT**3 / 60.0
"""One cubic foot a minute, m3/s."""
UNEVEN = 1.5
"""Longest over shortest time to fill one bag that is told."""
LOOSE = 0.35
"""Half-width, as a share, up to which a flow is offered to be counted as measured (judgement)."""
LESS = (
    ("speed", "the fan runs slower than planned, or its filter is dirty", "read the setting and look at the filter"),
    (
        "way",
        "the way is narrower than planned: duct squeezed, damper shut, lining proud of its place",
        "read the pressure across the box, then across the filter: the larger than planned is the place",
    ),
    ("leak", "air gets in or out on the way", "fill a bag at both ends of the run: the difference leaks"),
)
MORE = (
    (
        "speed",
        "the fan runs faster than planned, which is louder too",
        "read the setting, turn it down, fill the bag again",
    ),
    ("way", "the way takes less pressure than planned", "read the pressure across the box and across the filter"),
)
"""What makes a flow less, or more, than predicted: common practice, no source."""


def air_flow(found: Assessment, name: str, test: AirFlow) -> Measurement:
    """The flow by each method beside what the network gives."""
    plan, mode = found.plan, test.mode or next(iter(found.plan.mode))
    state = found.state(mode)
    value = state.measured[test.run].unfitted if test.run in state.measured else state.flows[test.run]
    said = (abs(value), abs(value) * (1.0 - state.flow_spread), abs(value) * (1.0 + state.flow_spread))
    singles = tuple(_singles(found, test, said))
    best = min(singles, key=lambda one: one.high - one.low)
    low, high = best.high < said[1], best.low > said[2]
    doubts = (*_apart(plan, singles), *_beyond_fans(plan, best), *_uneven(test))
    return Measurement(
        name=name,
        kind="air flow",
        title=f"Air in {test.run}, {mode}",
        rows=(),
        singles=singles,
        answer=_words(plan, test.run, best, said, low, high),
        causes=_causes(LESS if low else MORE if high else ()),
        flags=doubts,
        paste=None if doubts or _loose(best) else _paste(plan, test.run, mode, best.value),
        missed=low,
    )


def _causes(usual: tuple[tuple[str, str, str], ...]) -> tuple[Cause, ...]:
    return tuple(Cause(key=key, words=words, test=test, fit=1.0) for key, words, test in usual)


def _singles(found: Assessment, test: AirFlow, said: tuple[float, float, float]) -> Iterator[Single]:
    if test.traverse is not None:
        yield _single("anemometer", *traversed(test.traverse), said)
    if test.bag is not None:
        yield _single("bag", *bagged(test.bag), said)
    if test.box_pressure is not None:
        box = next(part for part in found.plan.run[test.run].parts if isinstance(part, BuiltBox))
        yield _single("pressure across the box", *by_pressure(box, test.box_pressure, found.air), said)


def _single(label: str, value: float, half: float, said: tuple[float, float, float]) -> Single:
    return Single(label=label, unit="m3/s", value=value, low=max(value - half, 0.0), high=value + half, predicted=said)


def traversed(test: Traverse) -> tuple[float, float]:
    """Flow by readings of air speed over an area, with its half-width, m3/s: mean speed times free area."""
    speeds, area = np.array(test.speeds), test.size.area * test.free
    mean = float(speeds.mean())
    still = half_width("vane at rest") * float((speeds == 0.0).mean())
    parts = [mean * half_width("traverse"), half_width("vane"), still, spread_of_mean(speeds)]
    return mean * area, area * float(np.linalg.norm(parts))


def bagged(test: Bag) -> tuple[float, float]:
    """Flow by the volume of a bag over the time it takes to fill, with its half-width, m3/s."""
    flows = test.volume / np.array(test.times)
    mean = float(test.volume / np.mean(test.times))
    hand = mean * half_width("hand on a watch") / float(np.mean(test.times))
    return mean, float(np.linalg.norm([mean * half_width("bag"), hand, spread_of_mean(flows)]))


def by_pressure(box: BuiltBox, pressure: float, air: Air) -> tuple[float, float]:
    """Flow at which a box loses a measured pressure, with its half-width, m3/s; loss goes by about the square."""
    curve, gauge = box.pressure_curve(air), half_width("gauge")
    least, value, most = (_flow_at(curve, each) for each in (max(pressure - gauge, 0.0), pressure, pressure + gauge))
    return value, float(np.hypot(value * half_width("box pressure") / 2.0, max(value - least, most - value)))


def _flow_at(curve: Callable[[float], float], pressure: float) -> float:
    low, high = 0.0, MOST_FLOW
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if curve(middle) < pressure else (low, middle)
    return low


def spread_of_mean(values: np.ndarray) -> float:
    """Half-width of a mean from the scatter of its readings; nothing for a single one."""
    count = values.size
    return 0.0 if count < 2 else STUDENT.get(count, 1.7) * float(values.std(ddof=1)) / float(np.sqrt(count))


def _words(
    plan: Plan, run: str, best: Single, said: tuple[float, float, float], low: bool, high: bool
) -> tuple[str, ...]:
    value, least, most = (flow_words(plan, flow) for flow in (best.value, best.low, best.high))
    expected, lower, upper = (flow_words(plan, flow) for flow in said)
    verdict = "less than" if low else "more than" if high else "in agreement with"
    return (
        f"{run} carries {value} ({least} to {most}) by {best.label}, {verdict} the {expected} ({lower} to {upper}) "
        "that were predicted.",
    )


def _apart(plan: Plan, singles: tuple[Single, ...]) -> tuple[str, ...]:
    """Two methods that exclude each other: one of them is wrong."""
    return tuple(
        f"{one.label} and {other.label} disagree: {flow_words(plan, one.value)} and {flow_words(plan, other.value)}"
        for index, one in enumerate(singles)
        for other in singles[index + 1 :]
        if one.low > other.high or other.low > one.high
    )


def _beyond_fans(plan: Plan, best: Single) -> tuple[str, ...]:
    """A flow that all machines of the project together can't move."""
    most = sum(max(flow for flow, _ in (*mover.curve, *(mover.extract_curve or ()))) for mover in plan.mover.values())
    if best.low <= most:
        return ()
    moved = flow_words(plan, most)
    return (
        f"{best.label} gives more than the {moved} that all machines of the project move at most: are the readings, "
        "their units and the area right?",
    )


def _uneven(test: AirFlow) -> tuple[str, ...]:
    times = test.bag.times if test.bag is not None else ()
    if not times or max(times) <= UNEVEN * min(times):
        return ()
    return (f"the bag took {min(times):g} to {max(times):g} s to fill: time it again, and hold it tight",)


def _loose(best: Single) -> bool:
    return best.value <= 0.0 or best.high - best.value > LOOSE * best.value


def _paste(plan: Plan, run: str, mode: str, flow: float) -> tuple[str, str]:
    told = f"{flow / CFM:.1f} cfm" if plan.units == "inch" else f"{flow * 1000.0:.1f} L/s"
    line = f'measured = {{ {mode} = "{told}" }}' if len(plan.mode) > 1 else f'measured = "{told}"'
    return f"run.{run}", line
