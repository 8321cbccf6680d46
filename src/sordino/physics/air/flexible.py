"""What slack does to the friction of flexible duct."""

from __future__ import annotations

import numpy as np

from sordino.errors import OutOfRange
from sordino.kinds import INCH
from sordino.physics.air.tabulated import Value
from sordino.tables import table


def compression_factor(compression: Value, diameter: Value) -> Value:
    """Factor on the friction of the stretched duct, 1 + 0.58 r exp(-0.126 D), r in per cent, D in inches.

    Compression is 1 - installed length / stretched length, measured from 0 to 0.45 at 150 to 250 mm diameter
    (Abushakra, Walker and Sherman, HVAC&R Research 2004). Outside 0 to 0.6: OutOfRange. Diameter in m.
    """
    if np.any(np.asarray(compression) < 0) or np.any(np.asarray(compression) > 0.6):
        raise OutOfRange(f"compression is {compression}; flexible duct was measured from 0 to 0.45.")
    return 1.0 + 58.0 * compression * np.exp(-0.126 * diameter / INCH)


def pull(name: str) -> float:
    """Compression of a named pull: tight, ordinary or slack; another name is a KeyError that lists them."""
    return float(table("air/pull").row("pull", name)["compression"])
