"""A search for a box that fits into given outer sizes and loses what is wanted for no more pressure than allowed.

Every family, number of passes, lining and fibre that is sold is laid out in the same inside sizes; those that fit and
pass the air are solved on the grid on which boxes are compared, then the lightest that meets everything is named, or
the one that misses by least and what holds it back.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product

import numpy as np

from sordino.bands import CENTRES, Bands
from sordino.elements.box import Box, Family, Fill
from sordino.elements.box_layout import Clash
from sordino.elements.built_box import BuiltBox
from sordino.errors import OutOfRange
from sordino.physics.air.properties import Air
from sordino.search.box_changes import LININGS, LONGER
from sordino.search.box_compared import Known, coarse_field, known, rebuilt
from sordino.units import System

PASSES: dict[Family, tuple[int, ...]] = {
    "serpentine": (1, 2, 3, 4),
    "labyrinth": (2, 3, 4, 5),
    "straight": (1,),
    "plenum": (1,),
    "shallow": (2, 3, 4),
}
"""Families that lay themselves out, with the passes worth trying."""
DENSITIES = (12.0, 24.0)
"""Fibre as laid loosely and as pressed board-like, kg/m3 (common practice, no source)."""
PER_PASCAL = 0.5
"""What a pascal too much counts for beside a decibel too little, when misses are weighed (judgement)."""
SIDES = ("length", "width", "height")


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """What a box should do: least loss per octave in dB, NaN where none is asked, and most pressure in Pa."""

    loss: Bands
    pressure: float = np.inf


@dataclass(frozen=True, kw_only=True, slots=True)
class Design:
    """One box that was tried, and how far it stays behind what is wanted."""

    built: BuiltBox
    counted: Bands
    """What it counts for beside what goes round it, dB."""
    ceiling: Bands
    pressure: float
    mass: float
    short: Bands
    """dB that it lacks, 0 where it has enough, NaN where nothing is asked."""
    over: float
    """Pa too many."""

    @property
    def meets(self) -> bool:
        """Whether nothing is lacking."""
        return self.miss <= 0.0

    @property
    def miss(self) -> float:
        """How far it misses, for ranking."""
        return float(np.nanmax(self.short)) + PER_PASCAL * self.over

    @property
    def binding(self) -> int | None:
        """Octave in which most is lacking; None if pressure alone is too much, or nothing."""
        return int(np.nanargmax(self.short)) if np.nanmax(self.short) > 0.0 else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Search:
    """What a search found."""

    wanted: Wanted
    flow: float
    found: tuple[Design, ...]
    """Designs that meet everything, the lightest first."""
    nearest: tuple[Design, ...]
    """Designs that miss, by how far."""
    clashes: dict[str, int] = field(default_factory=dict)
    """Why others can't be laid out, in the words of the first of a kind, with how many."""
    larger: dict[str, Design] = field(default_factory=dict)
    """The nearest miss with one side a quarter larger."""

    @property
    def tried(self) -> int:
        """Boxes that were laid out or refused."""
        return len(self.found) + len(self.nearest) + sum(self.clashes.values())


def search(built: BuiltBox, wanted: Wanted, air: Air, flow: float, system: System = "metric") -> Search:
    """Try every family in the inside sizes, duct and casing of `built`, at a flow of `flow` m3/s."""
    clashes: Counter[str] = Counter()
    designs = [
        made
        for box in _candidates(built.build, system)
        if (made := _tried(built, box, wanted, air, flow, clashes, system))
    ]
    found = sorted((each for each in designs if each.meets), key=lambda each: each.mass)
    nearest = sorted((each for each in designs if not each.meets), key=lambda each: each.miss)
    larger = {} if found or not nearest else _larger(nearest[0], wanted, air, flow)
    return Search(
        wanted=wanted, flow=flow, found=tuple(found), nearest=tuple(nearest), clashes=dict(clashes), larger=larger
    )


def _candidates(box: Box, system: System) -> Iterator[Box]:
    for family, counts in PASSES.items():
        linings = (box.lining,) if family == "serpentine" else LININGS[system]
        for passes, lining, density in product(counts, linings, DENSITIES):
            yield Box.model_construct(
                **dict(box)
                | {"family": family, "passes": passes, "lining": lining, "fill": Fill.model_construct(density=density)}
                | {"inlet": None, "outlet": None, "dividers": (), "linings": (), "centreline": (), "bend_radius": None}
            )


def _tried(
    built: BuiltBox, box: Box, wanted: Wanted, air: Air, flow: float, clashes: Counter[str], system: System
) -> Design | None:
    """A box in the place of `built`; None if it can't be laid out, which is counted with its reason."""
    try:
        other = rebuilt(built, box)
        return _design(known(other, coarse_field(other, box, air), air, flow), wanted)
    except Clash as clash:
        clashes[_kind(box.family, clash, system, clashes)] += 1
    except OutOfRange as error:
        clashes[f"{box.family}: {error}"] += 1
    return None


def _kind(family: str, clash: Clash, system: System, known: Counter[str]) -> str:
    """What a clash is counted under: the words of the first of its kind in that family."""
    start = f"{family}: {clash.said[0].partition('{')[0]}"
    return next((words for words in known if words.startswith(start)), f"{family}: {clash.shown(system)[0]}")


def _design(made: Known, wanted: Wanted) -> Design:
    return Design(
        built=made.built,
        counted=made.counted,
        ceiling=made.built.ceiling(),
        pressure=made.pressure,
        mass=made.mass,
        short=np.maximum(wanted.loss - np.round(made.counted), 0.0),
        over=max(made.pressure - wanted.pressure, 0.0),
    )


def _larger(nearest: Design, wanted: Wanted, air: Air, flow: float) -> dict[str, Design]:
    """The nearest miss with each of its inside sides a quarter larger, where that can be laid out."""
    box = nearest.built.build
    grown = {side: box.model_copy(update={side: LONGER * getattr(box, side)}) for side in SIDES}
    made = {side: _tried(nearest.built, each, wanted, air, flow, Counter(), "metric") for side, each in grown.items()}
    return {side: each for side, each in made.items() if each is not None}


def asked(losses: dict[int, float]) -> Bands:
    """Wanted losses by octave number as bands, NaN elsewhere, shape (9,)."""
    bands = np.full(CENTRES.size, np.nan)
    for band, loss in losses.items():
        bands[band] = loss
    return bands
