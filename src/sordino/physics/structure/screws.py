"""How hard a screw may be pulled out of the side grain of wood."""

from __future__ import annotations

from math import pi

from sordino.kinds import INCH, POUND
from sordino.physics.structure.timber import GRAVITY, load_duration

PER_INCH = POUND * GRAVITY / INCH
"""One pound-force on an inch of thread, N/m."""
BOLT = 69e6
"""Tension that a plain steel rod may bear on its thread's root, Pa: a quarter of 276 MPa (judgement)."""
ROOT = 0.75
"""Area at the root of a thread over that of its shank (judgement)."""


def lag_screw_withdrawal(gravity: float, diameter: float) -> float:
    """Pull per length of thread, W = 1800 G^1.5 D^0.75 lb/in, in N/m (National Design Specification 12.2-1).

    `gravity` 0.31 to 0.73; `diameter` of the shank in m, 6 to 32 mm. Side grain, the tapered tip left out, pilot holes.
    """
    return float(1800.0 * gravity**1.5 * (diameter / INCH) ** 0.75 * PER_INCH)


def wood_screw_withdrawal(gravity: float, diameter: float) -> float:
    """Pull per length of thread, W = 2850 G^2 D lb/in, in N/m (National Design Specification 12.2-2).

    `diameter` of the shank in m, number 6 to 24. Side grain only.
    """
    return float(2850.0 * gravity**2 * (diameter / INCH) * PER_INCH)


def held_by_thread(kind: str, gravity: float, diameter: float, thread: float) -> float:
    """What one screw with `thread` m of thread in the wood may carry for ever, W p CD, N; nought for drywall screws."""
    if kind == "drywall screw":
        return 0.0
    per_length = lag_screw_withdrawal if kind == "lag screw" else wood_screw_withdrawal
    return per_length(gravity, diameter) * thread * load_duration("permanent")


def held_by_rod(diameter: float) -> float:
    """What a threaded rod through the joist may carry, N; washers that crush wood are not looked at."""
    return float(BOLT * ROOT * pi / 4.0 * diameter**2)
