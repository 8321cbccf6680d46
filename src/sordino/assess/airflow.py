"""What the air will do in one mode: flows and pressures of the whole network."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sordino.assess.drops import Curve, Take, takes_of
from sordino.physics.air.crossings import Crossing
from sordino.physics.air.fan import FanCurve
from sordino.physics.air.leakage import coefficient_at, leakage_drop
from sordino.physics.air.network import Drive, Flows, Link, operating_points, solve
from sordino.physics.air.properties import Air
from sordino.plan.statement import Mode, Plan
from sordino.tables import table

DEFAULT_LEAKAGE = 1.0 / 3600.0
"""Air changes a second at 50 Pa taken for a room whose leakage is not given (judgement: a sealed studio shell)."""
TIGHTEST = 1e-5
"""Least leakage at 50 Pa, m3/s: no room is tighter than 36 litres an hour (judgement)."""
MOST_FITS, FITTED, MOST_FACTOR = 40, 1e-3, 1e4
"""Rounds in which measured flows are fitted, how near is near enough, and the most that a loss is scaled by."""
OPEN_AIR = ".open air"
"""Node that rooms leak to; the dot keeps it from being anybody's name."""


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
    """Pressure it would have left over at about that flow, Pa; negative where it falls short."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Fitted:
    """A run whose loss was scaled until the network carries what was measured."""

    wanted: float
    """Measured flow, m3/s."""
    unfitted: float
    """What the run would carry by prediction, m3/s."""
    factor: float
    """Its loss over the predicted one."""


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
    measured: dict[str, Fitted]
    """Runs whose flow was measured, with what that makes of the run."""


def air_state(plan: Plan, mode: str, filters: str, air: Air, near: AirState | None = None) -> AirState:
    """Solve the network of one mode with clean or dirty filters, from the flows of a state `near` it if given."""
    setting = plan.mode[mode]
    takes = {name: takes_of(plan, name, filters, air) for name in plan.run}
    links = [*_run_links(plan, takes), *_leaks(plan)]
    drives = _drives(plan, setting, air)
    fixed = {OPEN_AIR: 0.0} | {name: 0.0 for name in plan.space}
    found = solve(fixed, links, drives, start=near.balanced if near is not None else None)
    wanted = measured_flows(plan, mode)
    links, found, fitted = _as_measured(wanted, fixed, links, drives, found)
    streams = tuple(_stream(plan, setting, filters, drive, found, fixed, links, drives) for drive in drives)
    return AirState(
        mode=mode,
        filters=filters,
        flows=_run_flows(plan, found),
        pressures={name: level for name, level in found.pressures.items() if name != OPEN_AIR},
        streams=streams,
        balanced=found.flows,
        flow_spread=_flow_spread(takes, found),
        measured=fitted,
    )


def measured_flows(plan: Plan, mode: str) -> dict[str, float]:
    """Flows that were measured in a mode, m3/s by run."""
    stated = {name: run.measured.get(mode, run.measured.get("")) for name, run in plan.run.items()}
    return {name: flow for name, flow in stated.items() if flow}


def _as_measured(
    wanted: dict[str, float], fixed: dict[str, float], links: list[Link], drives: list[Drive], found: Flows
) -> tuple[list[Link], Flows, dict[str, Fitted]]:
    """The network with the losses of measured runs scaled by (Q / Q measured)^2, again and again, until they agree."""
    before, factors = found, dict.fromkeys(wanted, 1.0)
    fitted = links
    for _ in range(MOST_FITS if wanted else 0):
        ratios = {name: found.flows[f"run {name}"] / flow for name, flow in wanted.items()}
        if all(abs(ratio - 1.0) < FITTED for ratio in ratios.values()):
            break
        for name, ratio in ratios.items():
            factors[name] = min(max(factors[name] * ratio * abs(ratio), 1.0 / MOST_FACTOR), MOST_FACTOR)
        fitted = [_scaled(link, factors.get(link.name.removeprefix("run "), 1.0)) for link in links]
        found = solve(fixed, fitted, drives, start=found.flows)
    told = {
        name: Fitted(wanted=flow, unfitted=before.flows[f"run {name}"], factor=factors[name])
        for name, flow in wanted.items()
    }
    return fitted, found, told


def _scaled(link: Link, factor: float) -> Link:
    if factor == 1.0:
        return link
    loss, slope = link.loss, link.slope
    return replace(
        link,
        loss=lambda flow: factor * loss(flow),
        slope=None if slope is None else lambda flow: factor * slope(flow),
    )


def _run_flows(plan: Plan, found: Flows) -> dict[str, float]:
    return {name: found.flows[f"run {name}"] for name in plan.run}


def _run_links(plan: Plan, takes: dict[str, tuple[Take, ...]]) -> list[Link]:
    curves = {name: Curve(takes[name]) for name in plan.run}
    return [
        Link(name=f"run {name}", start=run.start, end=run.end, loss=curves[name].loss, slope=curves[name].slope)
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
        spare=None if wanted is None else _spare(drive, wanted, flow),
    )


def _wanted(plan: Plan, drive: Drive) -> float | None:
    """The flow that a run at either port of a stream should carry."""
    asked = [run.wanted for run in plan.run.values() if drive.end == run.start or drive.start == run.end]
    return max((flow for flow in asked if flow is not None), default=None)


def _spare(drive: Drive, wanted: float, flow: float) -> float | None:
    """Pressure that the fan has beyond what the network takes at a wanted flow, which is taken to go by the square."""
    return drive.rise(wanted) - drive.rise(flow) * (wanted / flow) ** 2 if flow > 0.0 else None


def _flow_spread(takes: dict[str, tuple[Take, ...]], found: Flows) -> float:
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
