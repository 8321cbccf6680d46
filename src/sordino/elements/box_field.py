"""The box as a sound field: its two-port for every bracket of what is not known, and the pressure on its faces."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.bands import LINES, Array
from sordino.elements.box import Box
from sordino.elements.box_layout import layout
from sordino.physics.air.properties import Air
from sordino.physics.sound.sources import board
from sordino.physics.wave.fibre import SCATTER
from sordino.physics.wave.field import face_spectra, faces
from sordino.physics.wave.operator import Filling, Film, Operator, operator
from sordino.physics.wave.porous import Fibre, Medium
from sordino.physics.wave.prism import Prism
from sordino.physics.wave.reduced import Spectrum, spectrum
from sordino.physics.wave.refine import COARSER, grid_error
from sordino.physics.wave.twoport import TwoPort, four_pole, transmission_loss
from sordino.quantities import Size

VERSION = 4
"""Raise it when the computation changes, so that kept results are not used."""
LIVE, FINE = 0.05, 0.025
"""Cell sizes of the quick and of the checking grid, m."""
FEWEST_CELLS = 5
"""Cells across the least inside dimension, at the least."""
TOLERANCE, FLOOR = 0.05, 70.0
"""Error of the basis that is allowed where the loss is below FLOOR, dB."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """One bracket: whether the frame moves, the factor on flow resistivity, and whether dividers are rigid."""

    name: str
    limp: bool
    factor: float
    rigid_dividers: bool = False


CASES = (
    Case(name="rigid frame", limp=False, factor=1.0),
    Case(name="limp frame", limp=True, factor=1.0),
    Case(name="rigid frame, half the resistivity", limp=False, factor=1.0 - SCATTER),
    Case(name="rigid frame, half as much again", limp=False, factor=1.0 + SCATTER),
    Case(name="limp frame, half the resistivity", limp=True, factor=1.0 - SCATTER),
    Case(name="limp frame, half as much again", limp=True, factor=1.0 + SCATTER),
    Case(name="rigid frame and dividers", limp=False, factor=1.0, rigid_dividers=True),
)
HEADLINE = 2
"""How many of the cases, from the first, the headline is the lower of."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxField:
    """What the field says at frequencies (F,) in Hz, all of them below `limit`."""

    frequency: Array
    pole: Array
    """Four-pole of the case with the lower loss at each frequency, shape (F, 2, 2)."""
    losses: Array
    """Transmission loss of every case, dB, shape (cases, F)."""
    error: Array
    """Numerical error of the loss by the basis, dB, shape (F,)."""
    grid: Array
    """Its error by the grid, from one that is COARSER, dB, shape (F,); NaN unless all cases are solved."""
    faces: dict[str, tuple[float, Array]]
    """Each face's area m2 and mean |p|^2 over |p+|^2 for sound from each port, shape (F, 2)."""
    reflected: Array
    """Share of power sent back at each port, shape (F, 2)."""
    limit: float
    cell: float
    unknowns: int

    @property
    def loss(self) -> Array:
        """The headline: the lower loss of rigid and limp frame, dB, shape (F,)."""
        return self.losses[:HEADLINE].min(axis=0)

    @property
    def range(self) -> tuple[Array, Array]:
        """Least and most loss over all cases, dB."""
        return self.losses.min(axis=0), self.losses.max(axis=0)


def cell_size(box: Box, size: float) -> float:
    """Cells no larger than `size` and at least five across the least inside dimension, m."""
    return min(size, min(box.length, box.width, box.height) / FEWEST_CELLS)


def box_field(
    box: Box,
    section: Size,
    air: Air,
    size: float = LIVE,
    frequency: Array = LINES,
    cases: tuple[Case, ...] = CASES,
    give_up: Callable[[], object] = lambda: None,
) -> BoxField:
    """Solve a box for a run of that section on cells of about `size` m; raises Clash if it can't be laid out.

    `cases` begin with the two of the headline; fewer brackets give a narrower range. `give_up` is called before each
    of them, and ends the work by what it raises.
    """
    made = layout(box, section)
    medium = medium_of(air)
    of = operator(made.prism, cell_size(box, size))
    limit = _limit(of, medium)
    lines = frequency[frequency <= limit]
    found = _brackets(of, box, cases, lines, medium, give_up)
    losses = np.stack([transmission_loss(each.two_port) for each in found])
    lower = losses[:HEADLINE].argmin(axis=0)
    poles = np.stack([four_pole(each.two_port, medium) for each in found[:HEADLINE]])
    return BoxField(
        frequency=lines,
        pole=poles[lower, np.arange(lines.size)],
        losses=losses,
        error=np.max([each.error for each in found[:HEADLINE]], axis=0),
        grid=_grid_error(box, made.prism, size, losses, lines, medium),
        faces=found[0].faces,
        reflected=np.abs(np.diagonal(found[0].two_port.scattering, axis1=1, axis2=2)) ** 2,
        limit=limit,
        cell=cell_size(box, size),
        unknowns=of.size,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class _Bracket:
    """What is kept of one case: its two-port, the basis's error, and for the first case the pressure on the faces."""

    two_port: TwoPort
    error: Array
    faces: dict[str, tuple[float, Array]]


def _brackets(
    of: Operator,
    box: Box,
    cases: tuple[Case, ...],
    lines: Array,
    medium: Medium,
    give_up: Callable[[], object] = lambda: None,
) -> list[_Bracket]:
    """Every case, one frame after the other; the first of each lends its basis to the rest, whose fields are alike."""
    found = {}
    for limp in (False, True):
        start = None
        for case in (case for case in cases if case.limp == limp):
            give_up()
            one = spectrum(of, filling(box, case), lines, medium, TOLERANCE, FLOOR, start)
            start = start or one.projection
            pressures = _faces(of, one) if case == cases[0] else {}
            found[case.name] = _Bracket(two_port=one.two_port, error=one.error, faces=pressures)
    return [found[case.name] for case in cases]


def _grid_error(box: Box, prism: Prism, size: float, losses: Array, lines: Array, medium: Medium) -> Array:
    """What a coarser grid tells about the headline on cells of `size` m: the most of each line and its neighbours.

    A resonance moves from grid to grid, so at a single line two grids may agree by chance.
    """
    if len(losses) < len(CASES):
        return np.full(lines.size, np.nan)
    coarse = _brackets(operator(prism, COARSER * cell_size(box, size)), box, CASES[:HEADLINE], lines, medium)
    beside = np.min([transmission_loss(each.two_port) for each in coarse], axis=0)
    gap = np.pad(grid_error(losses[:HEADLINE].min(axis=0), beside), 1, mode="edge")
    return np.max([gap[:-2], gap[1:-1], gap[2:]], axis=0)


def medium_of(air: Air) -> Medium:
    """The air as the wave solver wants it."""
    return Medium(density=air.density, speed=air.sound_speed, viscosity=air.viscosity, pressure=air.pressure)


def filling(box: Box, case: Case) -> Filling:
    """What fills the box in one bracket."""
    fibre = Fibre(resistivity=box.fill.resistivity * case.factor, limp_density=box.fill.density if case.limp else None)
    count = len(box.dividers) if box.family == "custom" else box.passes - 1
    mass = np.inf if case.rigid_dividers else board(box.divider_board).density * box.divider
    film = Film(mass=box.core) if box.core is not None and box.holds_duct else None
    return Filling(fibres=(fibre,), film=film, plates=(mass,) * count)


def _limit(of: Operator, medium: Medium) -> float:
    from sordino.physics.wave.port import cut_on
    from sordino.physics.wave.twoport import TRUSTED

    return TRUSTED * min(cut_on(port, medium.speed) for port in of.prism.ports)


def _faces(of: Operator, solved: Spectrum) -> dict[str, tuple[float, Array]]:
    """Mean-square pressures by face; with half a box meshed a face's area counts twice, front and back once each."""
    double = 2.0 if of.leaves.grid.half else 1.0
    pressures = face_spectra(of, solved)
    return {
        name: (face.area * (1.0 if name in ("front", "back") else double), pressures[name])
        for name, face in faces(of).items()
    }


def plain(field: BoxField) -> dict[str, Any]:
    """The field as plain values, for keeping."""
    return {
        "frequency": field.frequency.tolist(),
        "pole": [field.pole.real.tolist(), field.pole.imag.tolist()],
        "losses": field.losses.tolist(),
        "error": field.error.tolist(),
        "grid": field.grid.tolist(),
        "faces": {name: [area, values.tolist()] for name, (area, values) in field.faces.items()},
        "reflected": field.reflected.tolist(),
        "limit": field.limit,
        "cell": field.cell,
        "unknowns": field.unknowns,
    }


def from_plain(kept: dict[str, Any]) -> BoxField:
    """The field from its plain values."""
    real, imaginary = (np.array(part) for part in kept["pole"])
    return BoxField(
        frequency=np.array(kept["frequency"]),
        pole=real + 1j * imaginary,
        losses=np.array(kept["losses"]),
        error=np.array(kept["error"]),
        grid=np.array(kept["grid"]),
        faces={name: (area, np.array(values)) for name, (area, values) in kept["faces"].items()},
        reflected=np.array(kept["reflected"]),
        limit=kept["limit"],
        cell=kept["cell"],
        unknowns=kept["unknowns"],
    )
