"""Two boxes one after the other in a run: what they lose together beside the plain sum of both.

Below 0.9 of the ducts' cut-on the wave goes to and fro between them, so their four-poles and those of the parts between
are multiplied; above, losses add. What goes round each box stands beside its own passage:
tau = i tau_1 tau_2 + tau_1 r_2 + r_1 tau_2 + r_1 r_2, with i the interaction of the passages.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sordino.assess.boxes import with_fields
from sordino.bands import COUNT, LINES_PER_BAND, Array, Bands, at_lines
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.physics.air.properties import Air
from sordino.physics.sound.fourpole import cascade, characteristic_impedance, transmission_loss
from sordino.plan.run import Run
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxPair:
    """Two neighbouring boxes of a run, in the run's direction; losses in dB per octave, shape (9,)."""

    first: str
    second: str
    run: str
    apart: float
    """Length of duct between them, m."""
    limit: float
    """Up to where the interaction is computed, Hz; above it losses add."""
    alone: tuple[Bands, Bands]
    """Loss through each passage between matched ducts."""
    between: Bands
    """Loss of the duct between."""
    together: Bands
    """Loss through both passages as they stand."""
    counted: Bands
    """The same beside what goes round each."""

    @property
    def plain_sum(self) -> Bands:
        """What adding the decibels would give."""
        return self.alone[0] + self.alone[1] + self.between

    @property
    def interaction(self) -> Bands:
        """What the pair loses more than the plain sum."""
        return self.together - self.plain_sum


def box_pairs(plan: Plan, name: str, air: Air) -> tuple[BoxPair, ...]:
    """The pairs that a box makes with the next box of its run, before and after it."""
    runs = {key: run for key, run in plan.run.items() if _pairs_up(run, name)}
    solved = with_fields(plan.model_copy(update={"run": runs}), air)
    return tuple(pair for run in runs for pair in _along(solved, run, air) if name in (pair.first, pair.second))


def _pairs_up(run: Run, name: str) -> bool:
    """Whether a run has a box of that name and another."""
    boxes = [part.box for part in run.parts if isinstance(part, BuiltBox)]
    return name in boxes and len(boxes) > 1


def _along(plan: Plan, run: str, air: Air) -> Iterator[BoxPair]:
    parts = plan.run[run].parts
    places = [place for place, part in enumerate(parts) if isinstance(part, BuiltBox)]
    for start, stop in pairwise(places):
        yield _pair(run, parts[start : stop + 1], air)


def _pair(run: str, parts: tuple[Element, ...], air: Air) -> BoxPair:
    first, second = parts[0], parts[-1]
    assert isinstance(first, BuiltBox)
    assert isinstance(second, BuiltBox)
    between = [at_lines(part.attenuation(air)) for part in parts[1:-1]]
    alone = [box.loss_at_lines(air) for box in (first, second)]
    added = np.sum([*alone, *between], axis=0)
    together = _cascaded(parts, added, air)
    around = [10.0 ** (-at_lines(box.ceiling()) / 10.0) for box in (first, second)]
    passed = [10.0 ** (-loss / 10.0) for loss in alone]
    both = 10.0 ** (-together / 10.0) + passed[0] * around[1] + around[0] * passed[1] + around[0] * around[1]
    return BoxPair(
        first=first.box,
        second=second.box,
        run=run,
        apart=sum(part.path_length for part in parts[1:-1]),
        limit=_limit(first, second),
        alone=(_octaves(alone[0]), _octaves(alone[1])),
        between=_octaves(np.sum(between, axis=0)) if between else np.zeros(COUNT),
        together=_octaves(together),
        counted=_octaves(-10.0 * np.log10(both)),
    )


def _cascaded(parts: tuple[Element, ...], added: Array, air: Air) -> Array:
    """Loss of the chain between matched ducts: four-poles as far as both fields reach, then the sum."""
    first, second = parts[0], parts[-1]
    ends = (
        characteristic_impedance(area, air.density, air.sound_speed)
        for area in (first.section.area, second.outlet.area)
    )
    whole = transmission_loss(cascade([part.four_pole(air) for part in parts]), *ends)
    count = min(box.field.frequency.size for box in (first, second) if isinstance(box, BuiltBox) and box.field)
    return np.concatenate([whole[:count], added[count:]])


def _limit(first: BuiltBox, second: BuiltBox) -> float:
    assert first.field is not None
    assert second.field is not None
    return min(first.field.limit, second.field.limit)


def _octaves(lines: Array) -> Bands:
    """Mean transmitted energy of each octave, as a loss, dB."""
    passed = 10.0 ** (-lines / 10.0)
    return np.asarray(-10.0 * np.log10(passed.reshape(COUNT, LINES_PER_BAND).mean(axis=1)))
