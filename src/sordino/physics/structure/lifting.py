"""What people may lift: the revised lifting equation, and how little teams add."""

from __future__ import annotations

import numpy as np

from sordino.tables import table

LOAD_CONSTANT = 23.0
"""kg, for the best of lifts."""
NEAREST, FARTHEST, HIGHEST, MOST_TWIST = 0.25, 0.63, 1.75, 135.0
"""Reach within and beyond which (m), height above which (m) and twist above which (degrees) the equation ends."""


def recommended_limit(reach: float, height: float, travel: float, twist: float, grip: str) -> float:
    """Mass that one person may lift, 23 HM VM DM AM FM CM kg, FM = 1 for a lift now and then (NIOSH 94-110).

    HM = 0.25/reach, VM = 1 - 0.3 |height - 0.75|, DM = 0.82 + 0.045/travel, AM = 1 - 0.0032 twist. `reach` hands before
    the ankles, `height` of the hands where they are, `travel` up or down, in m; `twist` degrees. Nought beyond 0.63 m
    of reach, 1.75 m of height or 135 degrees; a reach under 0.25 m and a travel under 0.25 m count as that.
    """
    if reach > FARTHEST or height > HIGHEST or twist > MOST_TWIST:
        return 0.0
    level = 1.0 - 0.3 * abs(height - 0.75)
    distance = min(0.82 + 0.045 / max(travel, 0.25), 1.0)
    hold = table("structure/grip").row("grip", grip)["low" if height < 0.75 else "high"]
    return float(
        LOAD_CONSTANT * NEAREST / max(reach, NEAREST) * level * distance * (1.0 - 0.0032 * twist) * float(hold)
    )


def team_limit(alone: float, persons: int) -> float:
    """What `persons` (1 to 4) may lift together, of each `alone` kg: two thirds of the sum for two, half for more."""
    rows = table("structure/team").numbers("persons", "share")
    return float(np.interp(persons, rows[:, 0], rows[:, 1]) * persons * alone)
