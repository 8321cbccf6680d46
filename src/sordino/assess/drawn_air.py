"""Where to stop and ask about the air that ducts draw: past flues, from garages, into leaks of ducts that suck."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.airflow import AirState
from sordino.assess.finding import Finding
from sordino.assess.safety import ASK, hazard_limit, stop
from sordino.assess.wording import flow_words
from sordino.plan.appliance import Appliance
from sordino.plan.mover import STREAMS
from sordino.plan.statement import Plan
from sordino.units import show

NOTHING_TO_SPEAK_OF = 1e-3
"""Net exhaust that no flue notices, m3/s (judgement)."""
INSIDE = "nothing that burns the air of an airtight room (common practice, no source)"
FUMES = "no air for rooms from where fumes stay (common practice, no source)"
NO_RETURN = "model codes: no return air from garages and plant rooms"
LEAKS = "ducts that suck draw what surrounds them in at their joints (common practice, no source)"


def drawn_findings(plan: Plan, states: dict[str, AirState]) -> Iterator[Finding]:
    """Every such place; `states` by mode."""
    for key, appliance in plan.appliance.items():
        if appliance.kind != "room-sealed":
            yield from _burning(plan, key, appliance, states)
    yield from _taken_from(plan, states)
    yield from _lying_in(plan)


def net_exhaust(plan: Plan, state: AirState) -> float:
    """What the ducts take outdoors less what they bring in, m3/s."""
    outdoors = {key for key, space in plan.space.items() if space.kind == "outside"}
    return sum(state.flows[name] * ((run.end in outdoors) - (run.start in outdoors)) for name, run in plan.run.items())


def net_from(plan: Plan, state: AirState, place: str) -> float:
    """What the ducts take out of a place less what they bring there, m3/s."""
    return sum(state.flows[name] * ((run.start == place) - (run.end == place)) for name, run in plan.run.items())


def _burning(plan: Plan, key: str, appliance: Appliance, states: dict[str, AirState]) -> Iterator[Finding]:
    """What burns the air of a room or space: inside an airtight room never, elsewhere by what the ducts take."""
    place, begin = plan.place_name(appliance.within), _begin(plan, key)
    if appliance.within in plan.room:
        words = (
            f"{begin}: {ASK}. An airtight room has no air for a flame: it uses up what people breathe, and its fumes "
            "stay inside, whatever the ducts bring. Take it out, or have a room-sealed one, and fit a carbon monoxide "
            "alarm."
        )
        yield stop(key, words, INSIDE, "how airtight the room is")
    elif appliance.kind == "flueless":
        taken = [name for name, flow in _flows_from(plan, states, appliance.within) if flow > NOTHING_TO_SPEAK_OF]
        if taken:
            words = (
                f"{begin}: {ASK}. Its fumes stay in {place}, and {', '.join(taken)} takes air from there. Take "
                "the air from elsewhere, and fit a carbon monoxide alarm."
            )
            yield stop(key, words, FUMES, "where the fumes go")
        else:
            words = f"{begin}: its fumes stay there, and no duct takes air from there; fit a carbon monoxide alarm."
            yield stop(key, words, FUMES, "where the fumes go", standing="note")
    else:
        for mode, state in states.items():
            yield _flue(plan, key, appliance, mode, state)


def _begin(plan: Plan, key: str) -> str:
    appliance = plan.appliance[key]
    return f"{appliance.name or key} ({appliance.kind}) in {plan.place_name(appliance.within)}"


def _flue(plan: Plan, key: str, appliance: Appliance, mode: str, state: AirState) -> Finding:
    out = max(net_exhaust(plan, state), net_from(plan, state, appliance.within))
    draws = out > NOTHING_TO_SPEAK_OF
    pressure = state.pressures.get(appliance.within, 0.0)
    starved = pressure < -hazard_limit("flue spillage")
    half = state.flow_spread * abs(out)
    if draws or starved:
        words = (
            f"{ASK}. The ducts take {flow_words(plan, out)} more out than they bring in"
            + (f", at {show(pressure, 'pressure', plan.units)} there" * starved)
            + "; it can come back down the flue with its fumes. Balance the air, have the flue tested with every "
            "fan running, and fit a carbon monoxide alarm."
        )
    else:
        words = "the ducts take no more out than they bring in; a carbon monoxide alarm belongs there all the same."
    return Finding(
        subject=key,
        question="safety",
        mode=mode,
        standing="stop" if draws or starved else "met",
        value=out,
        low=out - half,
        high=out + half,
        limit=NOTHING_TO_SPEAK_OF,
        unit="m3/s",
        sentence=f"{_begin(plan, key)}: {words}",
        method="mass balance of the ducts; 2 Pa beside a flue (building performance practice)",
        widest="pressure losses and fan curve",
    )


def _flows_from(plan: Plan, states: dict[str, AirState], place: str) -> Iterator[tuple[str, float]]:
    """The most that each run takes out of a place and does not take straight outdoors, m3/s."""
    for name, run in plan.run.items():
        other = plan.space.get(run.end if run.start == place else run.start)
        if other is None or other.kind != "outside":
            flows = (state.flows[name] * ((run.start == place) - (run.end == place)) for state in states.values())
            yield name, max(flows, default=0.0)


def _taken_from(plan: Plan, states: dict[str, AirState]) -> Iterator[Finding]:
    for key, space in plan.space.items():
        for name, flow in _flows_from(plan, states, key) if space.use is not None else ():
            if flow > NOTHING_TO_SPEAK_OF:
                words = (
                    f"{name} takes {flow_words(plan, flow)} from {plan.place_name(key)}, a {space.use}: {ASK}. No air "
                    "for rooms may come from there; take it from the room itself or from outdoors."
                )
                yield stop(name, words, NO_RETURN, "where it begins")


def _lying_in(plan: Plan) -> Iterator[Finding]:
    """Machines, and ducts that suck, in a garage or plant room: what leaks in goes to the rooms."""
    for key, space in plan.space.items():
        lying = _sucking_in(plan, key) if space.use is not None else []
        if lying:
            words = (
                f"{', '.join(lying)} {'lies' if len(lying) == 1 else 'lie'} in {plan.place_name(key)}, a {space.use}, "
                f"under suction: {ASK}. What is in the air there is drawn in at every joint and blown into rooms. Take "
                "them out of there, or have them all of sealed metal and tested, and fit a carbon monoxide alarm."
            )
            yield stop(key, words, LEAKS, "how tight they are", standing="stop" if space.use == "garage" else "note")


def _sucking_in(plan: Plan, place: str) -> list[str]:
    """Machines that blow into rooms and lie there, and the runs before them that do."""
    found: dict[str, None] = {}
    for key, mover in plan.mover.items():
        for inlet, outlet in STREAMS[mover.kind]:
            if not _reaches_a_room(plan, f"{key}.{outlet}"):
                continue
            if mover.within == place:
                found[plan.place_name(key)] = None
            for name in _upstream(plan, f"{key}.{inlet}"):
                run = plan.run[name]
                if any((part.within or run.within) == place for part in run.parts if not part.terminal):
                    found[name] = None
    return list(found)


def _upstream(plan: Plan, node: str) -> list[str]:
    """Runs that end there, or at junctions before."""
    nodes: dict[str, None] = {node: None}
    for _ in plan.junction:
        starts = [run.start for run in plan.run.values() if run.end in nodes and run.start in plan.junction]
        nodes |= dict.fromkeys(starts)
    return [name for name, run in plan.run.items() if run.end in nodes]


def _reaches_a_room(plan: Plan, node: str) -> bool:
    nodes = {node}
    for _ in plan.junction:
        nodes |= {run.end for run in plan.run.values() if run.start in nodes and run.end in plan.junction}
    return any(run.start in nodes and run.end in plan.room for run in plan.run.values())
