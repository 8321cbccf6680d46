"""What flows carry between well-mixed rooms, as a linear network: dx/dt = (M x + c - q x)/V + sources.

Rooms store; junctions and the ports of machines mix at once what enters them, or follow a recipe of their own (a
coil, a heat exchanger); places around have fixed values.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from sordino.bands import Array

STILL = 1e-12
LEAST = 1e-9
"""Flow below which nothing is carried, m3/s."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Carried:
    """A flow in m3/s from one node to another, along which the air goes."""

    source: str
    target: str
    flow: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Recipe:
    """What leaves a node: the weighted sum of what other nodes hold, and a constant."""

    weights: Mapping[str, float]
    constant: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Mixed:
    """Inflow to each room as `carried @ x + fixed` (m3/s times value), and the value at each mixing node likewise."""

    rooms: tuple[str, ...]
    carried: Array
    fixed: Array
    inflow: Array
    """All that flows into each room, m3/s, shape (rooms,)."""
    nodes: dict[str, tuple[Array, float]] = field(default_factory=dict)

    def at(self, node: str, values: Array) -> float:
        """What a mixing node holds when the rooms hold `values`."""
        row, constant = self.nodes[node]
        return float(row @ values + constant)

    def settled(self, sources: Array) -> Array:
        """Values of the rooms after all time, with sources in m3/s times value; rooms without inflow NaN."""
        whole = np.diag(self.inflow) - self.carried
        fed = self.inflow > LEAST
        found = np.full(len(self.rooms), np.nan)
        kept = np.flatnonzero(fed)
        if kept.size:
            found[kept] = np.linalg.lstsq(whole[np.ix_(kept, kept)], (self.fixed + sources)[kept], rcond=None)[0]
        return found


def mixed(
    rooms: tuple[str, ...],
    around: Mapping[str, float],
    flows: tuple[Carried, ...],
    recipes: Mapping[str, Recipe] | None = None,
    default: str = "",
) -> Mixed:
    """Join flows into one linear network.

    `around` holds the fixed values by place. A mixing node that nothing enters holds what `default` does.
    """
    passing = _passing(rooms, around, flows, recipes or {})
    entering: dict[str, list[Carried]] = {}
    for each in flows:
        entering.setdefault(each.target, []).append(each)
    shares = {node: _recipe(node, entering.get(node, []), recipes or {}, default) for node in passing}
    nodes = _solved(rooms, around, passing, shares)
    place = {room: index for index, room in enumerate(rooms)}
    carried, fixed = np.zeros((len(rooms), len(rooms))), np.zeros(len(rooms))
    inflow = np.zeros(len(rooms))
    for each in flows:
        if each.target in place:
            row, constant = _read(each.source, place, around, nodes)
            at = place[each.target]
            carried[at] += each.flow * row
            fixed[at] += each.flow * constant
            inflow[at] += each.flow
    return Mixed(rooms=rooms, carried=carried, fixed=fixed, inflow=inflow, nodes=nodes)


def _passing(
    rooms: tuple[str, ...], around: Mapping[str, float], flows: tuple[Carried, ...], recipes: Mapping[str, Recipe]
) -> tuple[str, ...]:
    met = [node for each in flows for node in (each.source, each.target)] + list(recipes)
    return tuple(dict.fromkeys(node for node in met if node not in rooms and node not in around))


def _recipe(node: str, entering: list[Carried], recipes: Mapping[str, Recipe], default: str) -> Recipe:
    if node in recipes:
        return recipes[node]
    whole = sum(each.flow for each in entering)
    if whole <= LEAST:
        return Recipe(weights={default: 1.0} if default else {})
    weights: dict[str, float] = {}
    for each in entering:
        weights[each.source] = weights.get(each.source, 0.0) + each.flow / whole
    return Recipe(weights=weights)


def _solved(
    rooms: tuple[str, ...], around: Mapping[str, float], passing: tuple[str, ...], shares: Mapping[str, Recipe]
) -> dict[str, tuple[Array, float]]:
    """Every mixing node in terms of the rooms: (I - W) n = R x + c."""
    at = {node: index for index, node in enumerate(passing)}
    place = {room: index for index, room in enumerate(rooms)}
    among, from_rooms = np.eye(len(passing)), np.zeros((len(passing), len(rooms)))
    constants = np.array([shares[node].constant for node in passing])
    for node, recipe in shares.items():
        for source, weight in recipe.weights.items():
            if source in at:
                among[at[node], at[source]] -= weight
            elif source in place:
                from_rooms[at[node], place[source]] += weight
            else:
                constants[at[node]] += weight * around[source]
    among += STILL * np.eye(len(passing))  # air that only goes round between machines holds nothing
    found = np.linalg.solve(among, np.column_stack([from_rooms, constants])) if passing else among
    return {node: (found[index, :-1], float(found[index, -1])) for node, index in at.items()}


def _read(
    node: str, place: Mapping[str, int], around: Mapping[str, float], nodes: Mapping[str, tuple[Array, float]]
) -> tuple[Array, float]:
    row = np.zeros(len(place))
    if node in place:
        row[place[node]] = 1.0
        return row, 0.0
    return nodes[node] if node in nodes else (row, around[node])


def course(rates: Array, constants: Array, start: Array, step: float, count: int) -> Array:
    """x at 0, step, ..., count step of dx/dt = A x + b, exact for any step: shape (count + 1, n).

    One matrix exponential of [[A, b], [0, 0]] step gives the step; its power of BLOCK carries whole blocks on.
    """
    size = start.size
    whole = np.zeros((size + 1, size + 1))
    whole[:size, :size], whole[:size, size] = rates, constants
    forward = exponential(whole * step)
    found = np.empty((count + 1, size + 1))
    found[0] = np.append(start, 1.0)
    first = min(BLOCK, count + 1)
    for index in range(1, first):
        found[index] = forward @ found[index - 1]
    jump = np.linalg.matrix_power(forward, BLOCK).T
    for at in range(BLOCK, count + 1, BLOCK):
        end = min(at + BLOCK, count + 1)
        found[at:end] = found[at - BLOCK : end - BLOCK] @ jump
    return found[:, :size]


BLOCK = 64
"""Steps that are taken one by one before whole blocks are."""
TERMS, SMALL = 9, 2.0**-6
"""Terms of the series, and the norm up to which they give all digits: SMALL^10/10! is under 1e-24."""


def exponential(matrix: Array) -> Array:
    """exp(A) of a small square matrix: the Taylor series of A/2^k, squared k times.

    Written here since the library's own costs more to load than a whole assessment takes; it agrees to 1e-12.
    """
    norm = float(np.abs(matrix).sum(axis=1).max())
    halvings = max(int(np.ceil(np.log2(norm / SMALL))), 0) if norm > 0.0 else 0
    scaled = matrix / 2.0**halvings
    whole = term = np.eye(matrix.shape[0])
    for order in range(1, TERMS + 1):
        term = term @ scaled / order
        whole = whole + term
    return np.asarray(np.linalg.matrix_power(whole, 2**halvings))
