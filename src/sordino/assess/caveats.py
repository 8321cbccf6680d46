"""What a reader should know of the data behind an assessment: guesses, extensions and risky parts."""

from __future__ import annotations

from collections.abc import Iterator

from sordino.assess.airflow import AirState
from sordino.assess.finding import Finding
from sordino.assess.sources import port_power
from sordino.assess.wording import flow_words
from sordino.elements.buildup import leaves
from sordino.elements.element import Element
from sordino.elements.grille import Grille
from sordino.plan.statement import Plan

NEAR_ENOUGH = 0.02
"""How far a fitted flow may be off what was measured."""


def measured_findings(plan: Plan, states: dict[tuple[str, str], AirState]) -> Iterator[Finding]:
    """Each run whose flow was measured, in the filters' state of its mode: what was predicted, what it comes to."""
    for mode, setting in plan.mode.items():
        state = states[mode, setting.filters]
        for name, fitted in state.measured.items():
            yield Finding(
                subject=name,
                question="data",
                mode=mode,
                standing="note",
                value=state.flows[name],
                unit="m3/s",
                sentence=f"{name}: {flow_words(plan, fitted.wanted)} as measured; {_beside(plan, name, state)}",
            )


def _beside(plan: Plan, name: str, state: AirState) -> str:
    fitted, flow = state.measured[name], state.flows[name]
    was = f"{flow_words(plan, fitted.unfitted)} was predicted"
    if abs(flow / fitted.wanted - 1.0) > NEAR_ENOUGH:
        taken = flow_words(plan, flow)
        return f"{was}, and no loss of this run makes it so: {taken} is taken. Look at the fan's speed."
    return f"{was}, so its pressure loss is taken {fitted.factor:.2g} times as high as predicted."


def data_findings(plan: Plan) -> Iterator[Finding]:
    """What a reader should know of the data: guesses, extensions and risky parts, each once."""
    told: set[str] = set()
    for name, run in plan.run.items():
        for part in run.parts:
            for note in part.notes():
                if note not in told and not _told_as_a_stop(plan, name, part):
                    told.add(note)
                    yield Finding(
                        subject=name,
                        question="data",
                        mode="",
                        standing="note",
                        sentence=f"{part.label()} in {name}: {note}.",
                        method="what the part says of itself",
                    )
    for name, mover in plan.mover.items():
        notes = (port_power(name, mover, port, 1.0).note for port in (*mover.ports, "casing"))
        for note in dict.fromkeys(filter(None, notes)):
            sentence = f"{plan.place_name(name)}: {note}."
            yield Finding(subject=name, question="data", mode="", standing="note", sentence=sentence)
    for name, shell in plan.shell.items():
        if shell.layers is not None and len(leaves(shell.layers)) > 2:
            sentence = (
                f"Shell {name} has more than two leaves: it is rated by the outer two and the whole cavity between, "
                "which reads several decibels too good where the middle leaf resonates (63 to 250 Hz)."
            )
            yield Finding(subject=name, question="data", mode="", standing="note", sentence=sentence)


def _told_as_a_stop(plan: Plan, name: str, part: Element) -> bool:
    """Whether it is a damper in a grille of a room, which `ends` tells of."""
    run = plan.run[name]
    at_room = (run.start in plan.room and part is run.parts[0]) or (run.end in plan.room and part is run.parts[-1])
    return isinstance(part, Grille) and part.damper and at_room
