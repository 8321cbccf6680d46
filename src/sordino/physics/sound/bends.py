"""Attenuation of bends and elbows."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import CENTRES, Bands
from sordino.kinds import INCH
from sordino.physics.sound.customary import SPEED_OF_SOUND
from sordino.tables import table

Shape = Literal["mitred", "vaned", "smooth"]


def bend(width: ArrayLike, shape: Shape, lined: bool, c: float = SPEED_OF_SOUND) -> Bands:
    """Insertion loss of a 90 degree bend, dB, in steps of frequency times width at exact midbands (ASHRAE).

    Width in the plane of the bend (diameter if round) in m. "Lined" asks for lining of a tenth of the width
    or more over two widths before and after. Warmer air moves the steps up with the speed of sound c, m/s.
    """
    listed = table("sound/bends")
    row = listed.rows[_place(shape, lined)]
    edges = np.array([float(edge) for edge in listed.columns[2:]]) * 1000.0 * INCH * c / SPEED_OF_SOUND
    steps = np.searchsorted(edges, np.asarray(width, float)[..., None] * CENTRES, side="right") - 1
    return np.array([float(value) for value in row[2:]])[np.maximum(steps, 0)]


def _place(shape: Shape, lined: bool) -> int:
    """The row of the table for a shape and its lining."""
    listed = table("sound/bends")
    wanted = (shape, "lined" if lined else "unlined")
    return [row[:2] for row in listed.rows].index(wanted)
