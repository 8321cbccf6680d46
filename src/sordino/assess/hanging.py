"""What hangs from joists: load on each hanger, bending and sag of the joists, isolators against the fan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import numpy as np

from sordino.assess.finding import Finding, standing
from sordino.assess.weight import PLANNING, Weight, mass, scatter
from sordino.bands import Array
from sordino.physics.structure import isolators
from sordino.physics.structure.centre import hanger_shares
from sordino.physics.structure.joists import Load, moment, sag, second_moment, section_modulus
from sordino.physics.structure.screws import held_by_rod, held_by_thread
from sordino.physics.structure.timber import GRAVITY, TOGETHER, allowed_bending, lumber
from sordino.plan.hanging import Hung, Joists
from sordino.plan.statement import Plan
from sordino.units import show

SAG = 240.0
"""Share of the span that ceiling joists may sag: L/240 in the model code's tables, here with all that hangs."""
LOW = 3.0
"""How many times the fan's lowest speed should be over the hangers' own (common practice, no source)."""
RUBBER = 2.0
"""Stiffness of rubber in motion over that at rest, at most (recalled)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hang:
    """One thing that hangs: mass kg, share and load of the most loaded hanger, what a hanger may carry, N."""

    key: str
    joists: str
    mass: float
    loads: tuple[float, ...]
    """On each hanger, N."""
    may_carry: float
    ringing: float
    """Natural frequency on its isolators, Hz; NaN without."""
    passes: float
    """Share of the fan's shaking that they let through; NaN if its speed is not known."""

    @property
    def load(self) -> float:
        """On the most loaded hanger, N."""
        return max(self.loads)


@dataclass(frozen=True, kw_only=True, slots=True)
class Bearing:
    """One row of joists under all that hangs from it: stress over what is allowed, and sag over its limit, m."""

    joists: str
    hung: tuple[str, ...]
    used: float
    """Share of the bending stress that may stand, in the worse of the lasting load and the whole."""
    sag: float
    limit: float
    added: float
    """What hangs from them, spread over the ceiling that those joists carry, kg/m2."""


def hangs(plan: Plan, found: dict[str, Weight]) -> tuple[Hang, ...]:
    """Everything that is said to hang."""
    return tuple(
        _hang(plan, key, stand.hung, found[key])
        for key, stand in plan.stand.items()
        if stand.hung is not None and key in found
    )


def _hang(plan: Plan, key: str, hung: Hung, weight: Weight) -> Hang:
    whole = weight.whole + hung.extra
    loads = hanger_shares(hanger_places(weight, hung.hangers), np.array(weight.centre[:2])) * whole * GRAVITY
    ringing = float("nan") if hung.deflection is None else float(isolators.ringing_frequency(hung.deflection))
    damping = isolators.RUBBER if hung.rubber else isolators.SPRING
    passes = float(isolators.let_through(hung.turns / ringing, damping)) if hung.turns is not None else float("nan")
    return Hang(
        key=key,
        joists=hung.joists,
        mass=whole,
        loads=tuple(float(load) for load in loads),
        may_carry=hung.screws * _held(hung, plan.joists[hung.joists]),
        ringing=ringing,
        passes=passes,
    )


def hanger_places(weight: Weight, hangers: int) -> Array:
    """Two rows along the long edges of the underside, from end to end, m, shape (hangers, 2)."""
    length, width = (1.0 if np.isnan(side) else side for side in weight.outside[:2])
    along = np.linspace(0.0, length, hangers // 2) if hangers > 2 else np.array([length / 2.0])
    return np.array([(x, y) for x in along for y in (0.0, width)])


def _held(hung: Hung, joists: Joists) -> float:
    if hung.screw == "through rod":
        return held_by_rod(hung.diameter)
    thread = min(hung.thread, joists.depth)
    return held_by_thread(hung.screw, lumber(joists.wood).gravity, hung.diameter, thread)


def bearings(plan: Plan, found: tuple[Hang, ...]) -> tuple[Bearing, ...]:
    """Every row of joists that something hangs from; all of it counts as if on the same ones."""
    names = dict.fromkeys(hang.joists for hang in found)
    return tuple(_bearing(plan, name, tuple(hang for hang in found if hang.joists == name)) for name in names)


def _bearing(plan: Plan, name: str, found: tuple[Hang, ...]) -> Bearing:
    joists = plan.joists[name]
    loads = [_load_on_one(plan, hang, joists) for hang in found]
    modulus, inertia = lumber(joists.wood).modulus, second_moment(joists.width, joists.depth)
    lasting = _used(joists, joists.dead, loads, "permanent")
    whole = _used(joists, joists.dead + joists.live, loads, "ten years") if joists.live else lasting
    line = (joists.dead + joists.live) * GRAVITY * joists.spacing
    carried = {hang.key: hang.mass / max(_shared(plan, hang), 1) for hang in found}
    return Bearing(
        joists=name,
        hung=tuple(carried),
        used=max(lasting, whole),
        sag=sag(joists.span, line, loads, modulus, inertia),
        limit=joists.span / SAG,
        added=sum(carried.values()) / (joists.spacing * joists.span),
    )


def _shared(plan: Plan, hang: Hang) -> int:
    hung = plan.stand[hang.key].hung
    return hung.shared_by if hung is not None else 1


def _load_on_one(plan: Plan, hang: Hang, joists: Joists) -> Load:
    hung = plan.stand[hang.key].hung
    at = joists.span / 2.0 if hung is None or hung.at is None else hung.at
    return Load(force=hang.mass * GRAVITY / _shared(plan, hang), at=at)


def _used(joists: Joists, area_load: float, loads: list[Load], lasts: str) -> float:
    line = area_load * GRAVITY * joists.spacing
    stress = moment(joists.span, line, loads) / section_modulus(joists.width, joists.depth)
    return stress / allowed_bending(joists.wood, joists.depth, lasts, shared=joists.spacing <= TOGETHER)


def hanging_findings(plan: Plan, found: tuple[Hang, ...], under: tuple[Bearing, ...]) -> Iterator[Finding]:
    """Hangers, isolators, joists, and what must not be hung from at all."""
    for hang in found:
        yield _hanger_finding(plan, hang)
        if not np.isnan(hang.ringing):
            yield _isolator_finding(plan, hang)
    for bearing in under:
        yield from _joist_findings(plan, bearing)


def _hanger_finding(plan: Plan, hang: Hang) -> Finding:
    hung = plan.stand[hang.key].hung
    assert hung is not None, "only what hangs is asked"
    half = hang.load * hypot(scatter("mass"), scatter("thread"))
    low, high = hang.load - half, hang.load + half
    verdict = standing(hang.load, low, high, hang.may_carry)
    loose = hung.screw == "drywall screw"
    words = (
        ": drywall screws hold nothing up: stop and ask, and hang it from structural screws or rods."
        if loose
        else f" may carry {_newton(plan, hang.may_carry)} in {plan.joists[hang.joists].wood}."
    )
    lifts = " One hanger goes slack: its centre of mass lies outside them." if min(hang.loads) < 0.0 else ""
    return Finding(
        subject=hang.key,
        question="hanging",
        mode="",
        standing="stop" if loose else verdict,
        value=hang.load,
        low=low,
        high=high,
        limit=hang.may_carry,
        unit="N",
        sentence=(
            f"{hang.key}: {mass(plan, hang.mass)} on {len(hang.loads)} hangers, up to {_newton(plan, hang.load)} "
            f"({_newton(plan, low)} to {_newton(plan, high)}) on one; {_screws(plan, hung)}{words}{lifts} {PLANNING}"
        ),
        method="stiff box on equal hangers; thread in side grain, National Design Specification 12.2",
        widest="mass of the boards" if hung.extra == 0.0 else "mass of all that hangs",
    )


def _screws(plan: Plan, hung: Hung) -> str:
    """What each hanger is fixed with."""
    size = show(hung.diameter, "length", plan.units)
    many = f"{hung.screws} {hung.screw}s" if hung.screws > 1 else f"one {hung.screw}"
    bite = "" if hung.screw == "through rod" else f" with {show(hung.thread, 'length', plan.units)} of thread"
    return f"{many} of {size}{bite}"


def _newton(plan: Plan, force: float) -> str:
    return show(force, "force", plan.units)


def _isolator_finding(plan: Plan, hang: Hang) -> Finding:
    hung = plan.stand[hang.key].hung
    assert hung is not None, "only what hangs is asked"
    share = scatter("isolator") / 2.0
    low, high = hang.ringing * (1.0 - share), hang.ringing * (1.0 + share) * (RUBBER**0.5 if hung.rubber else 1.0)
    limit = hung.turns / LOW if hung.turns is not None else None
    words = f"{hang.key} rings at {hang.ringing:.1f} Hz ({low:.1f} to {high:.1f}) on its isolators"
    if hung.turns is not None:
        words += f"; of the fan's shaking at {hung.turns:.0f} Hz {100.0 * hang.passes:.0f} % goes through"
    return Finding(
        subject=hang.key,
        question="hanging",
        mode="",
        standing="note" if limit is None else standing(hang.ringing, low, high, limit),
        value=hang.ringing,
        low=low,
        high=high,
        limit=limit,
        unit="Hz",
        sentence=f"{words}. Isolators must hold it when they tear. {PLANNING}",
        method="one mass on springs; limit a third of the fan's lowest speed (common practice)",
        widest="stiffness of the rubber in motion" if hung.rubber else "deflection as rated",
    )


def _joist_findings(plan: Plan, bearing: Bearing) -> Iterator[Finding]:
    joists = plan.joists[bearing.joists]
    if joists.truss:
        yield _truss(plan, bearing)
    names = ", ".join(bearing.hung)
    spread = show(bearing.added, "surface mass", plan.units)
    share = scatter("mass")
    low, high = (100.0 * bearing.used * factor for factor in (1.0 - share, 1.0 + share))
    yield Finding(
        subject=bearing.joists,
        question="hanging",
        mode="",
        standing=standing(100.0 * bearing.used, low, high, 100.0),
        value=100.0 * bearing.used,
        low=low,
        high=high,
        limit=100.0,
        unit="%",
        sentence=(
            f"Joists {bearing.joists} with {names}: bent to {100.0 * bearing.used:.0f} % ({low:.0f} to {high:.0f}) of "
            f"what they may bear. What hangs from them is {spread} of the ceiling that they carry. {PLANNING}"
        ),
        method="joist on two bearings; stress by National Design Specification 4.3",
        widest="mass of what hangs",
    )
    half = scatter("modulus")
    most, least = bearing.sag / (1.0 - half), bearing.sag / (1.0 + half)
    at, one, other, limit = (_sagged(plan, value) for value in (bearing.sag, least, most, bearing.limit))
    yield Finding(
        subject=bearing.joists,
        question="hanging",
        mode="",
        standing=standing(bearing.sag, least, most, bearing.limit),
        value=bearing.sag,
        low=least,
        high=most,
        limit=bearing.limit,
        unit="m",
        sentence=f"Joists {bearing.joists} with {names} sag by {at} ({one} to {other}) of {limit}. {PLANNING}",
        method="elastic deflection under all that lies and hangs on them against span/240, creep left out",
        widest="stiffness of the wood",
    )


def _sagged(plan: Plan, value: float) -> str:
    return show(round(value, 4), "length", plan.units)


def _truss(plan: Plan, bearing: Bearing) -> Finding:
    return Finding(
        subject=bearing.joists,
        question="hanging",
        mode="",
        standing="stop",
        sentence=(
            f"Joists {bearing.joists} are bottom chords of trusses: stop and ask whoever designed them before hanging "
            f"{', '.join(bearing.hung)} there, and cut nothing. {PLANNING}"
        ),
        method="common practice, no source",
        widest="what the trusses were designed for",
    )
