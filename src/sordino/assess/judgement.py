"""Findings: each answer of an assessment held against what the plan asks for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from sordino.assess import balance
from sordino.assess.airflow import AirState, Stream
from sordino.assess.finding import Finding, Question, Standing, standing
from sordino.assess.isolation import MARGIN, Isolation
from sordino.assess.loudness import Loudness
from sordino.assess.pressure import RoomPressure
from sordino.assess.speeds import Speed
from sordino.assess.wording import NO_AIR, VERDICT, flow_words, rating_words, sound_words
from sordino.bands import Bands
from sordino.bands import name as band_name
from sordino.plan.statement import Plan
from sordino.quantities import Target
from sordino.units import show

SHORT_OF_FLOW = 0.9
"""Share of a wanted flow that counts as reached: balancing practice allows a tenth."""
STALLED = 0.1
"""Share of free flow below which a fan counts as dead-headed."""


def noise_finding(plan: Plan, heard: Loudness) -> Finding:
    """A receiver's figure against its target."""
    rating = heard.rating
    words = f"{plan.place_name(heard.heard.place)}: {rating_words(heard)}"
    if heard.target is None:
        return _heard(plan, heard, "noise", "note", f"{words}; no target is set.", None)
    verdict = standing(round(rating.value), round(rating.low), round(rating.high), heard.target.value)
    return _heard(plan, heard, "noise", verdict, f"{words} against {heard.target}: {VERDICT[verdict]}.", heard.target)


def crosstalk_finding(plan: Plan, heard: Loudness) -> Finding:
    """The loudest sound of the other places at a receiver, beside the strictest target it has."""
    place, target = heard.heard.place, heard.target
    rating = heard.rating
    over = 0.0 if target is None else rating.value - target.value
    beside = "" if target is None else f", {abs(over):.0f} {'over' if over > 0 else 'under'} its target"
    advice = " Not both at once." if over > 0 and place in plan.room else ""
    words = f"{plan.place_name(place)}, when it is loudest elsewhere: {rating_words(heard)}{beside}.{advice}"
    found = _heard(plan, heard, "sound from other rooms", "note", words, target)
    if target is None:
        return found
    return replace(found, beside=standing(round(rating.value), round(rating.low), round(rating.high), target.value))


def _heard(
    plan: Plan, heard: Loudness, question: Question, verdict: Standing, words: str, target: Target | None
) -> Finding:
    return Finding(
        subject=heard.heard.place,
        question=question,
        mode=heard.heard.mode,
        standing=verdict,
        sentence=f"{words} Worst at {band_name(heard.band)}: {sound_words(plan, heard.governing)}.",
        value=heard.rating.value,
        low=heard.rating.low,
        high=heard.rating.high,
        limit=None if target is None else target.value,
        unit=heard.scale,
        method="four-poles below cut-on, handbook losses above; modal and diffuse room field",
        widest=heard.rating.widest,
    )


def flow_findings(plan: Plan, states: dict[tuple[str, str], AirState]) -> Iterator[Finding]:
    """Each run that wants a flow, in the mode in which it carries most."""
    for name, run in plan.run.items():
        if run.wanted is None:
            continue
        chosen = [states[mode, setting.filters] for mode, setting in plan.mode.items()]
        best = max(chosen, key=lambda state: abs(state.flows[name]))
        flow, dirty = best.flows[name], states[best.mode, "dirty"].flows[name]
        low, high = flow * (1 - best.flow_spread), flow * (1 + best.flow_spread)
        need = SHORT_OF_FLOW * run.wanted
        verdict: Standing = _at_least(flow, low, high, need)
        yield Finding(
            subject=name,
            question="flow",
            mode=best.mode,
            standing=verdict,
            value=flow,
            low=low,
            high=high,
            limit=run.wanted,
            unit="m3/s",
            sentence=_flow_words(plan, name, (flow, low, high, dirty), run.wanted, verdict),
            method="mass balance of the whole network with every fan's curve",
            widest="pressure losses and fan curve",
        )


def _flow_words(
    plan: Plan, name: str, flows: tuple[float, float, float, float], wanted: float, verdict: Standing
) -> str:
    value, low, high, dirty = (flow_words(plan, flow) for flow in flows)
    span = f" ({low} to {high})" if abs(flows[0]) >= NO_AIR else ""
    less = f" Filters due for change take it to {dirty}." if abs(flows[3]) < 0.97 * abs(flows[0]) else ""
    asked = flow_words(plan, wanted)
    return f"{name} carries {value}{span} of the {asked} it should: {VERDICT[verdict]}.{less}"


def _at_least(value: float, low: float, high: float, need: float) -> Standing:
    verdict = standing(-value, -high, -low, -need)
    return verdict


def fan_findings(plan: Plan, state: AirState) -> Iterator[Finding]:
    """Where each stream of each mover settles."""
    for stream in state.streams:
        if stream.speed <= 0.0:
            continue
        verdict, why = _fan_verdict(plan, stream)
        side = (
            f" ({'supply' if stream.index == 0 else 'extract'} side)"
            if len(plan.mover[stream.mover].streams) > 1
            else ""
        )
        share = stream.flow / stream.free_flow if stream.free_flow else 0.0
        yield Finding(
            subject=stream.mover,
            question="fan",
            mode=state.mode,
            standing=verdict,
            value=stream.flow,
            low=stream.flow * (1 - state.flow_spread),
            high=stream.flow * (1 + state.flow_spread),
            unit="m3/s",
            sentence=(
                f"{plan.place_name(stream.mover)}{side} moves {flow_words(plan, stream.flow)} against "
                f"{show(stream.pressure, 'pressure', plan.units)}, "
                f"{100 * share:.0f} % of what it moves with nothing joined to it.{_spare(plan, stream)}{why}"
            ),
            limit=STALLED * stream.free_flow,
            method="crossing of fan curve and network",
            widest="pressure losses and fan curve",
        )


def _spare(plan: Plan, stream: Stream) -> str:
    """What the fan would have left over, or lack, at the flow that its runs should carry."""
    if stream.wanted is None or stream.spare is None:
        return ""
    flow, left = flow_words(plan, stream.wanted), show(abs(stream.spare), "pressure", plan.units)
    would = f"have about {left} left over" if stream.spare >= 0 else f"lack about {left}"
    return f" At the wanted {flow} it would {would}."


def _fan_verdict(plan: Plan, stream: Stream) -> tuple[Standing, str]:
    if stream.flow < STALLED * stream.free_flow:
        return "stop", " It is dead-headed: the air has no way out (or in). Open a path back or relieve the room."
    several = [point for point in stream.crossings if point.stable]
    if len(stream.crossings) > 1:
        flows = ", ".join(
            f"{flow_words(plan, p.flow)} ({'stable' if p.stable else 'unstable'})" for p in stream.crossings
        )
        return "likely missed", f" Its humped curve meets the network at {len(stream.crossings)} points: {flows}." + (
            " It may hunt between them: change the resistance or the fan." if len(several) > 1 else ""
        )
    return "note", " The curve had to be extended beyond its points." if stream.extended else ""


def pressure_findings(plan: Plan, mode: str, pressures: tuple[RoomPressure, ...]) -> Iterator[Finding]:
    """Room pressure and door force."""
    for each in pressures:
        verdict: Standing = "missed" if each.force > each.limit else "note"
        says = "over" if each.pressure >= 0 else "under"
        advice = " Give the air a way round the door." if verdict == "missed" else ""
        yield Finding(
            subject=each.room,
            question="pressure",
            mode=mode,
            standing=verdict,
            value=each.force,
            limit=each.limit,
            unit="N",
            sentence=(
                f"{plan.place_name(each.room)} stands {show(abs(each.pressure), 'pressure', plan.units)} {says} "
                f"outdoors, which adds {each.force:.0f} N at the door handle (limit {each.limit:.0f} N; local code "
                f"rules).{advice}"
            ),
            method="IBC equation 9-1 on the door's moment",
        )


def speed_findings(plan: Plan, speeds: tuple[Speed, ...], mode: str) -> Iterator[Finding]:
    """Openings where the air is faster than suits the room's target."""
    for speed in speeds:
        if speed.limit is not None and speed.velocity > speed.limit:
            yield Finding(
                subject=speed.run,
                question="air speed",
                mode=mode,
                standing="note",
                value=speed.velocity,
                limit=speed.limit,
                unit="m/s",
                sentence=(
                    f"{speed.run}: {show(speed.velocity, 'velocity', plan.units)} in the {_where(speed)}, faster than "
                    f"the {show(speed.limit, 'velocity', plan.units)} that suits the room's target; its "
                    "noise is in the figure above."
                ),
                method="published table of opening speeds by criterion",
            )


def _where(speed: Speed) -> str:
    return speed.station if speed.place == speed.station else f"{speed.place} of the {speed.station}"


def balance_findings(plan: Plan, branches: tuple[balance.Branch, ...]) -> Iterator[Finding]:
    """Arms that need a damper to keep to their wanted flows."""
    for branch in branches:
        if branch.surplus > 1.0:
            yield Finding(
                subject=branch.run,
                question="balance",
                mode="",
                standing="note",
                value=branch.surplus,
                unit="Pa",
                sentence=(
                    f"{branch.run} has {show(branch.surplus, 'pressure', plan.units)} to spare at its wanted flow: a "
                    f"damper there, on the fan's side of any box, must turn about {branch.angle:.0f}°."
                ),
                method="pressure lost by each arm of the junction at wanted flows",
            )


def isolation_findings(plan: Plan, pairs: tuple[Isolation, ...]) -> Iterator[Finding]:
    """Whether the ducts spoil the shell between two rooms; each pair once, the worse way round."""
    seen: dict[frozenset[str], Isolation] = {}
    for pair in pairs:
        if pair.lead is None:
            continue
        key = frozenset((pair.source, pair.receiver))
        if key not in seen or np.nanmin(pair.lead[1:]) < np.nanmin(_lead(seen[key])[1:]):
            seen[key] = pair
    for pair in seen.values():
        lead = _lead(pair)
        worst = int(np.nanargmin(lead[1:])) + 1
        gap = float(lead[worst])
        names = f"{plan.place_name(pair.source)} to {plan.place_name(pair.receiver)}"
        spread = float(pair.spread[worst])
        sentence = _isolation_words(names, pair, lead, worst, gap)
        yield Finding(
            subject=pair.source,
            question="isolation",
            mode="",
            standing="note" if gap >= MARGIN else "likely missed",
            value=gap,
            low=gap - spread,
            high=gap + spread,
            limit=MARGIN,
            unit="dB",
            sentence=sentence,
            method="level difference by ducts and by shell, rooms taken as diffuse",
            widest=pair.widest[worst],
        )


def _lead(pair: Isolation) -> Bands:
    assert pair.lead is not None
    return pair.lead


def _isolation_words(names: str, pair: Isolation, lead: Bands, worst: int, gap: float) -> str:
    if gap >= MARGIN:
        return f"{names}: the ducts lose at least {gap:.0f} dB more than the shell in every band: they cost it nothing."
    via = min(pair.ways, key=lambda way: float(np.nan_to_num(way[1][worst], nan=999.0)))[0]
    weak = [band_name(band) for band in range(1, 9) if lead[band] < MARGIN]
    how = f"{-gap:.0f} dB weaker than" if gap < 0 else f"only {gap:.0f} dB better than"
    return (
        f"{names}: at {band_name(worst)} the ducts are {how} the shell, by way of {via}; "
        f"they cost it more than half a decibel at {', '.join(weak)}."
    )
