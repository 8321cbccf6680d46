"""To which leaf of which shell each box is tied, and what joins leaves that must stay apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sordino.assess.finding import Finding
from sordino.elements.buildup import leaves
from sordino.plan.statement import Plan
from sordino.units import show


@dataclass(frozen=True, kw_only=True, slots=True)
class Joint:
    """One thing that joins a box to a leaf."""

    key: str
    shell: str
    leaf: int
    by: str
    rigid: bool


def joints(plan: Plan) -> tuple[Joint, ...]:
    """Every tie, and every hanger in joists that belong to a leaf: rigid unless isolators carry it."""
    return tuple(found for key in plan.stand for found in _joints_of(plan, key))


def _joints_of(plan: Plan, key: str) -> Iterator[Joint]:
    stand = plan.stand[key]
    for tie in stand.ties:
        yield Joint(key=key, shell=tie.shell, leaf=tie.leaf, by=tie.by, rigid=tie.rigid)
    hung = stand.hung
    part_of = plan.joists[hung.joists].part_of if hung is not None else None
    if hung is not None and part_of is not None:
        soft = hung.deflection is not None
        by = f"{'isolated' if soft else 'stiff'} hangers in {hung.joists}"
        yield Joint(key=key, shell=part_of.shell, leaf=part_of.leaf, by=by, rigid=not soft)


def bridge_findings(plan: Plan, found: tuple[Joint, ...]) -> Iterator[Finding]:
    """For each box and shell: what it is tied to, and an error where it joins two leaves stiffly."""
    for key, shell in dict.fromkeys((joint.key, joint.shell) for joint in found):
        mine = [joint for joint in found if (joint.key, joint.shell) == (key, shell)]
        stiff = sorted({joint.leaf for joint in mine if joint.rigid})
        bridged = len(stiff) > 1
        words = "; ".join(f"leaf {joint.leaf}{_mass(plan, joint)} by {joint.by}" for joint in mine)
        fault = f" It joins leaves {' and '.join(map(str, stiff))} stiffly: a bridge that undoes the gap between them."
        yield Finding(
            subject=key,
            question="bridge",
            mode="",
            standing="missed" if bridged else "met",
            value=float(len(stiff)),
            limit=1.0,
            unit="leaves joined stiffly",
            sentence=f"{key} is tied to shell {shell}: {words}.{fault if bridged else ''}",
            method="what is stated of its ties and hangers",
            widest="what is really screwed to what",
        )


def _mass(plan: Plan, joint: Joint) -> str:
    layers = plan.shell[joint.shell].layers
    if layers is None:
        return ""
    leaf = leaves(layers)[joint.leaf - 1]
    return f" ({show(leaf.surface_mass, 'surface mass', plan.units)})"
