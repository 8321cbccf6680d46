"""Everything that is known of one box of a plan in one mode: loss, ceiling, faces, air, noise, mass."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

import numpy as np

from sordino.assess.airflow import air_state
from sordino.assess.assessment import INDOOR_HUMIDITY, INDOOR_TEMPERATURE
from sordino.assess.box_faces import FaceShare, face_shares
from sordino.assess.box_loss import (
    Dip,
    LossBands,
    Validity,
    counted,
    counted_range,
    dips,
    divider_cost,
    octaves,
    ruling,
    thirds,
    validity,
)
from sordino.assess.box_pair import BoxPair, box_pairs
from sordino.assess.boxes import field_of
from sordino.bands import CENTRES, Bands
from sordino.elements import box_walls
from sordino.elements.box_estimate import estimate
from sordino.elements.box_field import LIVE, BoxField
from sordino.elements.built_box import BuiltBox, default_ceiling
from sordino.physics.air.properties import Air, air_at
from sordino.plan.statement import Plan

DIPS = 3
"""Dips that are told of."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """Where a box stands: its run, itself as built there, and the space around it."""

    run: str
    built: BuiltBox
    within: str


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxAir:
    """Air through the box in one mode."""

    mode: str
    flow: float
    """m3/s, along the run's direction."""
    lines: dict[str, float]
    """Pressure lost, line by line, Pa."""
    narrowest: str
    free_area: float
    velocity: float
    noise: Bands
    """Sound power made at the outlet, dB re 1 pW."""

    @property
    def loss(self) -> float:
        """Pressure lost in the box, Pa."""
        return sum(self.lines.values())


@dataclass(frozen=True, kw_only=True, slots=True)
class BoxAnswer:
    """One box, assessed."""

    name: str
    standing: Standing
    air: Air
    thirds: LossBands
    octaves: LossBands
    ceiling: Bands
    default_ceiling: Bands
    casing: Bands
    """Way out through the casing, face by face from the field, and back in, dB."""
    counted: Bands
    counted_low: Bands
    counted_high: Bands
    handbook: Bands
    """What handbook tables of lined passages and turns would say, without any sound field, dB."""
    dividers: Bands | None
    faces: tuple[FaceShare, ...]
    dips: tuple[Dip, ...]
    validity: Validity
    through: BoxAir
    pairs: tuple[BoxPair, ...]
    """With the next box of its run, either way."""
    notes: tuple[str, ...]

    @property
    def built(self) -> BuiltBox:
        """The box as built into its run."""
        return self.standing.built

    @property
    def weakest(self) -> int:
        """Index of the octave in which it counts for least, from 63 Hz up."""
        return 1 + int(np.argmin(self.counted[1:]))

    @property
    def heard_dips(self) -> tuple[Dip, ...]:
        """The deepest dips that count, from the 63 Hz octave up: where no more goes round the box than through it."""
        first = float(CENTRES[1]) / 2.0**0.5
        heard = (dip for dip in self.dips if dip.frequency >= first and dip.loss < self.ceiling[_octave(dip.frequency)])
        return tuple(islice(heard, DIPS))

    @property
    def rulers(self) -> tuple[str, ...]:
        """Which way lets most through in each octave."""
        return ruling(self.octaves.loss, self.casing, self.default_ceiling)

    @property
    def ruled(self) -> tuple[int, ...]:
        """Octaves from 63 Hz in which more comes round the passage than through it."""
        return tuple(band for band in range(1, CENTRES.size) if self.ceiling[band] < self.octaves.loss[band])


def _octave(frequency: float) -> int:
    return int(np.argmin(np.abs(np.log2(CENTRES / frequency))))


def standing(plan: Plan, name: str) -> Standing:
    """The place of a box in a fitted plan; a checked plan has just one for each."""
    return next(
        Standing(run=key, built=part, within=part.within or "")
        for key, run in plan.run.items()
        for part in run.parts
        if isinstance(part, BuiltBox) and part.box == name
    )


def indoor_air(plan: Plan) -> Air:
    """The air that a plan is assessed in."""
    return air_at(INDOOR_TEMPERATURE, INDOOR_HUMIDITY, plan.site.altitude)


def box_answer(
    plan: Plan, name: str, mode: str | None = None, size: float = LIVE, field: BoxField | None = None
) -> BoxAnswer:
    """Assess one box on cells of `size` m, in the stated mode or in that with the most air through it.

    A `field` of it that was solved before is taken as it is.
    """
    air, place = indoor_air(plan), standing(plan, name)
    found = field or field_of(place.built.build, place.built.section, air, size)
    built = place.built.model_copy(update={"solved": found})
    whole, ceiling = octaves(built, air, found), built.ceiling()
    casing = box_walls.there_and_back(built.build, built.section, found)
    low, high = counted_range(whole, casing, default_ceiling(), box_walls.scatter_key(built.build))
    return BoxAnswer(
        name=name,
        standing=Standing(run=place.run, built=built, within=place.within),
        air=air,
        thirds=thirds(found),
        octaves=whole,
        ceiling=ceiling,
        default_ceiling=default_ceiling(),
        casing=casing,
        counted=counted(whole.loss, ceiling),
        counted_low=low,
        counted_high=high,
        handbook=estimate(built.build, built.layout, built.section, air),
        dividers=divider_cost(found) if built.layout.prism.dividers else None,
        faces=face_shares(built, found),
        dips=dips(built, found, air),
        validity=validity(built, found),
        through=_through(built, *flow_through(plan, place.run, mode, air), air),
        pairs=box_pairs(plan, name, air),
        notes=built.notes(),
    )


def flow_through(plan: Plan, run: str, mode: str | None, air: Air) -> tuple[str, float]:
    """The mode that is spoken of, and its flow in a run, m3/s."""
    names = tuple(plan.mode) if mode is None else (mode,)
    flows = {key: air_state(plan, key, plan.mode[key].filters, air).flows[run] for key in names}
    most = max(flows, key=lambda key: abs(flows[key]))
    return most, flows[most]


def _through(built: BuiltBox, mode: str, flow: float, air: Air) -> BoxAir:
    narrow = built.layout.narrowest
    return BoxAir(
        mode=mode,
        flow=flow,
        lines=built.pressure_lines(flow, air),
        narrowest=narrow.label,
        free_area=narrow.size.area,
        velocity=abs(flow) / narrow.size.area,
        noise=built.own_noise(flow, air),
    )
