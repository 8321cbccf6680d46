"""The mixed-integer solver as the cut plans use it: with a time limit, and silent."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.bands import Array


@dataclass(frozen=True, kw_only=True, eq=False)
class Solved:
    """What the solver found: values of all variables, or None, and a bound that no solution beats."""

    values: Array | None
    bound: float
    proven: bool


@dataclass(frozen=True, kw_only=True, eq=False)
class Dual:
    """A linear programme's least cost and what one more of each row would cost."""

    cost: float
    prices: Array


@contextmanager
def silenced() -> Iterator[None]:
    """The solver's C code prints on file descriptor 1, which would spoil what a command prints there."""
    sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:  # there is no standard output to spoil
        yield
        return
    try:
        with open(os.devnull, "wb") as nowhere:
            os.dup2(nowhere.fileno(), 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)


def least(cost: Array, rows: Any, low: Array, high: Array, upper: Array, limit: float) -> Solved:
    """Least cost of whole numbers from 0 to `upper` with low <= rows x <= high, within `limit` seconds."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    with silenced():
        found = milp(
            cost,
            integrality=np.ones(len(cost)),
            bounds=Bounds(np.zeros(len(cost)), upper),
            constraints=LinearConstraint(rows, low, high),
            options={"time_limit": max(limit, 0.1)},
        )
    bound = getattr(found, "mip_dual_bound", None)
    return Solved(
        values=None if found.x is None else np.round(found.x),
        bound=-np.inf if bound is None else float(bound),
        proven=found.status in (0, 2),
    )


def covering_prices(cost: Array, columns: Array, demand: Array, counts: Array) -> Dual | None:
    """Prices of the rows `columns @ x >= demand` at least cost; None where no x holds.

    `counts` is a matrix of rows that limit how many sheets of each kind on hand may be used, its last column the limit.
    """
    from scipy.optimize import linprog

    rows = np.vstack([-columns, counts[:, :-1]]) if len(counts) else -columns
    limits = np.concatenate([-demand, counts[:, -1]]) if len(counts) else -demand
    with silenced():
        found = linprog(cost, A_ub=rows, b_ub=limits, method="highs")
    if found.x is None:
        return None
    return Dual(cost=float(found.fun), prices=-np.asarray(found.ineqlin.marginals))
