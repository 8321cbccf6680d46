"""What room pressure does to a door."""

from __future__ import annotations

from sordino.physics.air.tabulated import Value
from sordino.tables import table


def opening_force(dp: Value, width: Value, height: Value, handle_offset: Value = 0.07) -> Value:
    """Force in N at the handle to start a hinged door against dp in Pa, dp A W / (2 (W - d)) (IBC eq. 9-1).

    Width, height and the handle's distance from the latch edge in m. Seals, latch and closer come on top.
    """
    return dp * width * height * width / (2.0 * (width - handle_offset))


def force_limit(limit: str = "set in motion") -> float:
    """A limit on the force at the handle in N by name, as in the table; local codes decide which applies."""
    return float(table("air/door_force").row("limit", limit)["force"])
