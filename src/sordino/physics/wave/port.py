"""How a duct meets the box: its modes over the mouth, whatever the grid behind it.

In the duct p = sum of (a+ + a-) psi_n and the velocity into the box is (a+ - a-) k_n/(rho omega) psi_n; psi_n
has unit mean square over the mouth's area. The plane mode carries sound away with rho c, the others with an
impedance of their own.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import Array
from sordino.physics.wave.prism import Port, Prism
from sordino.physics.wave.stub import stub

RINGS = 24
"""Quadrature rings (and a third as many again around) over a round mouth: far finer than any grid behind
it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Mouth:
    """Points of the mouth (n, 3), the area of each (n,), the modes there (n, modes) and their cut-on
    wavenumbers."""

    points: Array
    areas: Array
    modes: Array
    cut_on: Array
    area: float


def port_area(port: Port) -> float:
    """Area of the duct, m2."""
    if port.diameter is not None:
        return np.pi * port.diameter**2 / 4
    along, other = port.sides or (0.0, 0.0)
    return along * other


def hole_area(port: Port) -> float:
    """Area of the hole that the duct needs in its face: larger at a slant, m2."""
    return port_area(port) / float(np.cos(port.slant))


def cut_on(port: Port, medium_speed: float, turned: bool = False) -> float:
    """Lowest frequency at which another mode than the plane one travels in the duct, Hz: 1.841 c/(pi d), or
    c/2 side.

    Centred sound in a profile turned about its axis sees only 3.832 c/(pi d).
    """
    from scipy.special import jnp_zeros

    if port.diameter is None:
        return medium_speed / (2 * max(port.sides or (np.inf,)))
    order = 0 if turned else 1
    return float(jnp_zeros(order, 1)[0]) * medium_speed / (np.pi * port.diameter)


def mouth(prism: Prism, port: Port, limit: float, half: bool) -> Mouth:
    """A port's mouth with every mode whose cut-on wavenumber is below `limit`, rad/m; only the front half if
    `half`."""
    if prism.turned:
        return _mouth_turned(port, prism.width, limit)
    base = stub(prism, port)
    if port.diameter is not None:
        radius, angle, areas = _disc(port.diameter / 2, half)
        flat = np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=-1)
        modes, wavenumbers = _round_modes(radius, angle, port.diameter / 2, limit, half)
    else:
        flat, areas = _plate(port.sides or (0.0, 0.0), half)
        modes, wavenumbers = _flat_modes(flat, port.sides or (0.0, 0.0), limit, half)
    points = base.end + flat @ np.stack([base.across, base.rest])
    return _normalised(points, areas, modes, wavenumbers)


def hole(prism: Prism, port: Port, limit: float, half: bool) -> Mouth:
    """The hole of a slanting duct in its face: the duct's cross-section drawn out along the slant, and its modes with
    it."""
    base, across = stub(prism, port), mouth(prism, port, limit, half)
    flat = across.points - base.end
    along, rest = flat @ base.across / float(base.axis @ base.normal), flat @ base.rest
    points = base.foot + np.outer(along, base.along) + np.outer(rest, base.rest)
    return _normalised(points, across.areas / float(base.axis @ base.normal), across.modes, across.cut_on)


def _normalised(points: Array, areas: Array, modes: Array, wavenumbers: Array) -> Mouth:
    """The mouth with modes scaled so that each, squared and summed over the areas, gives 1."""
    scaled = modes / np.sqrt(areas @ modes**2)
    return Mouth(points=points, areas=areas, modes=scaled, cut_on=wavenumbers, area=float(areas.sum()))


def _disc(radius: float, half: bool) -> tuple[Array, Array, Array]:
    """Polar quadrature of a disc, or of its half where the second direction is negative: radii, angles,
    areas."""
    nodes, weights = np.polynomial.legendre.leggauss(RINGS)
    rings, strips = radius * (nodes + 1) / 2, radius * weights / 2
    count = 2 * RINGS
    span, start = (np.pi, np.pi) if half else (2 * np.pi, 0.0)
    angles = start + span * (np.arange(count) + 0.5) / count
    ring, angle = (axis.ravel() for axis in np.meshgrid(rings, angles, indexing="ij"))
    return ring, angle, np.repeat(strips * rings, count) * span / count


def _round_modes(ring: Array, angle: Array, radius: float, limit: float, half: bool) -> tuple[Array, Array]:
    """J_m(j' r/a) cos and sin m theta below the limit, the plane mode first; only the mirrored ones if
    `half`."""
    from scipy.special import jnp_zeros, jv

    found = [(0.0, np.ones_like(ring))]
    for order in range(int(limit * radius) + 1):
        count = int(limit * radius / np.pi) + 2
        for zero in jnp_zeros(order, count)[jnp_zeros(order, count) < limit * radius]:
            radial = jv(order, zero * ring / radius)
            found.append((zero / radius, radial * np.cos(order * angle)))
            if order > 0 and not half:
                found.append((zero / radius, radial * np.sin(order * angle)))
    return np.stack([mode for _, mode in found], axis=-1), np.array([k for k, _ in found])


def _plate(sides: tuple[float, float], half: bool) -> tuple[Array, Array]:
    """Midpoint quadrature of a rectangle about its centre, or of its half where the second direction is
    negative."""
    count = 3 * RINGS
    along = sides[0] * ((np.arange(count) + 0.5) / count - 0.5)
    rest = sides[1] * ((np.arange(count) + 0.5) / count - 0.5)
    rest = rest[rest < 0] if half else rest
    points = np.stack([axis.ravel() for axis in np.meshgrid(along, rest, indexing="ij")], axis=-1)
    return points, np.full(len(points), sides[0] * sides[1] / count**2)


def _flat_modes(flat: Array, sides: tuple[float, float], limit: float, half: bool) -> tuple[Array, Array]:
    """cos(m pi u/a) cos(n pi v/b) below the limit, the plane mode first; only even n if `half`."""
    counts = [int(limit * side / np.pi) + 1 for side in sides]
    pairs = [(m, n) for m in range(counts[0]) for n in range(0, counts[1], 2 if half else 1)]
    wavenumbers = np.array([np.pi * np.hypot(m / sides[0], n / sides[1]) for m, n in pairs])
    kept = [pair for pair, k in zip(pairs, wavenumbers, strict=True) if k < limit or pair == (0, 0)]
    u, v = flat[:, 0] / sides[0] + 0.5, flat[:, 1] / sides[1] + 0.5
    modes = np.stack([np.cos(np.pi * m * u) * np.cos(np.pi * n * v) for m, n in kept], axis=-1)
    return modes, np.array([np.pi * np.hypot(m / sides[0], n / sides[1]) for m, n in kept])


def _mouth_turned(port: Port, width: float, limit: float) -> Mouth:
    """A round port on the axis of a turned profile: J_0(j' r/a) over rings."""
    from scipy.special import jnp_zeros, jv

    radius = (port.diameter or 0.0) / 2
    nodes, weights = np.polynomial.legendre.leggauss(4 * RINGS)
    rings = radius * (nodes + 1) / 2
    zeros = jnp_zeros(0, int(limit * radius / np.pi) + 2)
    zeros = np.concatenate([[0.0], zeros[zeros < limit * radius]])
    points = np.stack([np.full_like(rings, port.centre[0]), np.full_like(rings, width / 2), rings], axis=-1)
    areas = 2 * np.pi * rings * radius * weights / 2
    return _normalised(points, areas, jv(0, np.outer(rings / radius, zeros)), zeros / radius)
