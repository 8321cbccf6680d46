"""The handbook estimate of a box: lined passage, flexible duct and bends; what it does above the field's reach."""

from __future__ import annotations

import numpy as np

from sordino.bands import LINES, Array, Bands
from sordino.elements.box import Box
from sordino.elements.box_layout import Layout
from sordino.elements.lining import fibre_absorption
from sordino.physics.air.properties import Air
from sordino.physics.sound import ducts
from sordino.physics.sound.bends import Shape, bend
from sordino.physics.sound.flexible import flexible_duct
from sordino.physics.sound.plenum import plenum_wells
from sordino.quantities import Size


def estimate(box: Box, made: Layout, section: Size, air: Air) -> Bands:
    """Loss by handbook methods between matched ducts, dB, shape (9,); 31.5 Hz NaN."""
    if box.family == "plenum":
        return _plenum(box, made, section)
    size = made.narrowest.size
    if box.holds_duct:
        return np.asarray(flexible_duct(size.diameter, made.length)) + _turns(made, "smooth", False, air)
    thickness = max((lining.thickness for lining in box.linings), default=box.lining)
    lining = ducts.rectangular_lining(size.width, size.height, thickness)
    return np.asarray(lining) * made.length + _turns(made, "mitred", True, air)


def line_of_sight(box: Box, made: Layout, air: Air) -> Array:
    """Factor on a loss at LINES where sound can beam straight through: 1 up to c/d, then falling as 1/f.

    d is the lesser side of the passage (Piening's rule, VDI 2081; recalled). A folded passage has none.
    """
    if made.turns or box.family == "plenum":
        return np.ones_like(LINES)
    size = made.narrowest.size
    return np.minimum(1.0, air.sound_speed / min(size.width, size.height) / LINES)


def _turns(made: Layout, shape: Shape, lined: bool, air: Air) -> Bands:
    return made.turns * np.asarray(bend(made.narrowest.size.height, shape, lined, air.sound_speed))


def _plenum(box: Box, made: Layout, section: Size) -> Bands:
    (x0, y0, z0), (x1, y1, z1) = made.prism.ports[0].centre, made.prism.ports[1].centre
    aside = float(np.hypot(y1 - y0, z1 - z0))
    surface = 2.0 * (box.length * box.width + box.length * box.height + box.width * box.height)
    distance, angle = float(np.hypot(x1 - x0, aside)), float(np.arctan2(aside, abs(x1 - x0)))
    return np.asarray(plenum_wells(section.area, distance, angle, surface, fibre_absorption(box.lining)))
