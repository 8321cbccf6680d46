"""How much of a sound gets from one duct end to another: four-poles below cut-on, energies above, joined by line.

Below 0.9 of the lowest cut-on of the ducts passed, the route is a cascade of four-poles between the impedance of
its source and that of its end, and what a station takes is the drop of net power across it. Above, each station
takes its handbook loss and the open end its end reflection. Each of nine frequencies a band goes by one or the
other; bands are sums of power over their frequencies. Whatever the method, a station with a ceiling passes at
least what goes round it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.assess.routes import End, Leg, Route
from sordino.assess.spread import Spread, half_width, joined
from sordino.assess.stations import Station, Stations
from sordino.bands import LINES, LINES_PER_BAND, Array, Bands, at_lines, band_sum
from sordino.physics.sound.ends import capture_area, end_reflection
from sordino.physics.sound.fourpole import matched_fraction, transmission, transmission_loss

PLANE_SHARE = 0.9
"""Share of cut-on up to which plane waves are trusted."""
MOST_SOURCE_SPREAD = 10.0
NONE = 1e-300
"""Power fraction that stands for none at all."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Carriage:
    """What a route does to sound, in dB of power; gains are negative."""

    route: Route
    stations: tuple[Station, ...]
    entering: Bands
    """Power in the duct's first plane over the source's strength: a mover's sound power, or Lp of a diffuse field."""
    drops: Bands
    """Loss at each station, shape (n, 9)."""
    ending: Bands
    """Loss at the far end where it is not already inside the cascade, shape (9,)."""
    total: Bands
    """From the source's strength to the power that leaves the far end, shape (9,)."""
    arriving: Bands
    """From the source's strength to the power at each plane, shape (n + 1, 9)."""
    inside: Bands
    """From the source's strength to the sound inside each station at its near end, waves both ways, shape (n, 9)."""
    onward: Bands
    """From sound made in each station to the power that leaves the far end, shape (n, 9)."""
    spreads: tuple[Spread, ...]
    """Half-widths by cause: of the near end, of each station in turn, of the far end."""
    spread: Spread
    """Half-widths of `total` by cause."""
    plane_up_to: float
    """Frequency up to which the cascade holds, Hz."""

    def spread_before(self, index: int) -> Spread:
        """Half-widths of what reaches a station."""
        return joined(*self.spreads[: index + 1])

    def spread_after(self, index: int) -> Spread:
        """Half-widths of what a station's own sound meets on its way."""
        return joined(*self.spreads[index + 2 :])


def carriage(stations: Stations, route: Route) -> Carriage:
    """The carriage of one route."""
    chain = stations.along(route)
    limit = PLANE_SHARE * stations.cut_on(route)
    plane = limit > LINES
    source, load = _source_impedance(stations, route), stations.end_impedance(route.legs[-1], route.end)
    wave = transmission([station.pole for station in chain], load, source)
    energy_ratio = np.stack([10.0 ** (-station.loss_at_lines() / 10.0) for station in chain] or [np.ones_like(LINES)])
    wave_ratio = wave.power[1:] / wave.power[:-1] if chain else energy_ratio
    bypass = np.ones_like(energy_ratio)
    for place, station in enumerate(chain):
        if station.ceiling is not None:
            bypass[place] = _bypass(stations, station, station.ceiling, plane)
    ratio = np.where(plane, wave_ratio, energy_ratio) * bypass
    entering = _entering(stations, route, wave.power[0], plane)
    ending = np.where(plane, 1.0, _ending(stations, route))
    power = np.cumprod(np.concatenate([entering[None], ratio]), axis=0)[: len(chain) + 1]
    leaving = power[-1] * ending
    coupled = _coupling(stations, chain, wave.impedance[1:], plane)
    standing = _standing(stations, chain, wave.impedance[: len(chain)], plane)
    arriving = _level(power)
    total = _level(leaving)
    masked = _mask(chain)
    spreads = (
        _end_spread(stations, route.legs[0].turned(), route.start)
        | _source_spread(route, wave.impedance[0], source, power, leaving, plane),
        *(_station_spread(station, around) for station, around in zip(chain, bypass, strict=False)),
        _end_spread(stations, route.legs[-1], route.end),
    )
    return Carriage(
        route=route,
        stations=chain,
        entering=arriving[0] + masked,
        drops=arriving[:-1] - arriving[1:] + masked,
        ending=arriving[-1] - total + masked,
        total=total + masked,
        arriving=arriving + masked,
        inside=_level(standing * power[:-1]) + masked if chain else np.zeros((0, 9)),
        onward=_level(coupled * leaving / np.maximum(power[1:], NONE)) + masked if chain else np.zeros((0, 9)),
        spreads=spreads,
        spread=joined(*spreads),
        plane_up_to=limit,
    )


def _level(power: Array) -> Bands:
    """Band level of a power fraction given at LINES, for a source of equal power at every line."""
    return 10.0 * np.log10(np.maximum(band_sum(power) / LINES_PER_BAND, 1e-20))


def _mask(chain: tuple[Station, ...]) -> Bands:
    """Zero, or NaN in the bands for which some station has no data."""
    return np.sum([0.0 * station.loss for station in chain], axis=0) if chain else np.zeros(9)


def _source_impedance(stations: Stations, route: Route) -> Array:
    first = route.legs[0]
    if route.start.kind == "mover":
        return np.full(LINES.shape, stations.matched(stations.start_area(first)), dtype=complex)
    return stations.end_impedance(first.turned(), route.start)


def _entering(stations: Stations, route: Route, matched: Array, plane: Array) -> Array:
    """Power in the first plane over source strength: a fan's Lw, or the diffuse level at an opening."""
    if route.start.kind == "mover":
        return np.where(plane, matched, 1.0)
    end = stations.terminal(route.legs[0].turned())
    c = stations.air.sound_speed
    return np.where(
        plane,
        matched * (c / LINES) ** 2 / (4.0 * np.pi),
        capture_area(LINES, end.mouth.area, end.flush, c),
    )


def _ending(stations: Stations, route: Route) -> Array:
    if route.end.kind == "mover":
        return np.ones_like(LINES)
    end = stations.terminal(route.legs[-1])
    return 10.0 ** (-end_reflection(LINES, end.mouth.area, end.flush, stations.air.sound_speed) / 10.0)


def _bypass(stations: Stations, station: Station, ceiling: Bands, plane: Array) -> Array:
    """Factor by which what goes round a station raises what it passes: 1 + 10^((TL - ceiling)/10)."""
    z_in, z_out = stations.matched(station.area_in), stations.matched(station.area_out)
    loss = np.where(plane, transmission_loss(station.pole, z_in, z_out), station.loss_at_lines())
    return 1.0 + 10.0 ** ((loss - at_lines(ceiling)) / 10.0)


def _coupling(stations: Stations, chain: tuple[Station, ...], load: Array, plane: Array) -> Array:
    """Share of the sound made in each station that enters what lies beyond it, (n, 81): matched to its duct."""
    z = np.array([stations.matched(station.area_out) for station in chain])
    return np.where(plane, matched_fraction(z[:, None], load), 1.0)


def _standing(stations: Stations, chain: tuple[Station, ...], load: Array, plane: Array) -> Array:
    """Power of the waves both ways over their net power: (|Z|^2 + Zc^2)/(2 Zc Re Z) = (1 + |R|^2)/(1 - |R|^2)."""
    areas = [_near_area(station) for station in chain]
    z = np.array([stations.matched(area) for area in areas])[:, None]
    return np.where(plane, (np.abs(load) ** 2 + z**2) / (2.0 * z * np.real(load)), 1.0)


def _near_area(station: Station) -> float:
    """Section whose waves a station's wall hears, m2; a solved field is told by those of the duct that it joins."""
    if station.part is None or (station.wall is not None and station.wall.faded):
        return station.area_in
    return station.part.wave_area


def _station_spread(station: Station, around: Array) -> Spread:
    """Scatter of a station's loss, as far as the sound goes through it, and of its ceiling as far as it goes round."""
    spread = dict(station.spread)
    if station.ceiling is not None:
        through = band_sum(1.0 / around) / LINES_PER_BAND
        spread = {key: width * through for key, width in spread.items()}
        spread["default ceiling"] = half_width("default ceiling") * (1.0 - through)
    return spread


def _end_spread(stations: Stations, leg: Leg, end: End) -> Spread:
    """Scatter of the open end in which a leg ends; none at a mover."""
    if end.kind == "mover":
        return {}
    key = stations.terminal(leg).scatter_key
    return {key: half_width(key)}


def _source_spread(route: Route, load: Array, source: Array, power: Array, leaving: Array, plane: Array) -> Spread:
    """How far a mover of unknown impedance, taken as matched, may be from a rigid or an open one."""
    if route.start.kind != "mover":
        return {}
    z = np.real(source)
    rigid, opened = np.real(load) / z, z * np.real(load) / np.abs(load) ** 2
    beyond = leaving / power[0]
    base = _level(leaving)
    away = [np.abs(_level(np.where(plane, start, 1.0) * beyond) - base) for start in (rigid, opened)]
    width = np.minimum(np.maximum(*away), MOST_SOURCE_SPREAD)
    return {f"how {route.start.place} meets its duct": width}
