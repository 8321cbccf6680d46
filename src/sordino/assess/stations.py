"""The stations of a route: what each part or junction does to sound on its way, ready for the cascade."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from sordino.assess.routes import End, Leg, Route, arms, end_at
from sordino.assess.spread import Spread, half_width
from sordino.bands import LINES, Array, Bands, at_lines
from sordino.elements.element import Element, Wall
from sordino.elements.grille import Grille
from sordino.elements.open_end import OpenEnd
from sordino.physics.air.properties import Air
from sordino.physics.sound import fourpole
from sordino.physics.sound.ends import radiation_impedance
from sordino.plan.statement import Plan


@dataclass(frozen=True, kw_only=True, slots=True)
class Station:
    """One part or junction as sound passes it."""

    label: str
    run: str
    part: Element | None
    pole: Array
    loss: Bands
    area_in: float
    area_out: float
    ceiling: Bands | None
    spread: Spread
    """Half-widths of the loss by cause, before what goes round it."""
    wall: Wall | None = None

    def loss_at_lines(self) -> Array:
        """Handbook loss at LINES, dB, shape (81,), no more than numbers hold."""
        return np.minimum(at_lines(self.loss), fourpole.MOST)


def _turned(station: Station) -> Station:
    """The same part met from its other end."""
    pole = fourpole.reversed_pole(station.pole)
    return replace(station, pole=pole, area_in=station.area_out, area_out=station.area_in)


class Stations:
    """The acoustic parts of one plan in one air, each worked out once; those that stay, once for changed plans too."""

    def __init__(self, plan: Plan, air: Air, before: Stations | None = None) -> None:
        self.plan, self.air = plan, air
        self._parts: dict[tuple[str, int], Station] = dict(before._parts) if before is not None else {}
        self._legs: dict[Leg, tuple[Station, ...]] = {}
        self._inward: dict[Leg, Array] = {}
        self._junctions: dict[tuple[Leg, Leg], Station] = {}
        self._noises: dict[tuple[int, float], Bands | None] = {}

    def along(self, route: Route) -> tuple[Station, ...]:
        """The stations of a route in the order in which sound meets them."""
        return tuple(self._along(route.legs))

    def cut_on(self, route: Route) -> float:
        """Lowest cut-on of the ducts and plenums along a route, Hz."""
        parts = [part for leg in route.legs for part in self.plan.run[leg.run].parts]
        nodes = {leg.nodes(self.plan)[1] for leg in route.legs[:-1]}
        limits = [part.cut_on(self.air) for part in parts]
        return min([20e3, *limits, *(self.plan.junction[node].cut_on(self.air) for node in nodes)])

    def terminal(self, leg: Leg) -> Grille | OpenEnd:
        """The grille or bare end in which a leg ends at a room or space."""
        part = self.plan.run[leg.run].parts[-1 if leg.forward else 0]
        assert isinstance(part, Grille | OpenEnd), "a run that ends at a room or space has a terminal there"
        return part

    def end_impedance(self, leg: Leg, end: End) -> Array:
        """What the last plane of a leg looks into, shape (81,): a mover taken as anechoic, or an open end."""
        if end.kind == "mover":
            area = self._end_area(leg)
            return np.full(LINES.shape, self.matched(area), dtype=complex)
        part = self.terminal(leg)
        return radiation_impedance(LINES, part.mouth.area, part.flush, self.air.density, self.air.sound_speed)

    def own_noise(self, part: Element, flow: float) -> Bands | None:
        """Sound power that the air makes in a part of the plan at a flow, dB; asked for by every route past it."""
        key = (id(part), flow)
        if key not in self._noises:
            self._noises[key] = part.own_noise(flow, self.air)
        return self._noises[key]

    def matched(self, area: float) -> float:
        """Characteristic impedance of a duct of that area."""
        return fourpole.characteristic_impedance(area, self.air.density, self.air.sound_speed)

    def start_area(self, leg: Leg) -> float:
        """Section of the duct in which a leg begins, m2."""
        return self._end_area(leg.turned())

    def _end_area(self, leg: Leg) -> float:
        run = self.plan.run[leg.run]
        if not run.parts:
            return run.size.area
        return run.parts[-1].outlet.area if leg.forward else run.parts[0].section.area

    def _along(self, legs: tuple[Leg, ...]) -> Iterator[Station]:
        for place, leg in enumerate(legs):
            if place:
                yield self._between(legs[place - 1], leg)
            yield from self.leg(leg)

    def leg(self, leg: Leg) -> tuple[Station, ...]:
        """The stations of one leg; its terminals are left out, since they belong to the ends."""
        if leg not in self._legs:
            parts = [part for part in self.plan.run[leg.run].parts if not part.terminal]
            ahead = [self._station(leg, part) for part in (parts if leg.forward else reversed(parts))]
            self._legs[leg] = tuple(ahead)
        return self._legs[leg]

    def _station(self, leg: Leg, part: Element) -> Station:
        made = self._parts.get((leg.run, id(part)))
        if made is None:  # a station holds its part, so that no other part can come by the same id
            made = self._parts[leg.run, id(part)] = self._with_the_air(leg.run, part)
        return made if leg.forward else _turned(made)

    def _with_the_air(self, run: str, part: Element) -> Station:
        loss = part.attenuation(self.air)
        return Station(
            label=part.label(),
            run=run,
            part=part,
            pole=part.four_pole(self.air),
            loss=loss,
            area_in=part.section.area,
            area_out=part.outlet.area,
            ceiling=part.ceiling(),
            spread=_spread(part.scatter_key, loss) if (own := part.own_spread()) is None else own,
            wall=part.wall(),
        )

    def _between(self, inward: Leg, onward: Leg) -> Station:
        if (inward, onward) not in self._junctions:
            self._junctions[inward, onward] = self._junction(inward, onward)
        return self._junctions[inward, onward]

    def _junction(self, inward: Leg, onward: Leg) -> Station:
        name = onward.nodes(self.plan)[0]
        others = [arm for arm in arms(self.plan, name) if arm.run not in (inward.run, onward.run)]
        half = self.plan.junction[name].half_pole(self.air)
        admittance = np.sum([1.0 / self._from_middle(half, arm) for arm in others], axis=0)
        leaving = [onward, *others]
        arriving = self._end_area(inward)
        loss = self.plan.junction[name].split(arriving, tuple(self.start_area(leg) for leg in leaving), 0)
        return Station(
            label=f"{self.plan.junction[name].kind} {name}",
            run=onward.run,
            part=None,
            pole=fourpole.cascade([half, fourpole.shunt(admittance), fourpole.reversed_pole(half)]),
            loss=loss,
            area_in=arriving,
            area_out=self.start_area(onward),
            ceiling=None,
            spread=_spread("plenum" if self.plan.junction[name].kind == "plenum" else "branch split", loss),
        )

    def _looking_into(self, leg: Leg) -> Array:
        """Impedance that a junction meets in one of its arms, shape (81,)."""
        if leg not in self._inward:
            node = leg.nodes(self.plan)[1]
            end = end_at(self.plan, node)
            beyond = self._meeting(leg, node) if end is None else self.end_impedance(leg, end)
            poles = [station.pole for station in self.leg(leg)]
            whole = fourpole.cascade(poles) if poles else None
            self._inward[leg] = beyond if whole is None else fourpole.input_impedance(whole, beyond)
        return self._inward[leg]

    def _meeting(self, inward: Leg, junction: str) -> Array:
        half = self.plan.junction[junction].half_pole(self.air)
        others = [arm for arm in arms(self.plan, junction) if arm.run != inward.run]
        middle = 1.0 / np.sum([1.0 / self._from_middle(half, arm) for arm in others], axis=0)
        return fourpole.input_impedance(half, middle)

    def _from_middle(self, half: Array, arm: Leg) -> Array:
        return fourpole.input_impedance(fourpole.reversed_pole(half), self._looking_into(arm))


def _spread(key: str, loss: Bands) -> Spread:
    """Half-width by a row of the scatter table, at most half of what is lost and half a decibel; none without a row."""
    return {key: np.minimum(half_width(key), 0.5 + 0.5 * np.abs(np.nan_to_num(loss)))} if key else {}
