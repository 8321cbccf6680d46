"""What the air will do in one mode: flows and pressures of the whole network, line by line along each run."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from sordino.elements.element import Element
from sordino.elements.filter import Filter
from sordino.elements.grille import Grille
from sordino.elements.open_end import OpenEnd
from sordino.errors import OutOfRange
from sordino.physics.air.areas import entry_sharp, exit_loss
from sordino.physics.air.crossings import Crossing
from sordino.physics.air.fan import FanCurve
from sordino.physics.air.friction import velocity_pressure
from sordino.physics.air.leakage import coefficient_at, leakage_drop
from sordino.physics.air.network import Drive, Flows, Link, operating_points, solve, system_pressure
from sordino.physics.air.properties import Air
from sordino.plan.run import Run
from sordino.plan.statement import Mode, Plan
from sordino.tables import table

DEFAULT_LEAKAGE = 1.0 / 3600.0
"""Air changes a second at 50 Pa taken for a room whose leakage is not given (judgement: a sealed studio shell)."""
TIGHTEST = 1e-5
"""Least leakage at 50 Pa, m3/s: no room is tighter than 36 litres an hour (judgement)."""
OPEN_AIR = ".open air"
"""Node that rooms leak to; the dot keeps it from being anybody's name."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """One line of a pressure ledger."""

    label: str
    drop: float
    scatter: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Stream:
    """One stream of a mover: what it moves against what, and every other point where it could settle."""

    mover: str
    index: int
    speed: float
    flow: float
    pressure: float
    free_flow: float
    crossings: tuple[Crossing, ...]
    extended: bool
    wanted: float | None
    """Flow that a run at a port should carry, m3/s; asked at its highest speed with clean filters only."""
    spare: float | None
    """Pressure it would have left over at that flow, Pa; negative where it falls short."""


@dataclass(frozen=True, kw_only=True, slots=True)
class AirState:
    """Flows in m3/s along each run's own direction and pressures in Pa over outdoors."""

    mode: str
    filters: str
    flows: dict[str, float]
    pressures: dict[str, float]
    streams: tuple[Stream, ...]
    balanced: dict[str, float]
    """Flows of every link and drive, to start a like network from."""
    flow_spread: float
    """Half-width of the flows as a fraction, from the scatter of losses and fan curves."""


def air_state(plan: Plan, mode: str, filters: str, air: Air, near: AirState | None = None) -> AirState:
    """Solve the network of one mode with clean or dirty filters, from the flows of a state `near` it if given."""
    setting = plan.mode[mode]
    takes = {name: _takes(plan, name, filters, air) for name in plan.run}
    links = [*_run_links(plan, takes), *_leaks(plan)]
    drives = _drives(plan, setting, air)
    fixed = {OPEN_AIR: 0.0} | {name: 0.0 for name in plan.space}
    found = solve(fixed, links, drives, start=near.balanced if near is not None else None)
    streams = tuple(_stream(plan, setting, filters, drive, found, fixed, links, drives) for drive in drives)
    return AirState(
        mode=mode,
        filters=filters,
        flows=_run_flows(plan, found),
        pressures={name: level for name, level in found.pressures.items() if name != OPEN_AIR},
        streams=streams,
        balanced=found.flows,
        flow_spread=_flow_spread(takes, found),
    )


def _run_flows(plan: Plan, found: Flows) -> dict[str, float]:
    return {name: found.flows[f"run {name}"] for name in plan.run}


def lines(plan: Plan, name: str, flow: float, filters: str, air: Air) -> tuple[Line, ...]:
    """The pressure ledger of a run at a flow: entry, parts in order, junctions, exit."""
    return tuple(
        Line(label=take.label, drop=take.drop(flow), scatter=take.scatter) for take in _takes(plan, name, filters, air)
    )


@dataclass(frozen=True, slots=True)
class _Take:
    """Something along a run that takes pressure, as a function of the flow."""

    label: str
    scatter: str
    drop: Callable[[float], float]
    squared: bool = False
    """Whether the drop goes exactly by the square of the flow, so that one figure each way says it all."""


def _takes(plan: Plan, name: str, filters: str, air: Air) -> tuple[_Take, ...]:
    run = plan.run[name]
    inside = [
        _Take(part.label(), part.loss_scatter, partial(_soiled(part, filters).pressure_loss, air=air), part.squared)
        for part in run.parts
    ]
    first, last = _sections(run)
    return (
        *_end_take(plan, name, run.start, first, air, leaving=False),
        *inside,
        *_end_take(plan, name, run.end, last, air, True),
    )


def _sections(run: Run) -> tuple[float, float]:
    """Clear areas of a run's two ends, m2; an opening smaller than its duct counts as it is."""
    if not run.parts:
        return run.size.area, run.size.area
    return _clear(run.parts[0], run.parts[0].section.area), _clear(run.parts[-1], run.parts[-1].outlet.area)


def _clear(part: Element, area: float) -> float:
    return min(area, part.mouth.area) if isinstance(part, Grille | OpenEnd) else area


def _end_take(plan: Plan, name: str, node: str, area: float, air: Air, leaving: bool) -> tuple[_Take, ...]:
    """What is lost where a run meets a junction, or opens into a room or space; a mover's port takes nothing."""
    dynamic = float(velocity_pressure(1.0 / area, air))
    if node in plan.junction:
        lost = _junction_coefficient(plan, node, name, area, joining=leaving) * dynamic
        return (_Take(f"{plan.junction[node].kind} {node}", "branch", lambda flow: lost * flow * flow, True),)
    if node.partition(".")[0] in plan.mover:
        return ()
    blowing, drawing = exit_loss * dynamic, float(entry_sharp()) * dynamic
    forward, backward = (blowing, drawing) if leaving else (drawing, blowing)
    label = "exit" if leaving else "entry"
    return (_Take(label, "area change", lambda flow: (forward if flow >= 0 else backward) * flow * flow, True),)


def _junction_coefficient(plan: Plan, node: str, name: str, area: float, joining: bool) -> float:
    """Loss coefficient of one arm on its own velocity pressure."""
    inward = [_sections(run)[1] for run in plan.run.values() if run.end == node]
    onward = [_sections(run)[0] for run in plan.run.values() if run.start == node]
    junction = plan.junction[node]
    if joining and (len(inward) > 1 or junction.kind == "plenum"):
        return junction.joining_coefficient(name, area, sum(onward), sum(inward))
    if not joining and (len(onward) > 1 or junction.kind == "plenum"):
        return junction.leaving_coefficient(name, area, sum(inward), sum(onward))
    return 0.0


def _soiled(part: Element, filters: str) -> Element:
    if isinstance(part, Filter) and filters == "dirty":
        return part.model_copy(update={"soiling": 1.0})
    return part


def _loss(takes: tuple[_Take, ...]) -> Callable[[float], float]:
    """Odd, rising pressure loss of a run over its flow."""
    drops = [take.drop for take in takes if not take.squared]
    forward, backward = (sum(take.drop(flow) for take in takes if take.squared) for flow in (1.0, -1.0))

    def loss(flow: float) -> float:
        if flow == 0.0:
            return 0.0
        whole = (forward if flow > 0 else backward) * flow * flow + sum([drop(flow) for drop in drops])
        return whole if flow > 0 else -whole

    return loss


def _run_links(plan: Plan, takes: dict[str, tuple[_Take, ...]]) -> list[Link]:
    return [
        Link(name=f"run {name}", start=run.start, end=run.end, loss=_loss(takes[name]))
        for name, run in plan.run.items()
    ]


def leakage_coefficient(plan: Plan, room: str) -> float:
    """C in Q = C dp^0.65 for a room, from its leakage at 50 Pa or the default; never quite nil."""
    stated = plan.room[room].leakage
    flow = stated if stated is not None else DEFAULT_LEAKAGE * plan.room[room].volume
    return float(coefficient_at(max(flow, TIGHTEST), 50.0))


def _leaks(plan: Plan) -> list[Link]:
    return [
        Link(name=f"leak {room}", start=room, end=OPEN_AIR, loss=_leak(leakage_coefficient(plan, room)))
        for room in plan.room
    ]


def _leak(coefficient: float) -> Callable[[float], float]:
    return lambda flow: float(leakage_drop(flow, coefficient))


def _drives(plan: Plan, setting: Mode, air: Air) -> list[Drive]:
    return [
        Drive(
            name=f"mover {name}:{index}",
            start=f"{name}.{enters}",
            end=f"{name}.{leaves}",
            rise=_rise(mover.fan_curve(index), setting.speeds.get(name, 1.0), air),
        )
        for name, mover in plan.mover.items()
        for index, (enters, leaves) in enumerate(mover.streams)
    ]


def _rise(curve: FanCurve, speed: float, air: Air) -> Callable[[float], float]:
    """Pressure rise over flow at a speed; a fan at rest is an obstacle: shut-off pressure at full flow."""
    if speed > 0.0:
        at_speed = curve.at_speed(speed, air.density / 1.2)
        return at_speed.pressure
    resistance = max(curve.pressures) / max(curve.free_flow, 1e-6) ** 2
    return lambda flow: -resistance * flow * abs(flow)


def _stream(
    plan: Plan,
    setting: Mode,
    filters: str,
    drive: Drive,
    found: Flows,
    fixed: dict[str, float],
    links: list[Link],
    drives: list[Drive],
) -> Stream:
    name, _, index = drive.name.removeprefix("mover ").rpartition(":")
    curve, speed = plan.mover[name].fan_curve(int(index)), setting.speeds.get(name, 1.0)
    flow = found.flows[drive.name]
    points = operating_points(drive.name, fixed, links, drives) if curve.humped and speed else ()
    fastest = max(mode.speeds.get(name, 1.0) for mode in plan.mode.values())
    wanted = _wanted(plan, drive) if filters == "clean" and speed >= fastest else None
    return Stream(
        mover=name,
        index=int(index),
        speed=speed,
        flow=flow,
        pressure=drive.rise(flow),
        free_flow=curve.free_flow * speed,
        crossings=points,
        extended=bool(speed) and (curve.extended_low(flow / speed) or curve.extended_high(flow / speed)),
        wanted=wanted,
        spare=None if wanted is None else _spare(drive, wanted, found, fixed, links, drives),
    )


def _wanted(plan: Plan, drive: Drive) -> float | None:
    """The flow that a run at either port of a stream should carry."""
    asked = [run.wanted for run in plan.run.values() if drive.end == run.start or drive.start == run.end]
    return max((flow for flow in asked if flow is not None), default=None)


def _spare(
    drive: Drive, wanted: float, found: Flows, fixed: dict[str, float], links: list[Link], drives: list[Drive]
) -> float | None:
    """Pressure that the fan has beyond what the network takes at a wanted flow; None where no air can pass."""
    try:
        return drive.rise(wanted) - system_pressure(drive.name, wanted, fixed, links, drives, found.flows)
    except OutOfRange:
        return None


def _flow_spread(takes: dict[str, tuple[_Take, ...]], found: Flows) -> float:
    """Half-width of the flows: each loss's scatter acts on half a power, a fan curve's on its flow directly.

    Near the working point a system takes dp ~ Q^2 and a fan curve falls about as steeply, so a loss that is off by a
    fraction h of the whole moves the flow by about h/4 (judgement), the curve by half its own scatter.
    """
    scatter = table("air/scatter")
    widths = dict(zip(scatter.text("key"), scatter.numbers("half_width").tolist(), strict=True))
    whole, square = 0.0, 0.0
    for name, along in takes.items():
        for take in along:
            drop = take.drop(found.flows[f"run {name}"])
            whole += drop
            square += (widths[take.scatter] * drop) ** 2
    losses = (square**0.5 / whole / 4.0) if whole > 0 else 0.0
    return float((losses**2 + (0.5 * widths["fan curve"]) ** 2) ** 0.5)
