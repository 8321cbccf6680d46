"""Heat through shells, and build-ups as layers for heat and vapour."""

from __future__ import annotations

import numpy as np

from sordino.assess.surroundings import around
from sordino.bands import Array
from sordino.elements import buildup
from sordino.physics.climate import layers
from sordino.plan.statement import Plan

SHELL_U = 0.35
"""U of a shell of which no layers are known, W/m2K (judgement)."""


def shell_losses(plan: Plan, condition: str, rooms: tuple[str, ...]) -> tuple[Array, Array]:
    """Conduction: W/K as a matrix on the rooms' temperatures, and W from the fixed ones."""
    place = {room: index for index, room in enumerate(rooms)}
    lost, fixed = np.zeros((len(rooms), len(rooms))), np.zeros(len(rooms))
    for shell in plan.shell.values():
        worth = shell.area * transmittance(shell.layers)
        for one, other in (shell.between, shell.between[::-1]):
            if one not in place:
                continue
            lost[place[one], place[one]] += worth
            if other in place:
                lost[place[one], place[other]] -= worth
            else:
                fixed[place[one]] += worth * around(plan, other, condition).temperature
    return lost, fixed


def transmittance(built: buildup.Buildup | None) -> float:
    """U of a shell, W/m2K; that of a usual one where its layers are not known."""
    if built is None:
        return SHELL_U
    return layers.transmittance(tuple(sheets(built)))


def sheets(built: buildup.Buildup, density: float = 12.0) -> list[layers.Sheet]:
    """The layers of a casing or shell for heat and vapour; a damping compound is taken as its board's glue."""
    found = []
    for layer in built:
        if layer.board is not None:
            found.append(layers.board(layer.board, layer.thickness or 0.0))
        elif layer.cavity is not None:
            found.append(layers.fibre(layer.cavity, density, "fill") if layer.filled else layers.air_gap(layer.cavity))
    return found
