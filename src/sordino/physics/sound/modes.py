"""Sound of a small room below its Schroeder frequency, as a sum over the modes of a hard-walled box.

A source flush in a wall; the damping of every mode is what the room's absorption area asks for.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from sordino.bands import COUNT, LINES, LINES_PER_BAND, Array, Bands, at_lines
from sordino.physics.sound.customary import SPEED_OF_SOUND
from sordino.physics.sound.rooms import sabine_time, schroeder_frequency

REACH = 1.5
"""Modes are summed up to this multiple of the highest frequency that is treated modally."""

MOST_MODES = 700
SOURCES, MICROPHONES = 8, 16
PURE_TONE_SPREAD = 5.57
"""Standard deviation of the level of one frequency over a diffuse field, dB."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ModalLevel:
    """Lp - Lw of the energy mean over the room, and the standard deviation of the level over positions,
    dB."""

    mean: Array
    spread: Array


def modal_bands(dimensions: ArrayLike, absorption_area: Bands, c: float = SPEED_OF_SOUND) -> ModalLevel:
    """Level in a box-shaped room for a source flush in a wall with even power over each of nine bands, dB.

    Dimensions (3,) in m, absorption area in nine bands, m2. The spread is that of the band level over places; a
    diffuse band gives that of nine independent tones, 1.9 dB.
    """
    area = at_lines(absorption_area)
    field = modal_field(LINES, dimensions, area, c)
    modal = field.share.reshape(COUNT, LINES_PER_BAND).mean(axis=1)
    sampled = field.share[:, None] * field.sampled + ((1.0 - field.share) * 4.0 / area)[:, None]
    sampled = sampled.reshape(COUNT, LINES_PER_BAND, -1).mean(axis=1)
    diffuse = (1.0 - modal) * PURE_TONE_SPREAD / np.sqrt(LINES_PER_BAND)
    mean = field.mean.reshape(COUNT, LINES_PER_BAND).mean(axis=1)
    return ModalLevel(mean=10.0 * np.log10(mean), spread=np.hypot(_spread(sampled), diffuse))


@dataclass(frozen=True, slots=True)
class ModalField:
    """<p^2>/(rho c W) by frequency, W the power that the source would radiate into half space."""

    mean: Array
    """Over the room, 1/m2."""
    sampled: Array
    """At pairs of places, from modes alone where there are any."""
    share: Array
    """Part of the mean that modes give, the rest being diffuse."""


@dataclass(frozen=True, slots=True)
class _Modes:
    """The lowest modes of a room: wave numbers (m,), mean squares on the walls (m,), values at pairs (m,
    pairs)."""

    wave_numbers: Array
    on_walls: Array
    pairs: Array


def modal_field(
    f: ArrayLike, dimensions: ArrayLike, absorption_area: ArrayLike, c: float = SPEED_OF_SOUND
) -> ModalField:
    """<p^2> / (rho c W) = 2 pi / V^2 sum of e_n / |k_n^2 - k^2 + j k A / 4V|^2 over the modes, (0, 0, 0) among them.

    e_n is the mean square of mode n on the walls. It tends to 4 / A, into which it passes within half an octave from
    the Schroeder frequency up (or from where the 700 lowest modes are spent). Frequencies f (n,) in Hz, dimensions (3,)
    in m, absorption area at f in m2. The mean is exact over the room and its walls; the samples are 128 pairs of
    places.
    """
    hertz = np.asarray(f, float)
    area = np.broadcast_to(np.asarray(absorption_area, float), hertz.shape)
    sides = _sides(dimensions)
    modes = _modes(sides)
    volume = sides[0] * sides[1] * sides[2]
    reach = modes.wave_numbers[-1] * c / (2.0 * np.pi * REACH * np.sqrt(2.0))
    start = np.minimum(schroeder_frequency(volume, sabine_time(volume, area)), reach)
    share = np.clip(1.0 - 2.0 * np.log2(hertz / start), 0.0, 1.0)
    low = share > 0.0
    k = 2.0 * np.pi * hertz[low, None] / c
    response = 1.0 / (modes.wave_numbers**2 - k**2 + 1j * k * area[low, None] / (4.0 * volume))
    scale = 2.0 * np.pi / volume**2
    mean, sampled = 4.0 / area, np.repeat(4.0 / area[:, None], modes.pairs.shape[1], axis=1)
    exact = scale * (response.real**2 + response.imag**2) @ modes.on_walls
    mean[low] = share[low] * exact + (1.0 - share[low]) * mean[low]
    sampled[low] = scale * ((response.real @ modes.pairs) ** 2 + (response.imag @ modes.pairs) ** 2)
    return ModalField(mean, sampled, share)


@lru_cache(maxsize=16)
def _modes(sides: tuple[float, float, float]) -> _Modes:
    lengths = np.array(sides)
    top = (6.0 * np.pi**2 * MOST_MODES / lengths.prod()) ** (1.0 / 3.0)
    counts = [np.arange(int(top * side / np.pi) + 1) for side in sides]
    orders = np.stack(np.meshgrid(*counts, indexing="ij"), axis=-1).reshape(-1, 3)
    wave_numbers = np.pi * np.sqrt(((orders / lengths) ** 2).sum(axis=-1))
    lowest = np.argsort(wave_numbers, kind="stable")[:MOST_MODES]
    orders, wave_numbers = orders[lowest], wave_numbers[lowest]
    strengths = np.where(orders == 0, 1.0, 2.0)
    walls = lengths.prod() / lengths
    at_source, at_microphone = _shapes(orders, _on_walls()), _shapes(orders, _spread_out(MICROPHONES))
    pairs = (at_source[:, :, None] * at_microphone[:, None, :]).reshape(MOST_MODES, -1)
    return _Modes(wave_numbers, strengths @ walls / walls.sum(), pairs)


def _shapes(orders: Array, places: Array) -> Array:
    """Normalised mode shapes (modes, places) at places given as fractions of the sides."""
    strength = np.sqrt(np.where(orders == 0, 1.0, 2.0).prod(axis=-1))
    return strength[:, None] * np.cos(np.pi * orders[:, None, :] * places).prod(axis=-1)


def _on_walls() -> Array:
    """Source places, taking the six walls in turn."""
    places = _spread_out(SOURCES)
    turn = np.arange(SOURCES)
    places[turn, turn % 3] = (turn // 3) % 2
    return places


def _spread_out(count: int) -> Array:
    """Evenly scattered places in the unit cube, the same each time (additive recurrence of the plastic
    kind)."""
    root = 1.2207440846057596
    return (0.5 + np.arange(1, count + 1)[:, None] * root ** -np.arange(1.0, 4.0)) % 1.0


def _sides(dimensions: ArrayLike) -> tuple[float, float, float]:
    length, width, height = (float(side) for side in np.asarray(dimensions, float))
    return length, width, height


def _spread(power: Array) -> Array:
    """Standard deviation of the level over the last axis, dB."""
    return 10.0 * np.log10(power).std(axis=-1)
