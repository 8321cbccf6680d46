"""The equation of the box, assembled once: A(omega) = sum of factor_t(omega) T_t + sum over port modes of j
k_n b_n b_n^T.

div(rho0/rho grad p) + omega^2 rho0/K p = 0 in the weak form. The T_t are real, symmetric and know only
geometry: stiffness and mass of each fluid, the film's and each plate's pressure jump. What fills the box
enters through the factors alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from sordino.bands import Array
from sordino.errors import OutOfRange
from sordino.physics.wave.door import Door, door, joint_block
from sordino.physics.wave.grid import grid as grid_of
from sordino.physics.wave.interface import Block, film_block, plate_blocks
from sordino.physics.wave.leaves import Leaves, leaves
from sordino.physics.wave.porous import AIR, Fibre, Medium, fluid_air
from sordino.physics.wave.port import Mouth, hole, mouth, port_area
from sordino.physics.wave.prism import Port, Prism
from sordino.physics.wave.stub import slanting, stub
from sordino.physics.wave.volume import volume_values

MODE_REACH = 1.5
"""Port modes are kept up to this cut-on wavenumber times the cell size: about four cells to a wavelength."""
HOLE_REACH = 3.0
"""The same of the modes that join a box to a stub: with half as many the flow at the sharp edge is missed, with more
two holes in dense fibre hear one another by way of the cell between them."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Film:
    """The duct's core as a wall: areal mass kg/m2 and flow resistance Pa s/m, both loading normal motion
    only."""

    mass: float
    resistance: float = 0.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Filling:
    """What the geometry is filled with: the fibres in order, the film, and each divider's surface mass (inf
    is rigid)."""

    fibres: tuple[Fibre, ...] = ()
    film: Film | None = None
    plates: tuple[float, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Gate:
    """One port in the equation: its unknowns, mode integrals b (unknowns, modes), cut-ons, areas (whole,
    meshed), stub."""

    dofs: Array
    modes: Array
    cut_on: Array
    positions: Array
    area: float
    meshed: float
    stub: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Operator:
    """The terms over one sparsity pattern: `terms` (t, entries), rows by `indptr` and `indices`."""

    prism: Prism
    leaves: Leaves
    indptr: Array
    indices: Array
    terms: Array
    gates: tuple[Gate, Gate]

    @property
    def size(self) -> int:
        """Number of unknowns."""
        return len(self.indptr) - 1

    def sparse(self, data: Array) -> Any:
        """A matrix with this pattern."""
        from scipy.sparse import csc_matrix

        return csc_matrix((data, self.indices, self.indptr), shape=(self.size, self.size))


def operator(prism: Prism, size: float) -> Operator:
    """The operator of a prism on cells of about `size`, m."""
    parts = leaves(prism, grid_of(prism, size))
    volume = volume_values(prism, parts)
    blocks = [film_block(parts), *plate_blocks(prism, parts)]
    mouths = [mouth(prism, port, MODE_REACH / size, parts.grid.half) for port in prism.ports]
    doors = [door(prism, parts, number, one) for number, one in enumerate(mouths)]
    blocks += _joints(prism, parts, size)
    connections = [parts.connection, *(b.connection for b in blocks), *(d.dofs[None] for d in doors)]
    indptr, indices, places = _pattern(connections, parts.size)
    values = [(places[0], rows) for rows in volume]
    values += [(place, block.values) for place, block in zip(places[1:-2], blocks, strict=True)]
    terms = np.stack([np.bincount(place, rows.ravel(), len(indices)) for place, rows in values])
    first, second = (_gate(prism, *one) for one in zip(prism.ports, mouths, doors, places[-2:], strict=True))
    return Operator(prism=prism, leaves=parts, indptr=indptr, indices=indices, terms=terms, gates=(first, second))


def _joints(prism: Prism, parts: Leaves, size: float) -> list[Block]:
    """What joins the box to the stubs of slanting ducts."""
    blocks = []
    for number in parts.grid.stubs:
        port = prism.ports[number]
        drawn_out = float(np.cos(port.slant))  # the hole's modes are longer than the duct's by so much
        one = hole(prism, port, HOLE_REACH / size / drawn_out, parts.grid.half)
        blocks.append(joint_block(prism, parts, number, one))
    return blocks


def _gate(prism: Prism, port: Port, mouth: Mouth, door: Door, place: Array) -> Gate:
    """A meshed stub reaches out from the face; phases count from where the duct's axis meets it."""
    return Gate(
        dofs=door.dofs,
        modes=door.modes,
        cut_on=mouth.cut_on,
        positions=place.reshape(len(door.dofs), len(door.dofs)),
        area=port_area(port),
        meshed=mouth.area,
        stub=port.stub - stub(prism, port).reach,
    )


def _pattern(connections: list[Array], size: int) -> tuple[Array, Array, list[Array]]:
    """One pattern for all blocks (n, p) of unknowns: row pointers, columns, and each block's entries in
    it."""
    keys = [(one[:, :, None] * size + one[:, None, :]).ravel() for one in connections]
    unique, inverse = np.unique(np.concatenate(keys), return_inverse=True)
    indptr = np.searchsorted(unique, np.arange(size + 1) * size).astype(np.int32)
    places = np.split(inverse, np.cumsum([len(key) for key in keys])[:-1])
    return indptr, (unique % size).astype(np.int32), places


def factors(of: Operator, filling: Filling, frequency: Array, medium: Medium = AIR) -> Array:
    """The factor of each term at each frequency, (frequencies, terms)."""
    _fits(of, filling)
    omega = 2 * np.pi * np.asarray(frequency, float)
    fluids = [fluid_air(frequency, medium), *(fibre.fluid(frequency, medium) for fibre in filling.fibres)]
    fluids = fluids[: of.prism.fibres + 1]
    stiffness = [medium.density / fluid.density for fluid in fluids]
    mass = [-(omega**2) * medium.density / fluid.bulk_modulus for fluid in fluids]
    film = filling.film or Film(mass=np.inf)
    jump = medium.density * 1j * omega / (1j * omega * film.mass + film.resistance) if filling.film else 0 * omega
    plates = filling.plates or (np.inf,) * len(of.prism.dividers)
    joints = [1.0 + 0 * omega for _ in slanting(of.prism)]
    return np.stack([*stiffness, *mass, jump, *(medium.density / m + 0 * omega for m in plates), *joints], axis=-1)


def _fits(of: Operator, filling: Filling) -> None:
    if len(filling.fibres) < of.prism.fibres:
        raise OutOfRange(f"filling names {len(filling.fibres)} fibres; the regions ask for {of.prism.fibres}")
    if filling.plates and len(filling.plates) != len(of.prism.dividers):
        raise OutOfRange(f"filling names {len(filling.plates)} plates; there are {len(of.prism.dividers)} dividers")
    if any(mass <= 0 for mass in filling.plates):
        raise OutOfRange(f"a divider's surface mass is {min(filling.plates):g} kg/m2; it must be above 0")
    if filling.film is not None and filling.film.mass + filling.film.resistance <= 0:
        raise OutOfRange("a film needs a mass or a flow resistance; state the tube without a film if it has neither")
    if (filling.film is not None) != (of.prism.tube is not None and of.prism.tube.film):
        raise OutOfRange("a film belongs to a tube stated with one, and such a tube to a filling that gives its film")


def mode_wavenumbers(gate: Gate, frequency: Array, medium: Medium = AIR) -> Array:
    """j k_n of each port mode, k_n = sqrt(k^2 - k_c^2), decaying when cut off: (frequencies, modes)."""
    k = 2 * np.pi * np.asarray(frequency, float)[..., None] / medium.speed
    return np.sqrt(gate.cut_on**2 - k**2 + 0j)
