"""The casing of a box as a sound path: what each face lets out and in, from the field on its inside.

Above the first cavity mode the pressure on a face is taken as diffuse, W = <p^2> S tau / (4 rho c). Below it the air
inside pushes the whole panel at once: the panel moves as its impedance lets it, W = rho c s S <p^2> / |Z|^2 with
Z = j(w m - k/w) + w m eta and s the radiation efficiency of a small piston in a wall, never above one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.bands import COUNT, LINES, LINES_PER_BAND, Array, Bands, at_lines
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_field import BoxField
from sordino.elements.element import Wall
from sordino.physics.sound.sources import board
from sordino.quantities import Size

ONE_WAY = -3.0
SOUND_SPEED, DENSITY = 343.2, 1.204


@dataclass(frozen=True, kw_only=True, slots=True)
class FaceLeak:
    """One face: its area, surface mass, and the share of the power arriving at the inlet that it lets out, shape (9,)."""

    face: str
    area: float
    mass: float
    share: Bands
    """dB, 10 lg of radiated over arriving power."""


def weakest(box: Box) -> Bands:
    """Transmission loss of the face that lets most through, dB, shape (9,)."""
    casings = {id(layers): layers for layers in (box.shell, *box.faces.values())}
    return np.min([buildup.transmission_loss(layers) for layers in casings.values()], axis=0)


def leaks(box: Box, section: Size, field: BoxField) -> tuple[FaceLeak, ...]:
    """Each face's share of the sound that arrives at the inlet, loudest port either way."""
    found = []
    for name, (area, pressures) in field.faces.items():
        layers = box.layers(name)
        inside = np.max(pressures, axis=1)
        known = np.concatenate([inside, np.full(LINES.size - inside.size, inside[-1] if inside.size else 1.0)])
        share = known * area / section.area * panel_share(box, layers, area)
        found.append(FaceLeak(face=name, area=area, mass=buildup.surface_mass(layers), share=_level(share)))
    return tuple(sorted(found, key=lambda leak: -float(np.max(leak.share[2:5]))))


def panel_share(box: Box, layers: buildup.Buildup, area: float) -> Array:
    """Radiated power over <p^2> S / (rho c) for a panel of the casing at LINES, shape (81,)."""
    tau = 10.0 ** (-at_lines(buildup.transmission_loss(layers)) / 10.0)
    first = SOUND_SPEED / (2.0 * max(box.length, box.width, box.height))
    return np.where(first < LINES, tau / 4.0, np.minimum(_pushed(layers, area), 1.0))


def _pushed(layers: buildup.Buildup, area: float) -> Array:
    """The same below the first cavity mode: panel impedance and a piston's radiation."""
    omega, mass = 2.0 * np.pi * LINES, buildup.surface_mass(layers)
    sheets = [(board(layer.board), layer.thickness or 0.0) for layer in layers if layer.board]
    bending = sum(sheet.modulus * depth**3 / 12.0 / (1.0 - 0.09) for sheet, depth in sheets)
    lowest = 2.0 * np.pi**2 / area * np.sqrt(bending / mass)  # first mode of a square panel held at its edges
    stiffness = mass * lowest**2
    loss = max(sheet.loss_factor for sheet, _ in sheets)
    impedance = np.abs(1j * (omega * mass - stiffness / omega) + omega * mass * loss)
    radiation = np.minimum(1.0, (omega / SOUND_SPEED) ** 2 * area / (2.0 * np.pi))
    return (DENSITY * SOUND_SPEED) ** 2 * radiation / impedance**2


def wall(box: Box, section: Size, field: BoxField | None, pass_area: float) -> Wall:
    """The casing as a duct wall: from the field if it is solved, else one lining of the casing for all."""
    surface = 2.0 * (box.length * box.width + box.length * box.height + box.width * box.height)
    if field is None:
        loss = weakest(box)
        return Wall(breakout=loss, breakin=loss, outer_area=surface, inner_area=pass_area)
    out = _level(np.sum([10.0 ** (at_lines(leak.share) / 10.0) for leak in leaks(box, section, field)], axis=0))
    entering = 1.0 - np.concatenate([field.reflected.max(axis=1), np.zeros(LINES.size - field.frequency.size)])
    net = out - _level(np.maximum(entering, 1e-3))
    capture = _level((SOUND_SPEED / LINES) ** 2 / (4.0 * np.pi))
    breakin = 10.0 * np.log10(surface / 4.0) + ONE_WAY - out - capture
    return Wall(breakout=np.maximum(-net, 0.0), breakin=breakin, outer_area=surface, inner_area=surface)


def _level(share: Array) -> Bands:
    return 10.0 * np.log10(np.maximum(share.reshape(COUNT, LINES_PER_BAND).mean(axis=1), 1e-20))
