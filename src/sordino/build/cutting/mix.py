"""Which patterns to cut how often, so that every blank is had at least cost."""

from __future__ import annotations

import numpy as np

from sordino.build.cutting.blanks import Blank, without
from sordino.build.cutting.bound import pattern_costs, pattern_counts, pattern_limits
from sordino.build.cutting.solver import least
from sordino.build.cutting.stock import Kind, Solution, Used


def mixed(
    blanks: tuple[Blank, ...], kinds: tuple[Kind, ...], patterns: tuple[Used, ...], limit: float
) -> Solution | None:
    """The cheapest whole choice among the patterns, without blanks cut once too often; None if not found in time."""
    columns = list(patterns)
    demand = np.array([float(blank.count) for blank in blanks])
    owned = pattern_limits(columns, kinds)
    rows = np.vstack([pattern_counts(columns, blanks), owned[:, :-1]])
    low = np.concatenate([demand, np.zeros(len(owned))])
    high = np.concatenate([np.full(len(demand), np.inf), owned[:, -1]])
    # a little for each sheet, so that none on hand is taken in vain
    costs = pattern_costs(columns, kinds) * (1.0 + 1e-6) + 1e-6 * min(kind.cost for kind in kinds)
    found = least(costs, rows, low, high, np.full(len(columns), demand.sum()), limit).values
    return None if found is None else _trimmed(columns, found.astype(int).tolist(), blanks)


def _trimmed(columns: list[Used], times: list[int], blanks: tuple[Blank, ...]) -> Solution:
    """Sheets without what is too many."""
    chosen = [used for used, count in zip(columns, times, strict=True) for _ in range(count)]
    spare = {number: -blank.count for number, blank in enumerate(blanks)}
    for used in chosen:
        for number in used.block.held:
            spare[number] += 1
    left = (Used(kind=used.kind, block=without(used.block, spare)) for used in chosen)
    return tuple(used for used in left if used.block.length)
