"""One well-mixed room: how a gas rises, where it settles, how long it takes to a level.

dC/dt = 1e6 G/V - (C - Cout) Q/V, with C in ppm, G m3/s of the gas, Q m3/s of outdoor air, V m3.
"""

from __future__ import annotations

import math

from sordino.physics.climate.people import OUTDOORS


def settled(generation: float, flow: float, outdoors: float = OUTDOORS) -> float:
    """Level that a room tends to, ppm; endless without a flow: Cout + 1e6 G/Q."""
    return outdoors + 1e6 * generation / flow if flow > 0.0 else math.inf


def time_to(
    limit: float, generation: float, flow: float, volume: float, start: float = OUTDOORS, outdoors: float = OUTDOORS
) -> float:
    """Seconds until a level in ppm is reached; endless if it never is, 0 if it is passed already."""
    if start >= limit:
        return 0.0
    end = settled(generation, flow, outdoors)
    if end <= limit or generation <= 0.0:
        return math.inf
    if flow <= 0.0:
        return (limit - start) * volume / (1e6 * generation)
    return volume / flow * math.log((end - start) / (end - limit))


def flow_for(limit: float, generation: float, outdoors: float = OUTDOORS) -> float:
    """Outdoor air that holds a level for good, m3/s: 1e6 G / (C - Cout)."""
    return 1e6 * generation / (limit - outdoors) if limit > outdoors else math.inf
