"""Rooms and spaces as sound fields: from sound power let into them to the level a listener gets."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sordino.assess.spread import Spread, half_width
from sordino.bands import CENTRES, Bands
from sordino.physics.sound.modes import ModalLevel, modal_bands
from sordino.physics.sound.rooms import direct_and_reverberant, room_constant, sabine_time, schroeder_frequency
from sordino.plan.room import Room, Space
from sordino.plan.statement import Plan

WALL, HALF_SPACE = 2.0, 2.0
"""Directivity of an opening in a surface."""
NINE_IN_TEN = 1.64
"""Half-width of a nine-in-ten range in standard deviations."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """Lp - Lw of a place for an opening in its surface, its absorption area, and how sure that is."""

    gain: Bands
    absorption: Bands
    schroeder: float
    spread: Spread


def room_field(key: str, room: Room, c: float) -> Field:
    """The field at a room's listener: modal below the Schroeder frequency, direct and diffuse sound above."""
    area = room.absorption_area
    limit = float(schroeder_frequency(room.volume, sabine_time(room.volume, np.nanmean(area[4:6]))))
    modal_share = np.clip(1.0 - 2.0 * np.log2(CENTRES / limit), 0.0, 1.0)
    modal = _modal(room.mean_size, tuple(area.tolist()), c)
    direct = 10.0 ** (direct_and_reverberant(room.listener, np.inf, WALL) / 10.0) * (1.0 - modal_share)
    by_place = np.maximum(half_width("room effect modal"), NINE_IN_TEN * modal.spread)
    spread = {
        f"sound field of {key}, modal": by_place * modal_share,
        f"sound field of {key}, diffuse": half_width("room effect diffuse") * (1.0 - modal_share),
    }
    gain = 10.0 * np.log10(10.0 ** (modal.mean / 10.0) + direct)
    return Field(gain=gain, absorption=area, schroeder=limit, spread=spread)


@lru_cache(maxsize=64)
def _modal(size: tuple[float, float, float], area: tuple[float, ...], c: float) -> ModalLevel:
    """The modal field of a room; kept, since most changes to a plan leave its rooms alone."""
    return modal_bands(size, np.array(area), c)


def space_field(key: str, space: Space) -> Field:
    """The diffuse field of an enclosed space that is not a room of the project."""
    constant = room_constant(space.surface, np.full(9, space.absorbing))
    return Field(
        gain=direct_and_reverberant(np.inf, constant),
        absorption=space.surface * np.full(9, space.absorbing),
        schroeder=0.0,
        spread={f"sound field of {key}": 3.0 + half_width("room effect diffuse")},
    )


def fields(plan: Plan, c: float) -> dict[str, Field]:
    """The field of every room and enclosed space."""
    rooms = {key: room_field(key, room, c) for key, room in plan.room.items()}
    return rooms | {key: space_field(key, space) for key, space in plan.space.items() if space.enclosed}


def window_gain(distance: float) -> float:
    """Lp - Lw at a distance from an opening in a wall outdoors, in the open: 10 lg[Q / (4 pi r^2)], dB."""
    return float(direct_and_reverberant(distance, np.inf, HALF_SPACE))
