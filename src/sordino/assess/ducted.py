"""Sound that reaches a place through ducts: fans, moving air, break-in, and sound from other places."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator

import numpy as np

from sordino.assess.acoustics import Acoustics
from sordino.assess.airflow import AirState
from sordino.assess.carriage import Carriage
from sordino.assess.contribution import Contribution, Row
from sordino.assess.routes import End, Route
from sordino.assess.sources import Strength, port_power, through_mover
from sordino.assess.spread import Spread, half_width, joined
from sordino.assess.stations import Station
from sordino.bands import Bands, add
from sordino.plan.statement import Mode

ONE_WAY = -3.0
"""Half of the sound that breaks into a duct goes each way, dB."""
FLOW_EXPONENT = 50.0
"""Air noise goes by about 50 to 60 lg of flow; used for the scatter of the flow only."""


Gain = Callable[[str], Bands]
"""Lp - Lw at the listener for the opening of a run, by the run's name, dB."""


def last_run(carried: Carriage) -> str:
    """The run by whose opening a route arrives."""
    return carried.route.legs[-1].run


def fan_strength(model: Acoustics, end: End, setting: Mode) -> Strength:
    """Sound power of the mover port that a route starts at."""
    mover = model.plan.mover[end.place]
    return port_power(end.place, mover, end.port, setting.speeds.get(end.place, 1.0))


def made(model: Acoustics, station: Station, state: AirState) -> Bands | None:
    """Sound power that the air makes in a station, dB."""
    if station.part is None:
        return model.plan.junction[station.label.partition(" ")[2]].own_noise(
            abs(state.flows[station.run]) / station.area_out, station.area_out
        )
    return model.stations.own_noise(station.part, state.flows[station.run])


def terminal_noise(model: Acoustics, carried: Carriage, state: AirState) -> Bands | None:
    """Sound power that the air makes at the grille or bare end, let straight into the place."""
    leg = carried.route.legs[-1]
    return model.stations.terminal(leg).own_noise(state.flows[leg.run], model.air)


def from_fans(model: Acoustics, place: str, gain: Gain, field: Spread, state: AirState) -> Iterator[Contribution]:
    """Fan noise by every route from a mover's port to a place, each with its schedule."""
    setting = model.plan.mode[state.mode]
    for route in model.to(place):
        if route.start.kind != "mover":
            continue
        carried, strength = model.carried(route), fan_strength(model, route.start, setting)
        yield Contribution(
            cause="fan",
            origin=carried.route.start.place,
            via=carried.route.name(),
            station=carried.route.start.port,
            levels=strength.levels + carried.total + gain(last_run(carried)),
            spread=joined(strength.spread, carried.spread, field),
            rows=schedule(model, carried, strength.levels, gain(last_run(carried)), state),
        )


def from_air(model: Acoustics, place: str, gain: Gain, field: Spread, state: AirState) -> Iterator[Contribution]:
    """Noise of the moving air, station by station, each station once for each opening it is heard at."""
    heard: set[tuple[str, str, str]] = set()
    flow_width = np.full(9, FLOW_EXPONENT * np.log10(1.0 + state.flow_spread))
    for carried in _listening(model, place):
        leg = carried.route.legs[-1]
        for index, station in enumerate(carried.stations):
            key = (leg.run, station.run, f"{station.label}{id(station.part)}")
            own = None if key in heard else made(model, station, state)
            heard.add(key)
            if own is None:
                continue
            scatter = station.part.noise_scatter if station.part is not None else "junction noise"
            yield Contribution(
                cause="air",
                origin=station.run,
                via=leg.run,
                station=station.label,
                levels=own + carried.onward[index] + gain(leg.run),
                spread=joined(
                    {scatter: half_width(scatter), "air flow": flow_width}, carried.spread_after(index), field
                ),
            )
        if (leg.run, leg.run, "end") not in heard:
            heard.add((leg.run, leg.run, "end"))
            end = model.stations.terminal(leg)
            own = terminal_noise(model, carried, state)
            if own is not None:
                width = {end.noise_scatter: half_width(end.noise_scatter), "air flow": flow_width}
                yield Contribution(
                    cause="air",
                    origin=leg.run,
                    via=leg.run,
                    station=end.label(),
                    levels=own + gain(leg.run),
                    spread=joined(width, field),
                )


def from_around(
    model: Acoustics, place: str, gain: Gain, field: Spread, around: dict[str, Strength]
) -> Iterator[Contribution]:
    """Sound of the spaces that ducts pass through, breaking into the duct on its way to a place."""
    heard: set[tuple[str, int]] = set()
    for carried in _listening(model, place):
        for index, station in enumerate(carried.stations):
            part = station.part
            wall = station.wall
            if part is None or wall is None or part.within is None or part.within not in around:
                continue
            if part.within == place or (carried.route.legs[-1].run, id(part)) in heard:
                continue
            heard.add((carried.route.legs[-1].run, id(part)))
            outside = around[part.within]
            entering = outside.levels + 10.0 * np.log10(wall.outer_area / 4.0) - wall.breakin + ONE_WAY
            yield Contribution(
                cause="break-in",
                origin=part.within,
                via=carried.route.legs[-1].run,
                station=station.label,
                levels=entering + carried.onward[index] + gain(last_run(carried)),
                spread=joined(outside.spread, {"break-in": half_width("break-in")}, carried.spread_after(index), field),
            )


def from_places(
    model: Acoustics, place: str, gain: Gain, field: Spread, levels: dict[str, Strength]
) -> Iterator[Contribution]:
    """Sound of other rooms and of outdoors that comes in by the openings of their ducts."""
    for route in model.to(place):
        start = route.start
        if start.kind == "mover" or start.place not in levels:
            continue
        carried, strength = model.carried(route), levels[start.place]
        yield Contribution(
            cause="outdoors" if start.kind == "space" else "source",
            origin=start.place,
            via=carried.route.name(),
            station="",
            levels=strength.levels + carried.total + gain(last_run(carried)),
            spread=joined(strength.spread, carried.spread, field),
            rows=entering_schedule(model, carried, strength.levels, gain(last_run(carried))),
        )
    yield from _through_movers(model, place, gain, field, levels)


def _through_movers(
    model: Acoustics, place: str, gain: Gain, field: Spread, levels: dict[str, Strength]
) -> Iterator[Contribution]:
    """The same where a mover lies between: into one end of a stream, out of the other."""
    for route in model.to(place):
        if route.start.kind != "mover":
            continue
        mover = model.plan.mover[route.start.place]
        for before in _beyond(model, route.start):
            origin = before.start.place
            if origin == place or origin not in levels:
                continue
            first, last, loss = model.carried(before), model.carried(route), through_mover(mover)
            width = {f"sound passing through {last.route.start.place}": np.full(9, 5.0)}
            yield Contribution(
                cause="outdoors" if first.route.start.kind == "space" else "source",
                origin=origin,
                via=f"{first.route.name()} + {last.route.start.place} + {last.route.name()}",
                station=last.route.start.place,
                levels=levels[origin].levels + first.total - loss + last.total + gain(last_run(last)),
                spread=joined(levels[origin].spread, first.spread, width, last.spread, field),
            )


def _beyond(model: Acoustics, port: End) -> Iterator[Route]:
    """Routes from places into the other end of the stream that a port belongs to."""
    for stream in model.plan.mover[port.place].streams:
        if port.port in stream:
            other = next(end for end in stream if end != port.port)
            for route in model.into_mover(End("mover", port.place, other)):
                if route.start.kind != "mover":
                    yield route


def _listening(model: Acoustics, place: str) -> tuple[Carriage, ...]:
    """Carriages by which the stations before each opening of a place are heard: from movers if there are any."""
    by_opening: dict[str, list[Route]] = {}
    for route in model.to(place):
        by_opening.setdefault(route.legs[-1].run, []).append(route)
    chosen: list[Route] = []
    for group in by_opening.values():
        chosen += [route for route in group if route.start.kind == "mover"] or group
    return tuple(model.carried(route) for route in chosen)


def schedule(model: Acoustics, carried: Carriage, strength: Bands, gain: Bands, state: AirState) -> tuple[Row, ...]:
    """The consultant's schedule of a route: sound power station by station, fan and air noise together."""
    level, titles = strength + carried.entering, _titles(carried.stations)
    rows = [
        Row(station="sound power of the fan", attenuation=None, own=None, level=strength),
        Row(station="coupling to the duct", attenuation=-carried.entering, own=None, level=level),
    ]
    for index, station in enumerate(carried.stations):
        own = made(model, station, state)
        level = level - carried.drops[index]
        if own is not None:
            coupled = own + carried.onward[index] - (carried.total - carried.arriving[index + 1])
            level = add(level, coupled)
        rows.append(Row(station=titles[index], attenuation=carried.drops[index], own=own, level=level))
    return (*rows, *_last_rows(model, carried, level, gain, terminal_noise(model, carried, state)))


def entering_schedule(model: Acoustics, carried: Carriage, strength: Bands, gain: Bands) -> tuple[Row, ...]:
    """The schedule of a route that starts in a place: its level, what enters the duct, what each station takes."""
    level, titles = strength + carried.entering, _titles(carried.stations)
    rows = [
        Row(station="level at the opening", attenuation=None, own=None, level=strength),
        Row(station="into the duct", attenuation=-carried.entering, own=None, level=level),
    ]
    for title, drop in zip(titles, carried.drops, strict=True):
        level = level - drop
        rows.append(Row(station=title, attenuation=drop, own=None, level=level))
    return (*rows, *_last_rows(model, carried, level, gain, None))


def _last_rows(model: Acoustics, carried: Carriage, level: Bands, gain: Bands, own: Bands | None) -> tuple[Row, ...]:
    inside = "included below cut-on" if carried.plane_up_to > 45.0 else ""
    level = level - carried.ending
    after = level if own is None else add(level, own)
    end = model.stations.terminal(carried.route.legs[-1])
    return (
        Row(station="end reflection", attenuation=carried.ending, own=None, level=level, note=inside),
        Row(station=end.label(), attenuation=np.zeros(9), own=own, level=after),
        Row(station="room effect", attenuation=-gain, own=None, level=after + gain),
    )


def _titles(stations: tuple[Station, ...]) -> list[str]:
    """What each station is called in a schedule; parts of several runs that share a label are told by their run."""
    labels = Counter(station.label for station in stations)
    return [_title(station, alike=labels[station.label] > 1) for station in stations]


def _title(station: Station, alike: bool) -> str:
    of = f" of {station.run}" if alike else ""
    within = f" in {station.part.within}" if station.part is not None and station.part.within else ""
    return f"{station.label}{of}{within}"
