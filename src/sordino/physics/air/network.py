"""The balance of air between rooms, junctions and spaces of known pressure, all movers running at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.air.crossings import Crossing, crossings_on
from sordino.physics.air.humps import falling_cover, free_flow
from sordino.physics.air.newton import Balance, Branch, balance, link_branch

Curve = Callable[[float], float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Link:
    """A passive way for air: loss(Q) = p_start - p_end in Pa, odd and rising in Q (m3/s, start to end)."""

    name: str
    start: str
    end: str
    loss: Curve
    slope: Curve | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Drive:
    """A mover: rise(Q) = p_end - p_start in Pa at Q (m3/s, start to end), which may have humps.

    `slope` is that of the rise, if known. `humped=False` states that the rise never grows with
    flow and saves a scan.
    """

    name: str
    start: str
    end: str
    rise: Curve
    slope: Curve | None = None
    humped: bool | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Flows:
    """A balanced network: flow of every link and drive in m3/s, pressure of every node in Pa.

    `residual` in Pa and `imbalance` in m3/s are the largest errors left.
    """

    flows: dict[str, float]
    pressures: dict[str, float]
    residual: float
    imbalance: float


@dataclass(frozen=True, slots=True)
class _Frame:
    """Nodes and incidence of a network in matrix form."""

    names: tuple[str, ...]
    free: tuple[str, ...]
    incidence: Array
    given: Array


def solve(
    fixed: Mapping[str, float],
    links: Sequence[Link],
    drives: Sequence[Drive],
    start: Mapping[str, float] | None = None,
    supplied: Mapping[str, float] | None = None,
) -> Flows:
    """Flows and pressures at which every branch's pressures agree and no air is lost at any free node.

    `fixed`: pressures of nodes that are known, Pa; `start`: flows to begin from, m3/s; `supplied`: air put
    into free nodes from elsewhere, m3/s. A humped drive settles on its high-flow side where the network lets
    it, else on the stable point left of the hump. Raises OutOfRange where a part hangs on no known pressure
    or nothing settles.
    """
    frame = _frame(fixed, [*links, *drives])
    air = np.array([(supplied or {}).get(node, 0.0) for node in frame.free])
    passive = [link_branch(link.loss, link.slope) for link in links]
    widest = [free_flow(drive.rise) for drive in drives]
    covers = [_cover(drive, flow) for drive, flow in zip(drives, widest, strict=True)]
    true = [_mover(drive.rise, drive.slope, flow) for drive, flow in zip(drives, widest, strict=True)]
    lifted = [
        branch if cover is None else _mover(cover, None, flow)
        for branch, cover, flow in zip(true, covers, widest, strict=True)
    ]
    result = _run(frame, passive + lifted, air, start)
    if _stalled(drives, covers, result.flows[len(links) :].tolist()):
        result = balance(passive + true, frame.incidence, frame.given, air, result.flows)
    return _named(fixed, frame, result)


def _run(frame: _Frame, branches: list[Branch], air: Array, start: Mapping[str, float] | None) -> Balance:
    known = start or {}
    first = np.array([known.get(name, branch.first) for name, branch in zip(frame.names, branches, strict=True)])
    return balance(branches, frame.incidence, frame.given, air, first)


def _cover(drive: Drive, widest: float) -> Curve | None:
    return None if drive.humped is False or widest == 0 else falling_cover(drive.rise, widest)


def _mover(rise: Curve, slope: Curve | None, widest: float) -> Branch:
    least = max(1e-4 * rise(0.0) / widest, 1e-3) if widest else 1e-3
    return Branch(
        drop=lambda flow: -rise(flow),
        slope=None if slope is None else lambda flow: -slope(flow),
        least=least,
        first=0.5 * widest,
    )


def _stalled(drives: Sequence[Drive], covers: Sequence[Curve | None], flows: Sequence[float]) -> bool:
    """Whether some drive came to rest where its cover is not its curve."""
    rows = zip(drives, covers, flows, strict=True)
    return any(cover is not None and cover(q) > drive.rise(q) + 1e-9 for drive, cover, q in rows)


def _frame(fixed: Mapping[str, float], branches: Sequence[Link | Drive]) -> _Frame:
    names = tuple(branch.name for branch in branches)
    if len(set(names)) < len(names):
        raise OutOfRange("Two branches of the air network share a name; each needs its own.")
    nodes = dict.fromkeys(node for branch in branches for node in (branch.start, branch.end))
    free = tuple(node for node in nodes if node not in fixed)
    place = {node: i for i, node in enumerate(free)}
    incidence, given = np.zeros((len(branches), len(free))), np.zeros(len(branches))
    for row, branch in enumerate(branches):
        for node, sign in ((branch.start, 1.0), (branch.end, -1.0)):
            if node in place:
                incidence[row, place[node]] += sign
            else:
                given[row] += sign * fixed[node]
    return _Frame(names, free, incidence, given)


def _named(fixed: Mapping[str, float], frame: _Frame, result: Balance) -> Flows:
    return Flows(
        flows=dict(zip(frame.names, result.flows.tolist(), strict=True)),
        pressures={**fixed, **dict(zip(frame.free, result.pressures.tolist(), strict=True))},
        residual=result.residual,
        imbalance=result.imbalance,
    )


def operating_points(
    name: str,
    fixed: Mapping[str, float],
    links: Sequence[Link],
    drives: Sequence[Drive],
    samples: int = 40,
) -> tuple[Crossing, ...]:
    """Every flow at which the drive `name` and the network agree, in rising order, with its stability.

    The network's need is sampled from no flow to free delivery and each change of sign refined. A drive into
    a closed space has one point: no flow at its shut-off pressure.
    """
    drive = next(each for each in drives if each.name == name)
    others = [each for each in drives if each.name != name]
    if islands(fixed, [*links, *others], (drive.start, drive.end)):
        return (Crossing(flow=0.0, pressure=drive.rise(0.0), stable=True),)
    last: dict[str, float] = {}

    def need(flow: float) -> float:
        found = solve(fixed, links, others, last, _passed(drive, flow))
        last.update(found.flows)
        return found.pressures[drive.end] - found.pressures[drive.start]

    limit = 1.05 * max(free_flow(drive.rise), solve(fixed, links, drives).flows[name])
    return crossings_on([limit * i / samples for i in range(samples + 1)], drive.rise, need, 1e-4)


def _passed(drive: Drive, flow: float) -> dict[str, float]:
    """What a drive takes from one node and puts into the other, m3/s."""
    supplied = {drive.start: -flow}
    supplied[drive.end] = supplied.get(drive.end, 0.0) + flow
    return supplied


def islands(
    fixed: Mapping[str, float], branches: Sequence[Link | Drive], more: Iterable[str] = ()
) -> tuple[frozenset[str], ...]:
    """Groups of the nodes of `branches` and `more` that no branch joins to a fixed node, in order of
    naming."""
    group: dict[str, set[str]] = {}
    for node in [*(n for b in branches for n in (b.start, b.end)), *more]:
        group.setdefault(node, {node})
    for branch in branches:
        joined = group[branch.start] | group[branch.end]
        group.update(dict.fromkeys(joined, joined))
    loose = {id(nodes): nodes for nodes in group.values() if not nodes & fixed.keys()}
    return tuple(frozenset(nodes) for nodes in loose.values())
