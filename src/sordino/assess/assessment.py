"""The whole assessment of a plan: air in every mode, what every room hears, and the findings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.assess import judgement
from sordino.assess.acoustics import Acoustics, acoustics
from sordino.assess.airflow import AirState, air_state
from sordino.assess.balance import Branch, branches
from sordino.assess.boxes import with_fields
from sordino.assess.caveats import data_findings, measured_findings
from sordino.assess.draughts import draught_findings, draughts
from sordino.assess.drawn_air import drawn_findings
from sordino.assess.ends import end_findings
from sordino.assess.finding import Finding
from sordino.assess.indoors import Indoors, indoor_findings, indoors
from sordino.assess.isolation import Isolation, isolations
from sordino.assess.lining import lining_findings
from sordino.assess.loudness import Loudness, loudness
from sordino.assess.noise import crosstalk, ventilation
from sordino.assess.pressure import RoomPressure, room_pressures
from sordino.assess.safety import safety_findings
from sordino.assess.speeds import Speed, speeds
from sordino.assess.structure import Structure, structure, structure_findings
from sordino.physics.air.properties import Air, air_at
from sordino.plan.statement import Plan
from sordino.quantities import Target

INDOOR_TEMPERATURE, INDOOR_HUMIDITY = 20.0, 0.5
FILTERS = ("clean", "dirty")


@dataclass(frozen=True, kw_only=True, slots=True)
class Assessment:
    """Everything that was worked out, and what it means."""

    plan: Plan
    air: Air
    acoustics: Acoustics
    states: dict[tuple[str, str], AirState]
    """Air by mode and filters."""
    noise: dict[tuple[str, str], Loudness]
    """Steady noise by place and mode."""
    crosstalk: dict[str, Loudness]
    """The loudest sound of the other rooms, by place."""
    isolations: tuple[Isolation, ...]
    pressures: dict[str, tuple[RoomPressure, ...]]
    speeds: dict[str, tuple[Speed, ...]]
    branches: tuple[Branch, ...]
    structure: Structure
    indoors: Indoors
    """Heat, fresh air and moisture."""
    findings: tuple[Finding, ...]

    def state(self, mode: str) -> AirState:
        """Air in a mode with its filters as that mode has them."""
        return self.states[mode, self.plan.mode[mode].filters]

    @property
    def missed(self) -> bool:
        """Whether some target is missed, or likely to be."""
        return any(finding.missed for finding in self.findings)


def assess(plan: Plan, fields: bool = True, before: Assessment | None = None) -> Assessment:
    """Work out a plan in all its modes.

    Without `fields` no sound field is solved: a box then takes what handbooks say, and its notes tell so. With what was
    found `before` of a plan that shares runs with this one, the sound in ducts that are as they were is not worked out
    again.
    """
    air = air_at(INDOOR_TEMPERATURE, INDOOR_HUMIDITY, plan.site.altitude)
    plan = with_fields(plan, air) if fields else plan
    model = acoustics(plan, air, before.acoustics if before is not None else None)
    states = _states(plan, air)
    noise = {
        (place, mode): loudness(heard, _target(plan, place, mode))
        for mode in plan.mode
        for place, heard in ventilation(model, states[mode, plan.mode[mode].filters]).items()
        if heard.contributions
    }
    heard_over = {
        place: loudness(heard, strictest_target(plan, place))
        for place, heard in crosstalk(model, "").items()
        if heard.contributions
    }
    pressures = {mode: room_pressures(plan, states[mode, plan.mode[mode].filters]) for mode in plan.mode}
    along = {mode: speeds(plan, states[mode, plan.mode[mode].filters]) for mode in plan.mode}
    arms, pairs = branches(plan, air), isolations(model)
    inside = indoors(plan, {mode: states[mode, plan.mode[mode].filters] for mode in plan.mode})
    stood = structure(plan)
    return Assessment(
        plan=plan,
        air=air,
        acoustics=model,
        states=states,
        noise=noise,
        crosstalk=heard_over,
        isolations=pairs,
        pressures=pressures,
        speeds=along,
        branches=arms,
        indoors=inside,
        structure=stood,
        findings=tuple(_findings(plan, noise, heard_over, states, pressures, along, arms, pairs, stood, inside)),
    )


def _states(plan: Plan, air: Air) -> dict[tuple[str, str], AirState]:
    """Air in every mode with clean and dirty filters; each network starts from the flows of the one before it."""
    states: dict[tuple[str, str], AirState] = {}
    near = None
    for mode in plan.mode:
        for filters in FILTERS:
            near = air_state(plan, mode, filters, air, near)
            states[mode, filters] = near
    return states


def strictest_target(plan: Plan, place: str) -> Target | None:
    """The lowest target of a place over the modes, of those on the scale of the first."""
    found = [target for mode in plan.mode if (target := _target(plan, place, mode)) is not None]
    return min((t for t in found if t.scale == found[0].scale), key=lambda target: target.value, default=None)


def _target(plan: Plan, place: str, mode: str) -> Target | None:
    return plan.room[place].target_in(mode) if place in plan.room else plan.space[place].target


def _findings(
    plan: Plan,
    noise: dict[tuple[str, str], Loudness],
    heard_over: dict[str, Loudness],
    states: dict[tuple[str, str], AirState],
    pressures: dict[str, tuple[RoomPressure, ...]],
    along: dict[str, tuple[Speed, ...]],
    arms: tuple[Branch, ...],
    pairs: tuple[Isolation, ...],
    stood: Structure,
    inside: Indoors,
) -> Iterator[Finding]:
    for heard in noise.values():
        yield judgement.noise_finding(plan, heard)
    for heard in heard_over.values():
        yield judgement.crosstalk_finding(plan, heard)
    yield from judgement.isolation_findings(plan, pairs)
    yield from judgement.flow_findings(plan, states)
    for mode in plan.mode:
        yield from judgement.fan_findings(plan, states[mode, plan.mode[mode].filters])
        yield from judgement.pressure_findings(plan, mode, pressures[mode])
        yield from judgement.speed_findings(plan, along[mode], mode)
        yield from draught_findings(plan, mode, draughts(plan, states[mode, plan.mode[mode].filters]))
    yield from judgement.balance_findings(plan, arms)
    yield from measured_findings(plan, states)
    yield from indoor_findings(plan, inside)
    yield from structure_findings(plan, stood)
    chosen = {mode: states[mode, plan.mode[mode].filters] for mode in plan.mode}
    yield from safety_findings(plan)
    yield from drawn_findings(plan, chosen)
    yield from end_findings(plan, chosen)
    yield from lining_findings(plan, tuple(each for speeds_found in along.values() for each in speeds_found))
    yield from data_findings(plan)
