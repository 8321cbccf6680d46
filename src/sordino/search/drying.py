"""What helps against damp rooms: a recovery unit that hands moisture on, or a dehumidifier of the size it takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from sordino.assess.airflow import AirState, air_state
from sordino.assess.assessment import Assessment
from sordino.assess.climate import Climate, climate
from sordino.assess.cooling import DAMP
from sordino.assess.finding import Finding
from sordino.assess.session import session, whole_mode
from sordino.physics.climate import moist
from sordino.plan.climate import CONDITIONS
from sordino.plan.statement import Plan
from sordino.search import indoor_edits
from sordino.search.indoor_remedy import IndoorRemedy, Tried
from sordino.units import show

HANDED_ON = 0.5
"""Share of the moisture that paper plates and wheels hand on (makers' sheets: 40 to 70 %; memory)."""
STEP = 10.0 / 3.6e6
"""Steps in which a dehumidifier is chosen, kg/s: 10 g/h."""
PROBE = 1e-5
"""Water taken out to see what that does, kg/s; it does so in proportion."""
CLOSE = 1e-3
"""How far under the limit a dehumidifier is chosen to come."""


def against_humidity(found: Assessment, finding: Finding) -> Iterator[Tried]:
    """Recovery of moisture where a unit recovers heat only; then a dehumidifier."""
    plan, room, mode = found.plan, finding.subject, finding.mode
    assert finding.value is not None
    assert finding.limit is not None
    aim = finding.limit if plan.room[room].comfort.humidity is not None else min(finding.limit, DAMP)
    for name, mover in plan.mover.items():
        if mover.kind == "heat-recovery unit" and mover.moisture_recovery < HANDED_ON:
            changed = indoor_edits.with_moisture_recovery(name, HANDED_ON)(plan)
            state = air_state(changed, mode, found.state(mode).filters, found.air)
            after = max(_end(changed, state, hour, room, 0.0) for hour in CONDITIONS)
            words = f"a {plan.place_name(name).lower()} that hands on {100 * HANDED_ON:.0f} % of the moisture as well"
            yield IndoorRemedy(words=words, before=finding.value, after=after, meets=after <= aim), changed
    water, after = dehumidifier(plan, found.state(mode), room, aim)
    words = (
        f"a dehumidifier that takes out {3.6e6 * water:.0f} g/h; "
        f"{show(round(water * moist.EVAPORATION), 'power', plan.units)} and what it draws come into the air as heat"
    )
    yield IndoorRemedy(words=words, before=finding.value, after=after, meets=after <= aim), plan


def dehumidifier(plan: Plan, state: AirState, room: str, aim: float) -> tuple[float, float]:
    """What it must take out so that no hour ends over `aim`, kg/s, and the humidity that the worst then ends at.

    It rests once the aim is reached. The air's temperature is taken to stay: what else cools takes its heat away.
    """
    bare = {hour: _end(plan, state, hour, room, 0.0) for hour in CONDITIONS}
    damp = [hour for hour in CONDITIONS if bare[hour] > aim]
    fall = {hour: bare[hour] - _end(plan, state, hour, room, PROBE) for hour in damp}
    needed = max((PROBE * (bare[hour] - aim + CLOSE) / fall[hour] for hour in damp), default=0.0)
    water = STEP * ceil(needed / STEP)
    ends = {hour: max(min(aim, bare[hour]) - CLOSE, _end(plan, state, hour, room, water)) for hour in CONDITIONS}
    return water, max(ends.values())


def _end(plan: Plan, state: AirState, hour: str, room: str, taken: float) -> float:
    """Humidity of a room at the end of a session from which so much water is taken, kg/s."""
    network = _dried(climate(plan, state, hour), room, taken)
    told = session(plan, state.mode, {state.mode: network}, whole_mode(plan, state.mode), step=plan.session.length / 16)
    return told.humidity(room, told.length)


def _dried(network: Climate, room: str, taken: float) -> Climate:
    fixed = network.water.fixed.copy()
    fixed[network.rooms.index(room)] -= taken / network.dry_mass
    return replace(network, water=replace(network.water, fixed=fixed))
