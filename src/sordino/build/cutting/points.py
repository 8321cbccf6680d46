"""Where cuts can lie: sums of blanks' sides, or a coarser raster where these are too many."""

from __future__ import annotations

import numpy as np

from sordino.bands import Array


def sums(sides: list[tuple[int, int]], limit: int) -> Array:
    """All sums up to `limit` of sides, each with how often it may be used, from 0; and `limit` itself."""
    reach = np.zeros(limit + 1, dtype=bool)
    reach[0] = True
    for side, count in sides:
        for _ in range(min(count, limit // side)):
            grown = reach.copy()
            grown[side:] |= reach[: limit + 1 - side]
            if (grown == reach).all():
                break
            reach = grown
    reach[limit] = True
    return np.flatnonzero(reach)
