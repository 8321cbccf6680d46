"""What a box is predicted to take in place: between ends that reflect, a bare tube of its length there before."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.box_answer import BoxAnswer, box_answer, indoor_air
from sordino.assess.boxes import with_fields
from sordino.assess.spread import half_width as predicted_width
from sordino.bands import COUNT, LINES, LINES_PER_BAND, Array, Bands
from sordino.elements.built_box import BuiltBox
from sordino.elements.element import Element
from sordino.measure.levels import half_width
from sordino.measure.result import Predicted, predicted
from sordino.physics.sound.ends import radiation_impedance
from sordino.physics.sound.fourpole import characteristic_impedance, lossy_line
from sordino.plan.statement import Plan

SOURCES = (0.1, 1.0, 10.0)
"""Impedance of the loudspeaker's side over that of the duct: nearly open, matched, nearly rigid."""
COUNTS = 5
"""Octaves in which ends matter: 31.5 to 500 Hz. Above, an open end of any usual duct lets the sound out."""


def predicted_loss(plan: Plan, box: str) -> Predicted:
    """What the box counts for as stated, any measured loss left aside, widened by what its ends may do.

    The value is that between matched ducts. What nobody knows of a house's duct is what it sends back: the insertion
    loss is worked out for each of SOURCES and for a matched and an open far end, and the range takes all of them in.
    """
    bare = {key: build.model_copy(update={"measured": None}) for key, build in plan.box.items()}
    runs = {
        key: run.model_copy(update={"parts": tuple(_unmeasured(part) for part in run.parts)})
        for key, run in plan.run.items()
    }
    answer = box_answer(plan.model_copy(update={"box": bare, "run": runs}), box)
    least, most = end_effect(answer)
    ends = half_width("matched ducts")
    below, above = answer.counted - answer.counted_low, answer.counted_high - answer.counted
    return Predicted(
        level=answer.counted,
        low=answer.counted - np.hypot(below, ends) + np.minimum(least, 0.0),
        high=answer.counted + np.hypot(above, ends) + np.maximum(most, 0.0),
    )


def predicted_run_loss(plan: Plan, run: str) -> Predicted:
    """What the parts of a run take together between matched ducts, each as unsure as its method is."""
    air = indoor_air(plan)
    parts = with_fields(plan, air).run[run].parts
    level = np.sum([part.attenuation(air) for part in parts], axis=0)
    widths = [predicted_width(part.scatter_key) for part in parts if part.scatter_key]
    half = np.sqrt(
        np.sum([np.zeros(COUNT), *[width**2 for width in widths]], axis=0) + half_width("matched ducts") ** 2
    )
    return predicted(level, half)


def _unmeasured(part: Element) -> Element:
    if not isinstance(part, BuiltBox):
        return part
    return part.model_copy(update={"build": part.build.model_copy(update={"measured": None})})


def end_effect(answer: BoxAnswer) -> tuple[Bands, Bands]:
    """The least and the most by which the box's insertion loss differs from its transmission loss, dB per octave."""
    gaps = np.array([loss - answer.octaves.loss for loss in _losses(answer)])
    gaps[:, COUNTS:] = 0.0
    return gaps.min(axis=0), gaps.max(axis=0)


def _losses(answer: BoxAnswer) -> Iterator[Bands]:
    box, air = answer.built, answer.air
    area = box.section.area
    duct = characteristic_impedance(area, air.density, air.sound_speed)
    tube = lossy_line(LINES, box.build.length, area, 0.0, air.density, air.sound_speed)
    pole = box.four_pole(air)
    ends = (np.full(LINES.shape, duct + 0j), radiation_impedance(LINES, area, False, air.density, air.sound_speed))
    for end in ends:
        for source in SOURCES:
            heard = [_power(each, end, source * duct).reshape(COUNT, LINES_PER_BAND) for each in (tube, pole)]
            yield 10.0 * np.log10(heard[0].mean(axis=1) / heard[1].mean(axis=1))


def _power(pole: Array, end: Array, source: float) -> Array:
    """Squared pressure at the far end for a source pressure of 1: |Ze / (A Ze + B + Zs (C Ze + D))|^2."""
    a, b, c, d = pole[:, 0, 0], pole[:, 0, 1], pole[:, 1, 0], pole[:, 1, 1]
    return np.asarray(np.abs(end / (a * end + b + source * (c * end + d))) ** 2)
