"""The sound field of a box over its middle section, at chosen frequencies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.elements.box import Box
from sordino.elements.box_field import CASES, HEADLINE, LIVE, Case, cell_size, filling, medium_of
from sordino.elements.box_layout import Layout, layout
from sordino.physics.air.properties import Air
from sordino.physics.wave.field import middle_slice
from sordino.physics.wave.operator import Operator, operator
from sordino.physics.wave.porous import Medium
from sordino.physics.wave.solve import fields, loads, two_port
from sordino.physics.wave.twoport import transmission_loss
from sordino.quantities import Size

FINEST = 240
"""Points along the box."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FieldSlice:
    """Level re the wave arriving at the inlet, dB, in the middle of the width, shape (z, x); NaN in dividers."""

    frequency: float
    loss: float
    case: str
    """The bracket that is drawn: the headline's at this frequency."""
    x: Array
    z: Array
    level: Array


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxPicture:
    """A laid-out box with its field at some frequencies."""

    box: Box
    section: Size
    made: Layout
    slices: tuple[FieldSlice, ...]


def box_picture(box: Box, section: Size, air: Air, frequencies: tuple[float, ...], size: float = LIVE) -> BoxPicture:
    """Solve a box in full at each frequency, Hz, on cells of about `size` m."""
    made, medium = layout(box, section), medium_of(air)
    of = operator(made.prism, cell_size(box, size))
    slices = tuple(_slice(of, box, frequency, medium) for frequency in frequencies)
    return BoxPicture(box=box, section=section, made=made, slices=slices)


def _slice(of: Operator, box: Box, frequency: float, medium: Medium) -> FieldSlice:
    solved = [_solved(of, box, case, frequency, medium) for case in CASES[:HEADLINE]]
    lower = int(np.argmin([loss for loss, _ in solved]))
    loss, solution = solved[lower]
    seen = middle_slice(of, solution, FINEST)
    level = 20.0 * np.log10(np.maximum(np.abs(seen.pressure[0]), 1e-6))
    return FieldSlice(frequency=frequency, loss=loss, case=CASES[lower].name, x=seen.x, z=seen.z, level=level)


def _solved(of: Operator, box: Box, case: Case, frequency: float, medium: Medium) -> tuple[float, Array]:
    solution = fields(of, filling(box, case), frequency, medium)
    found = two_port(of, (loads(of).T @ solution)[None], np.array([frequency]), medium)
    return float(transmission_loss(found)[0]), solution
