"""Fibre linings: how much a thickness absorbs, and the boundary below which it can't."""

from __future__ import annotations

import numpy as np

from sordino.bands import CENTRES, Bands
from sordino.physics.sound.sources import absorption

REFERENCE, REFERENCE_THICKNESS = "mineral wool 50 mm 64 kg/m3", 0.05


def fibre_absorption(thickness: float) -> Bands:
    """Absorption of a lining `thickness` m deep on a rigid face, shape (9,), from that of 50 mm.

    A porous layer on a rigid face absorbs by its depth in wavelengths, so the curve shifts along frequency; the
    shift neglects that flow resistance grows with depth too (good to about 0.1 from 25 to 100 mm, judgement).
    """
    known = absorption(REFERENCE)
    return np.interp(np.log(CENTRES * thickness / REFERENCE_THICKNESS), np.log(CENTRES), known)
