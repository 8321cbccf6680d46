"""Diffuse sound through one leaf, wave by wave: mass, bending, shear, damping, finite size and own modes."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sordino.bands import Array
from sordino.physics.sound.customary import DENSITY, SPEED_OF_SOUND
from sordino.physics.sound.panel_radiation import forced_radiation_efficiency, resonant_radiation_efficiency

RHO_C = DENSITY * SPEED_OF_SOUND
AZIMUTHS = (np.arange(6) + 0.5) / 6.0 * np.pi / 4.0
"""Directions in the sheet, from its grain to the diagonal, rad."""

NEAR_MATCH, NEAR_GRAZING = 101, 91
"""Nodes of the quadrature over angles about coincidence and towards grazing; twice as many change 0.03 dB."""

Sides = tuple[float, float]
"""Width and height of a panel, m."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Leaf:
    """A leaf as sound sees it: surface mass kg/m2, critical frequency along the grain Hz, loss factor.

    Above the shear frequency (Hz) the leaf gives way in shear rather than bending; `diagonal` is the bending
    stiffness at 45 degrees to the grain over that along it; a sheet `in_reveal` is gripped inside an opening.
    """

    surface_mass: float
    critical_frequency: float
    loss_factor: float
    shear_frequency: float = np.inf
    diagonal: float = 1.0
    in_reveal: bool = False


def diffuse_transmission(f: Array, leaf: Leaf, size: Sides | None) -> Array:
    """Share of diffuse sound power that a leaf passes, (n,) for frequencies (n,); mean over directions in the sheet.

    Along a direction the stiffness is 1 - (1 - diagonal) sin^2 2phi of that along the grain (orthotropic plate of
    equal stiffness both ways).
    """
    if leaf.diagonal == 1.0:
        return _transmission(f, leaf, size)
    softness = 1.0 - (1.0 - leaf.diagonal) * np.sin(2.0 * AZIMUTHS) ** 2
    return np.mean([_transmission(f, _softer(leaf, float(share)), size) for share in softness], axis=0)


def first_mode(leaf: Leaf, size: Sides) -> float:
    """First mode of a leaf held at its edges, c^2/(4 f_c) (1/w^2 + 1/h^2), Hz (EN 12354-1:2000, B.3)."""
    return SPEED_OF_SOUND**2 / (4.0 * leaf.critical_frequency) * (size[0] ** -2.0 + size[1] ** -2.0)


def bending_stiffness(leaf: Leaf) -> float:
    """Of a leaf, m (c^2 / 2 pi f_c)^2, mean over the directions in the sheet, N m; shear left out."""
    return leaf.surface_mass * (SPEED_OF_SOUND**2 / (2.0 * np.pi * leaf.critical_frequency)) ** 2 * _mean_softness(leaf)


def _mean_softness(leaf: Leaf) -> float:
    """Mean of 1 - (1 - diagonal) sin^2 2phi."""
    return (1.0 + leaf.diagonal) / 2.0


def _softer(leaf: Leaf, share: float) -> Leaf:
    """The leaf with a share of its bending stiffness and the same shear stiffness."""
    root = np.sqrt(share)
    return replace(leaf, critical_frequency=leaf.critical_frequency / root, shear_frequency=leaf.shear_frequency / root)


def _transmission(f: Array, leaf: Leaf, size: Sides | None) -> Array:
    match = _coincidence(f, leaf)
    forced = _forced(f[:, None], leaf, match, size)
    return np.minimum(forced if size is None else forced + _resonant(f, leaf, match, size), 1.0)


def _coincidence(f: Array, leaf: Leaf) -> Array:
    """sin^2 of the angle where sound and bending wave run together, above one below coincidence, (n,).

    Solves (f/f_c)^2 x^2 = 1 + (f/f_s)^2 x.
    """
    bend, shear = (f / leaf.critical_frequency) ** 2, (f / leaf.shear_frequency) ** 2
    return (shear + np.sqrt(shear**2 + 4.0 * bend)) / (2.0 * bend)


def _forced(f: Array, leaf: Leaf, match: Array, size: Sides | None) -> Array:
    """int 4 (rho c)^2 s(x) / |Z(x) + 2 rho c s|^2 / cos dx over x = sin^2 theta (Davy 2009; endless: s = 1/cos).

    Z = j w m [1 - (f/f_c)^2 (1 + j eta) x^2 / (1 + (f/f_s)^2 x)] (Cremer 1942; shear as Mindlin 1951 without
    rotation), of a panel held at its edges less (f_1/f)^2 (1 + j eta).
    """
    x = _nodes(match[:, None], _width(f, leaf, match[:, None]))
    cos, loss = np.sqrt(1.0 - x), 1.0 + 1j * leaf.loss_factor
    bend = (f / leaf.critical_frequency) ** 2 * x**2 / (1.0 + (f / leaf.shear_frequency) ** 2 * x)
    edges = 0.0 if size is None else (first_mode(leaf, size) / f) ** 2
    impedance = 2j * np.pi * f * leaf.surface_mass * (1.0 - (bend + edges) * loss)
    s = 1.0 / cos if size is None else forced_radiation_efficiency(f, cos, *size)
    return np.trapezoid(4.0 * RHO_C**2 * s / cos / np.abs(impedance + 2.0 * RHO_C * s) ** 2, x, axis=-1)


def _width(f: Array, leaf: Leaf, match: Array) -> Array:
    """Reach of coincidence in sin^2 to either side: damping and radiation over the slope of the mismatch."""
    radiated = RHO_C / (np.pi * f * leaf.surface_mass * np.sqrt(1.0 - np.minimum(match, 0.99)))
    shear = (f / leaf.shear_frequency) ** 2 * match
    return np.maximum((leaf.loss_factor + radiated) * match * (1.0 + shear) / (2.0 + shear), 1e-5)


def _nodes(match: Array, width: Array) -> Array:
    """Places in 0..1 crowded where sound and bending wave match, and at grazing."""
    ends = [np.arcsinh((end - match) / width) for end in (0.0, 1.0)]
    peak = match + width * np.sinh(ends[0] + (ends[1] - ends[0]) * np.linspace(0.0, 1.0, NEAR_MATCH))
    grazing = np.broadcast_to(1.0 - np.geomspace(1.0, 1e-10, NEAR_GRAZING), (len(match), NEAR_GRAZING))
    return np.sort(np.clip(np.concatenate([peak, grazing], axis=-1), 0.0, 1.0 - 1e-10), axis=-1)


def _resonant(f: Array, leaf: Leaf, match: Array, size: Sides) -> Array:
    """What the panel's own modes pass below coincidence, (rho c / pi f m)^2 (w + h)^2/(w^2 + h^2) s^2/(lambda eta).

    EN 12354-1:2000 (B.2); faded by 1 - lambda^2, as at coincidence these waves are the forced ones.
    """
    ratio = np.minimum(match, 1e12) ** -0.5
    s = resonant_radiation_efficiency(f, ratio, *size)
    shape = (size[0] + size[1]) ** 2 / (size[0] ** 2 + size[1] ** 2)
    passed = (RHO_C / (np.pi * f * leaf.surface_mass)) ** 2 * shape * s**2 / (ratio * leaf.loss_factor)
    return passed * np.maximum(1.0 - ratio**2, 0.0)
