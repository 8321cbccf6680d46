"""Layered walls: boards, damping compound and filled or empty cavities, as the shell of a box or a room."""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Literal

import numpy as np
from pydantic import Field, model_validator

from sordino.bands import LINES, Array, Bands
from sordino.cache import key_of, remembered
from sordino.errors import Refusal
from sordino.names import OnRecord
from sordino.physics.sound.leaf_waves import Leaf, Sides
from sordino.physics.sound.panels import (
    OPENING,
    Pushed,
    band_loss,
    double_leaf_loss,
    gap_spring,
    layered_leaf,
    leaf_loss,
    pushed,
)
from sordino.physics.sound.sources import board, board_names
from sordino.quantities import Length, Statement

BoardName = Annotated[str, OnRecord(what="board", names=board_names)]


class Layer(Statement):
    """One sheet of board, one coat of damping compound, or one cavity."""

    board: BoardName | None = Field(default=None, description="name of a board on record, as plywood or gypsum board")
    thickness: Length | None = Field(default=None, description="thickness of the board")
    damping: bool = Field(default=False, description="viscoelastic compound between the boards on either side")
    cavity: Length | None = Field(default=None, description="depth of an air space")
    filled: bool = Field(default=True, description="whether the cavity holds fibre")
    studs: Length | None = Field(
        default=None, description="of a cavity that studs cross from board to board: their distance, middle to middle"
    )
    resilient: bool = Field(default=False, description="whether resilient channels or clips part the studs of a cavity")

    @model_validator(mode="after")
    def _is_one_thing(self) -> Layer:
        if [self.board is not None, self.damping, self.cavity is not None].count(True) != 1:
            raise Refusal(
                "a layer is one thing",
                'write { board = "plywood", thickness = "18 mm" }, { damping = true } or { cavity = "50 mm" }',
            )
        if self.cavity is None and (self.studs is not None or self.resilient):
            raise Refusal("studs cross a cavity", 'write { cavity = "89 mm", studs = "600 mm" }')
        if self.resilient and self.studs is None:
            raise Refusal("resilient channels part studs, and none are told", 'add studs = "600 mm"')
        if (self.board is None) != (self.thickness is None):
            raise Refusal("a board and its thickness go together", 'write { board = "plywood", thickness = "18 mm" }')
        return self


Buildup = tuple[Layer, ...]


def surface_mass(layers: Buildup) -> float:
    """Mass of all boards per area, kg/m2."""
    return sum(board(layer.board).density * (layer.thickness or 0.0) for layer in layers if layer.board)


def thickness(layers: Buildup) -> float:
    """Whole thickness, m."""
    return sum((layer.thickness or layer.cavity or 0.0) for layer in layers)


LEAF_VERSION = 1
"""Raise it when the loss of a leaf is reckoned otherwise, so that kept ones are not used."""


@lru_cache(maxsize=256)
def leaves(layers: Buildup) -> tuple[Leaf, ...]:
    """The stiff leaves, split at the cavities; boards in one leaf add their mass."""
    groups: list[list[Layer]] = [[]]
    for layer in layers:
        if layer.cavity is not None:
            groups.append([])
        else:
            groups[-1].append(layer)
    return tuple(_leaf(group) for group in groups if any(layer.board for layer in group))


def _leaf(group: list[Layer]) -> Leaf:
    sheets = [(board(layer.board), layer.thickness or 0.0) for layer in group if layer.board]
    return layered_leaf(
        [sheet.density * depth for sheet, depth in sheets],
        [sheet.coincidence / depth for sheet, depth in sheets],
        [sheet.loss_factor for sheet, _ in sheets],
        damped=any(layer.damping for layer in group),
        shear_frequencies=[sheet.shear_frequency(depth) for sheet, depth in sheets],
        diagonals=[sheet.diagonal for sheet, _ in sheets],
        in_reveal=all(sheet.in_reveal for sheet, _ in sheets),
    )


@lru_cache(maxsize=256)
def transmission_loss(layers: Buildup, size: Sides | None = None) -> Bands:
    """Diffuse-field transmission loss per octave, dB: transmitted energy averaged over each band, read-only (9,)."""
    return _kept(band_loss(loss_at_lines(layers, size)))


@lru_cache(maxsize=256)
def loss_at_lines(layers: Buildup, size: Sides | None = None) -> Array:
    """Diffuse-field transmission loss at LINES, dB, read-only (81,).

    `size` is the width and height of the panel (m) if it is known. Else a single leaf of boards counts as a
    laboratory's wall, one of bare sheet as endless. Two leaves do not ask for it. They stand apart unless every cavity
    between them is crossed by studs.
    """
    plates = leaves(layers)
    first, last = plates[0], plates[-1]
    if len(plates) == 1:
        return _single_leaf(first, size or (None if first.in_reveal else OPENING))
    gaps = cavities(layers)
    studs = [gap.studs for gap in gaps if gap.studs is not None]
    return _kept(
        double_leaf_loss(
            LINES,
            first.surface_mass,
            first.critical_frequency,
            last.surface_mass,
            last.critical_frequency,
            gap=sum(gap.cavity or 0.0 for gap in gaps),
            filled=all(gap.filled for gap in gaps),
            stud_spacing=min(studs) if len(studs) == len(gaps) else None,
            resilient=any(gap.resilient for gap in gaps),
        )
    )


def _single_leaf(leaf: Leaf, size: Sides | None) -> Array:
    """Loss of one leaf at LINES, dB, read-only; kept by content, since the integral over angles takes a while."""
    key = key_of("leaf loss", LEAF_VERSION, repr(leaf), size)
    return _kept(np.array(remembered(key, lambda: leaf_loss(LINES, leaf, size).tolist())))


@lru_cache(maxsize=256)
def pushed_panel(layers: Buildup, size: Sides) -> Pushed:
    """The panel of that width and height (m) pushed all at once from its first layer's side, at LINES."""
    return pushed(LINES, leaves(layers), _between(layers), size)


def cavities(layers: Buildup) -> tuple[Layer, ...]:
    """The air spaces, filled or not."""
    return tuple(layer for layer in layers if layer.cavity is not None)


def _between(layers: Buildup) -> list[complex]:
    """Springs between leaves, Pa/m; several cavities with no board between them lie one behind the other."""
    springs: list[complex] = []
    waiting = 0.0 + 0.0j
    boards = [index for index, layer in enumerate(layers) if layer.board]
    for layer in layers[boards[0] : boards[-1] + 1]:
        if layer.cavity is not None:
            waiting += 1.0 / gap_spring(layer.cavity, layer.filled)
        elif layer.board and waiting:
            springs.append(1.0 / waiting)
            waiting = 0.0
    return springs


def _kept(values: Array) -> Array:
    """The values, read-only, since they are shared."""
    values.setflags(write=False)
    return values


def scatter_key(
    layers: Buildup,
) -> Literal["panel loss", "panel loss without a published spectrum", "double leaf loss"]:
    """Row of the scatter table that holds for this build-up: wider where a board has no published spectrum."""
    if len(leaves(layers)) > 1:
        return "double leaf loss"
    known = all(board(layer.board).has_spectrum for layer in layers if layer.board)
    return "panel loss" if known else "panel loss without a published spectrum"
