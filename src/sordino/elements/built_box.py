"""A lined box as built into a run: its layout, its sound field once solved, its pressure drop and its walls.

Below 0.9 of the ducts' cut-on the box is what the field says; above, the loss goes on from the last value the field
gives towards the handbook estimate of lined passage and bends, and never counts for more than the ceiling.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache, cached_property
from typing import Any, Self

import numpy as np
from pydantic import Field

from sordino.bands import COUNT, LINES, LINES_PER_BAND, Array, Bands, add, at_lines
from sordino.elements import box_as_built, box_walls
from sordino.elements.box import Box
from sordino.elements.box_estimate import estimate, line_of_sight
from sordino.elements.box_field import BoxField
from sordino.elements.box_layout import Layout, Station, layout
from sordino.elements.box_pieces import Piece, pieces
from sordino.elements.element import Wall, local_loss
from sordino.elements.flexible_duct import slack_factor
from sordino.elements.lined_box import LinedBox
from sordino.physics.air import areas, bends
from sordino.physics.air.friction import friction_drop, roughness
from sordino.physics.air.properties import Air
from sordino.physics.sound.flow_noise import bend_noise
from sordino.physics.sound.fourpole import lossy_line
from sordino.tables import table

STEEPEST = 12.0
"""Most that the loss may fall in an octave where it leaves the field, so that the join has no jump, dB (judgement)."""
FAST = 1e6
"""A Reynolds number at which a mitred bend has its whole coefficient."""
KINK = 1.0
"""Centreline radius of a flexible bend over its diameter under which makers warn."""


class BuiltBox(LinedBox):
    """A lined box with its statement and, once solved, its field. Made by the plan, never written in a file."""

    build: Box
    solved: Any = Field(default=None, description="the BoxField, once the sound field has been solved")

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy; what was worked out for another section or statement is not taken over."""
        copy = super().model_copy(update=update, deep=deep)
        if copy.size != self.size or copy.build != self.build:
            copy.__dict__.pop("layout", None)
            copy.__dict__.pop("pieces", None)
            copy.__dict__["solved"] = (update or {}).get("solved")
        return copy

    @cached_property
    def layout(self) -> Layout:
        """The laid-out box."""
        return layout(self.build, self.section)

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """Every board, divider, fibre and duct that it is made of."""
        return pieces(self.build, self.layout)

    @property
    def field(self) -> BoxField | None:
        """The sound field, if it has been solved."""
        found: BoxField | None = self.solved
        return found

    @property
    def path_length(self) -> float:
        return self.layout.length

    def velocities(self, flow: float) -> dict[str, float]:
        narrow = self.layout.narrowest
        return {f"box {narrow.label}": abs(flow) / narrow.size.area, "duct": self.velocity(flow)}

    def pressure_loss(self, flow: float, air: Air) -> float:
        return self.pressure_curve(air)(flow)

    def pressure_curve(self, air: Air) -> Callable[[float], float]:
        curves = tuple(self._pressure_curves(air).values())
        return lambda flow: sum([curve(flow) for curve in curves])

    def pressure_lines(self, flow: float, air: Air) -> dict[str, float]:
        """Pressure lost in the box, line by line in the order in which the air meets it, Pa."""
        return {label: curve(flow) for label, curve in self._pressure_curves(air).items()}

    def _pressure_curves(self, air: Air) -> dict[str, Callable[[float], float]]:
        stations, duct = self.layout.stations, self.section.area
        curves = {"entry": _step(duct, stations[0].size.area, air)} | self._slant_curves(air)
        for station in stations:
            curves[station.label] = self._friction_curve(station, air)
            if station.turns:
                curves[f"turns after {station.label}"] = self._turns_curve(station, air)
        return curves | {"exit": _step(stations[-1].size.area, duct, air)}

    def _slant_curves(self, air: Air) -> dict[str, Callable[[float], float]]:
        """At each duct that stands at a slant the air turns as in a mitred bend of that angle."""
        found: dict[str, Callable[[float], float]] = {}
        for name, port in zip(("inlet", "outlet"), self.layout.prism.ports, strict=True):
            if port.slant:
                turn = float(bends.mitred_round(np.degrees(abs(port.slant)), FAST))
                found[f"slant of the {name}"] = _squared(turn, self.section.area, air)
        return found

    def _friction_curve(self, station: Station, air: Air) -> Callable[[float], float]:
        folded, size = self.build.holds_duct, station.size
        area, diameter, length = size.area, size.hydraulic_diameter, station.length
        rough = roughness("flexible" if folded else "lined")
        slack = slack_factor(self.build.pull, size.diameter) if folded else 1.0
        return lambda flow: slack * friction_drop(abs(flow), area, diameter, length, rough, air)

    def _turns_curve(self, station: Station, air: Air) -> Callable[[float], float]:
        size, turns = station.size, station.turns
        if self.layout.radius is not None:
            one = bends.flexible_bend(90.0, self.layout.radius / size.diameter)
            return _squared(turns * float(one), size.area, air)
        whole = _squared(turns * float(bends.mitred_rectangular(90.0, size.width, size.height, FAST)), size.area, air)
        per_flow = air.density / size.area * size.hydraulic_diameter / air.viscosity
        return lambda flow: whole(flow) * float(bends.reynolds_factor(per_flow * abs(flow)))

    def attenuation(self, air: Air) -> Bands:
        """Loss between matched ducts per octave, dB: the mean transmitted energy of each band."""
        passed = 10.0 ** (-self.loss_at_lines(air) / 10.0)
        return -10.0 * np.log10(passed.reshape(COUNT, LINES_PER_BAND).mean(axis=1))

    def loss_at_lines(self, air: Air) -> Array:
        """Loss at LINES, dB: as measured; else the field as far as it goes, then its extension."""
        found = self._predicted_at_lines(air)
        return np.where(np.isfinite(self.measured_at_lines), self.measured_at_lines, found)

    def _predicted_at_lines(self, air: Air) -> Array:
        guess = at_lines(estimate(self.build, self.layout, self.section, air))
        if self.field is None:
            return guess
        return joined(self.field, guess * line_of_sight(self.build, self.layout, air))

    @property
    def measured_at_lines(self) -> Array:
        """Loss as measured in place, at LINES, dB; NaN where it was not."""
        return np.repeat(np.full(COUNT, np.nan) if self.build.measured is None else self.build.measured, LINES_PER_BAND)

    def four_pole(self, air: Air) -> Array:
        """The field's four-pole; beyond its limit, and where a loss was measured, a matched attenuator."""
        loss = self.loss_at_lines(air)
        whole = lossy_line(LINES, self.path_length, self.wave_area, loss, air.density, air.sound_speed)
        if self.field is not None:
            told = np.flatnonzero(np.isnan(self.measured_at_lines[: self.field.frequency.size]))
            whole[told] = self.field.pole[told]
        return whole

    @property
    def wave_area(self) -> float:
        """Gross section of one pass, which the wave fills, fibre and all."""
        return self.build.standing[1] * self.build.pass_height

    def own_spread(self) -> dict[str, Bands] | None:
        """Half-width of the loss from what is unknown of the fibre and its frame, and from the grid; None unsolved."""
        if self.field is None:
            return None
        low, high = self.field.range
        half = octave_of((high - low) / 2.0 + self.field.error + self.field.grid)
        if self.build.measured is None:
            return {f"fibre and frame in box {self.box}": half}
        known = np.isfinite(self.build.measured)
        return {
            f"fibre and frame in box {self.box}": np.where(known, 0.0, half),
            f"measured loss of box {self.box}": np.where(known, box_as_built.SURE, 0.0),
        }

    def own_noise(self, flow: float, air: Air) -> Bands:
        """Turbulence at the turns of the passage, at the outlet, after nothing has been taken off, dB."""
        size = self.layout.narrowest.size
        one = bend_noise(abs(flow) / size.area, size.area, size.height)
        return one + 10.0 * np.log10(max(self.layout.turns, 1))

    def ceiling(self) -> Bands:
        """What goes round the passage: out through the casing and back in, and the stated default, dB.

        Sound through dividers and through a flexible duct's core is in the field; gaps and joints are in the default.
        """
        most = -add(-default_ceiling(), -box_walls.there_and_back(self.build, self.section, self.field))
        heard = self.build.measured
        return most if heard is None else np.where(np.isfinite(heard), box_as_built.OPEN, most)

    def wall(self) -> Wall:
        return box_walls.wall(self.build, self.section, self.field, self.wave_area)

    def notes(self) -> tuple[str, ...]:
        told = (
            () if self.field is not None else ("the box's loss is a handbook estimate; its sound field is not solved",)
        )
        radius = self.layout.radius
        if radius is not None and radius < KINK * self.layout.stations[0].size.diameter - 1e-9:
            told = (*told, f"the flexible duct bends with {1e3 * radius:.0f} mm, under one diameter: it may kink")
        return (*told, *self._measured_notes())

    def _measured_notes(self) -> tuple[str, ...]:
        drawn = [
            f"{key} {1e3 * getattr(self.build, key):.0f} mm as measured (drawn {1e3 * was:.0f} mm)"
            for key, was in self.build.drawn.items()
        ]
        loss = self.build.measured
        heard = [] if loss is None else [f"loss as measured in place at {box_as_built.bands_told(np.array(loss))}"]
        return (*drawn, *heard)


def joined(field: BoxField, guess: Array) -> Array:
    """The field's loss to its limit; beyond, the estimate, no more than the last value and without a jump down."""
    count = field.frequency.size
    last = float(-10.0 * np.log10(np.mean(10.0 ** (-field.loss[-3:] / 10.0)))) if count else float(guess[0])
    above = np.log2(LINES[count:] / (field.limit if count else LINES[0]))
    beyond = np.minimum(last, np.maximum(guess[count:], last - STEEPEST * np.maximum(above, 0.0)))
    return np.concatenate([field.loss, beyond])


def octave_of(lines: Array) -> Bands:
    """Mean over each band of what is known at the first lines; the last known band holds above."""
    bands = [lines[i * LINES_PER_BAND : (i + 1) * LINES_PER_BAND] for i in range(COUNT)]
    known = [float(np.mean(band)) for band in bands if band.size]
    return np.array(known + [known[-1]] * (COUNT - len(known)))


def default_ceiling() -> Bands:
    """The stated default of the most that one box can give, dB, shape (9,) (judgement, half-width 5 dB)."""
    known = table("sound/ceiling")
    return np.array(known.numbers(*known.columns)[0])


@cache
def _squared(coefficient: float, area: float, air: Air) -> Callable[[float], float]:
    """Pressure lost by a constant coefficient on the velocity pressure in `area`."""
    one = local_loss(coefficient, 1.0, area, air)
    return lambda flow: one * flow * flow


def _step(before: float, after: float, air: Air) -> Callable[[float], float]:
    change = areas.sudden_expansion if after > before else areas.sudden_contraction
    return _squared(float(change(before, after)), min(before, after), air)
