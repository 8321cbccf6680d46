"""The casing of a box as a sound path: what each face lets out and in, from the field on its inside.

<p^2> is the field's own on the face. From twice the first cavity mode up it counts as diffuse, W = <p^2> S tau / (4
rho c), tau that of a panel of the face's own sides; on a hard face a diffuse field is twice as strong as in the midst
of the box, so this lets out up to 3 dB too much. Below the first cavity mode the air inside pushes the whole panel at
once, W = <p^2> S rho c s / |Z + R|^2. The field knows hard faces only, so R stands for the power that a moving face
would send back out of the two ports (reciprocity: R = rho c S (g1 + g2) / 4 Sd, g = <p^2>/|p+|^2 for sound from each
port, Sd the duct's section): so a face never lets out more than arrives, even in resonance. In the octave between,
where the box has modes along it but not across it, the two are blended in decibels, so that there is no jump. Sound
comes in by the same panels and the same field.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import COUNT, LINES, LINES_PER_BAND, Array, Bands
from sordino.elements import buildup
from sordino.elements.box import Box
from sordino.elements.box_field import BoxField
from sordino.elements.element import Wall
from sordino.physics.sound.customary import SPEED_OF_SOUND
from sordino.physics.sound.leaf_waves import RHO_C, Sides
from sordino.quantities import Size

ONE_WAY = -3.0
LEAST = 1e-20
WIDEST_FIRST = ("panel loss without a published spectrum", "double leaf loss", "panel loss")
CAPTURE = (SPEED_OF_SOUND / LINES) ** 2 / (4.0 * np.pi)
"""Area by which a duct's plane wave takes sound from a diffuse field, (c/f)^2/4 pi, m2, shape (81,)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class FaceLeak:
    """One face: its area m2, surface mass kg/m2, and what it lets out of the power that arrives at a port."""

    face: str
    area: float
    mass: float
    by_port: Array
    """Power let out over power arriving, for sound from each port at LINES, shape (2, 81)."""

    @property
    def share(self) -> Bands:
        """10 lg of radiated over arriving power, loudest port either way, dB, shape (9,)."""
        return _level(self.by_port.max(axis=0))


def weakest(box: Box) -> Bands:
    """Transmission loss of the face that lets most through, dB, shape (9,)."""
    casings = {id(layers): layers for layers in (box.shell, *box.faces.values())}
    return np.min([buildup.transmission_loss(layers) for layers in casings.values()], axis=0)


def scatter_key(box: Box) -> str:
    """Row of the scatter table that holds for its casing: the widest of its faces'."""
    keys = {buildup.scatter_key(layers) for layers in (box.shell, *box.faces.values())}
    return next(key for key in WIDEST_FIRST if key in keys)


def leaks(box: Box, section: Size, field: BoxField) -> tuple[FaceLeak, ...]:
    """Each face's share of the sound that arrives at a port, the one that lets out most from 125 to 500 Hz first."""
    found = [
        FaceLeak(
            face=name,
            area=area,
            mass=buildup.surface_mass(box.layers(name)),
            by_port=_let_out(box, name, _held(pressures) * area / section.area),
        )
        for name, (area, pressures) in field.faces.items()
    ]
    loudest_first = sorted(found, key=lambda leak: (-round(float(np.max(leak.share[2:5])), 2), leak.face))
    return tuple(loudest_first)


def _held(pressures: Array) -> Array:
    """Mean squares at LINES from those of the field (F, 2), the last one held above it, shape (2, 81)."""
    if not len(pressures):
        return np.ones((2, LINES.size))
    return np.concatenate([pressures, np.repeat(pressures[-1:], LINES.size - len(pressures), axis=0)]).T


def _let_out(box: Box, face: str, power: Array) -> Array:
    """What a face lets out of `power`, <p^2> S/(rho c) on it over the power arriving from each port, shape (2, 81)."""
    return power * panel_share(box, face, RHO_C * power.sum(axis=0) / 4.0)


def panel_share(box: Box, face: str, load: ArrayLike) -> Array:
    """Radiated power over <p^2> S / (rho c) for one face of the casing at LINES, shape (81,); load R in Pa s/m."""
    layers, sides = box.layers(face), face_sides(box, face)
    diffuse = 10.0 ** (-buildup.loss_at_lines(layers, sides) / 10.0) / 4.0
    pushed = np.minimum(buildup.pushed_panel(layers, sides).share(load), 1.0)
    spread = np.clip(np.log2(LINES / first_cavity_mode(box)), 0.0, 1.0)
    return pushed ** (1.0 - spread) * diffuse**spread


def first_cavity_mode(box: Box) -> float:
    """Half a wavelength along the longest inside dimension, Hz."""
    return SPEED_OF_SOUND / (2.0 * max(box.length, box.width, box.height))


def face_sides(box: Box, face: str) -> Sides:
    """Inside sides of a face, the longer first, m; front and back under a slope as a rectangle of the same length."""
    height, width = box.standing
    runs, drops = _cut(box, "run"), _cut(box, "drop")
    if face in ("left", "right"):
        sides = (width, height - drops[face])
    elif face.endswith("slope"):
        side = face.removesuffix(" slope")
        sides = (width, float(np.hypot(runs[side], drops[side])))
    elif face in ("front", "back"):
        cut = sum(runs[side] * drops[side] for side in runs) / 2.0
        sides = (box.length, height - cut / box.length)
    else:
        sides = (width, box.length - (sum(runs.values()) if face == "ceiling" else 0.0))
    return max(sides), min(sides)


def _cut(box: Box, part: str) -> dict[str, float]:
    slopes = {"left": box.left_slope, "right": box.right_slope}
    return {side: 0.0 if slope is None else float(getattr(slope, part)) for side, slope in slopes.items()}


def let_out(box: Box, section: Size, field: BoxField) -> Array:
    """Power that the whole casing lets out over that arriving, sound from each port at LINES, shape (2, 81).

    Never more than what the box does not send back.
    """
    whole = np.sum([leak.by_port for leak in leaks(box, section, field)], axis=0)
    return np.minimum(whole, _entering(field))


def _entering(field: BoxField) -> Array:
    """Share of the arriving power that goes into the box at each port, shape (2, 81); all of it above the field."""
    beyond = np.ones((2, LINES.size - field.frequency.size))
    return np.maximum(np.concatenate([1.0 - field.reflected.T, beyond], axis=1), 1e-3)


def surface(box: Box) -> float:
    """Inside surface of the whole cuboid, m2."""
    return 2.0 * (box.length * box.width + box.length * box.height + box.width * box.height)


def there_and_back(box: Box, section: Size, field: BoxField | None) -> Bands:
    """Loss of the way out by the faces near one port and in again by those near the other, dB, shape (9,).

    W2/W1 = out_1 out_2 (4/A) (c/f)^2/4 pi: what comes out makes <p^2> = 4 rho c W/A in the space around; A is taken
    as no more than the box's own surface, as in a tight space, and the other half is reciprocity. Without a field,
    twice the loss of the weakest casing.
    """
    if field is None:
        return 2.0 * weakest(box)
    first, second = let_out(box, section, field)
    return -_level(np.minimum(first * second * 4.0 / surface(box) * CAPTURE, np.minimum(first, second)))


def wall(box: Box, section: Size, field: BoxField | None, pass_area: float) -> Wall:
    """The casing as a duct wall: from the field if it is solved, else one lining of the casing for all.

    Breakout over the power of the waves both ways in the duct before it, (1 + |R|^2) of that arriving, which is how
    loud a run has it there; break-in by reciprocity: a diffuse field of <p^2> around the box
    sends <p^2>/(rho c) (c/f)^2/4 pi out into a duct. The louder port either way.
    """
    whole, scatter = surface(box), scatter_key(box)
    if field is None:
        loss = weakest(box)
        return Wall(breakout=loss, breakin=loss, outer_area=whole, inner_area=pass_area, scatter=scatter)
    out = let_out(box, section, field)
    breakout = -_level((out / (2.0 - _entering(field))).max(axis=0))
    breakin = 10.0 * np.log10(whole / 4.0) + ONE_WAY - _level((out * CAPTURE).max(axis=0))
    return Wall(breakout=breakout, breakin=breakin, outer_area=whole, inner_area=whole, scatter=scatter, faded=True)


def _level(share: Array) -> Bands:
    return 10.0 * np.log10(np.maximum(share.reshape(COUNT, LINES_PER_BAND).mean(axis=1), LEAST))
