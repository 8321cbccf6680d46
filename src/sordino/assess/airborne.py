"""Sound that reaches a place through surfaces: casings, duct walls letting sound out, and the shells between places."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np

from sordino.assess.acoustics import Acoustics
from sordino.assess.airflow import AirState
from sordino.assess.carriage import Carriage
from sordino.assess.contribution import Cause, Contribution
from sordino.assess.ducted import fan_strength, made
from sordino.assess.routes import End
from sordino.assess.sources import Strength, port_power
from sordino.assess.spread import half_width, joined
from sordino.assess.stations import Station
from sordino.bands import Bands, add, energy_sum
from sordino.elements.element import Wall
from sordino.physics.sound.breakout import effective_length
from sordino.physics.sound.rooms import diffuse_level_difference
from sordino.plan.shell import Shell

DIFFUSE_TO_PLANE = -6.0
"""Sound power on a surface under a diffuse field: Lp + 10 lg S - 6 dB."""


def casings(model: Acoustics, place: str, gain: Bands, state: AirState) -> Iterator[Contribution]:
    """Movers that stand in a place."""
    for key, mover in model.plan.mover.items():
        if mover.within == place:
            strength = casing_power(model, key, state)
            yield Contribution(
                cause="casing",
                origin=key,
                via="",
                station="casing",
                levels=strength.levels + gain,
                spread=joined(strength.spread, model.fields[place].spread if place in model.fields else {}),
            )


def casing_power(model: Acoustics, key: str, state: AirState) -> Strength:
    """Sound power of a mover's casing in a mode; silent if nothing is known of it."""
    mover = model.plan.mover[key]
    return port_power(key, mover, "casing", model.plan.mode[state.mode].speeds.get(key, 1.0))


def breakouts(model: Acoustics, place: str, gain: Bands, state: AirState) -> Iterator[Contribution]:
    """Sound of fans and moving air that leaves ducts by their walls inside a place."""
    setting = model.plan.mode[state.mode]

    def strength(carried: Carriage, station: Station) -> Strength:
        return fan_strength(model, carried.route.start, setting)

    ways = [model.carried(route) for route in model.past(place) if route.start.kind == "mover"]
    yield from _through_walls(model, place, gain, ways, strength, lambda station: made(model, station, state))


def breakouts_from(model: Acoustics, place: str, gain: Bands, levels: dict[str, Strength]) -> Iterator[Contribution]:
    """Sound of other places that is in the ducts and leaves them by their walls inside a place."""
    ways = [
        model.carried(route)
        for route in model.past(place)
        if route.start.kind != "mover" and route.start.place in levels
    ]

    def strength(carried: Carriage, station: Station) -> Strength:
        return levels[carried.route.start.place]

    for sound in _through_walls(model, place, gain, ways, strength, lambda station: None):
        yield replace(sound, cause="source", station=f"{sound.station} wall")


def _through_walls(
    model: Acoustics,
    place: str,
    gain: Bands,
    ways: list[Carriage],
    strength: Callable[[Carriage, Station], Strength],
    own: Callable[[Station], Bands | None],
) -> Iterator[Contribution]:
    """What each duct wall in a place lets out of each source, by the loudest route that passes it."""
    loudest: dict[tuple[int, End], Contribution] = {}
    field = model.fields[place].spread if place in model.fields else {}
    for carried in ways:
        for index, station in enumerate(carried.stations):
            part = station.part
            wall = station.wall if part is not None and part.within == place else None
            if wall is None:
                continue
            source, air = strength(carried, station), own(station)
            inside = source.levels + carried.inside[index]
            sound = Contribution(
                cause="breakout",
                origin=station.run if carried.route.start.kind == "mover" else carried.route.start.place,
                via=station.run,
                station=station.label,
                levels=escaping(inside if air is None else add(inside, air), wall, station.loss) + gain,
                spread=joined(
                    source.spread, {wall.scatter: half_width(wall.scatter)}, carried.spread_before(index), field
                ),
            )
            key = (id(part), carried.route.start)
            if key not in loudest or _whole(sound.levels) > _whole(loudest[key].levels):
                loudest[key] = sound
    yield from loudest.values()


def _whole(levels: Bands) -> float:
    return float(np.nansum(10.0 ** (levels / 10.0)))


def escaping(inside: Bands, wall: Wall, drop: Bands) -> Bands:
    """Sound power through a duct wall: Lw - TL + 10 lg(Ao/Ai), the outer area shortened by the loss along the way.

    The wall of a box with a solved field knows already how loud each face is, and is not shortened again.

    L_eff/L = (1 - 10^(-D/10)) 10 / (D ln 10) for a loss of D dB over the section. What leaves by the wall is lost to
    the duct, so it is never more than the share 1 - 10^(-D/10) of what is inside; cutting a duct changes nothing.
    """
    lost = 1.0 - 10.0 ** (-np.maximum(drop, 1e-3) / 10.0)
    effective = wall.outer_area * (np.ones_like(drop) if wall.faded else effective_length(1.0, drop))
    out = inside - wall.breakout + 10.0 * np.log10(effective / wall.inner_area)
    return np.minimum(out, inside + 10.0 * np.log10(lost))


def machinery(model: Acoustics, state: AirState) -> dict[str, Strength]:
    """Levels that casings of movers and walls of ducts make in the enclosed spaces; the loudest says how sure."""
    found = {}
    for key in model.plan.space.keys() & model.fields.keys():
        gain = model.fields[key].gain
        sounds = [*casings(model, key, gain, state), *breakouts(model, key, gain, state)]
        if sounds:
            loudest = max(sounds, key=lambda sound: _whole(sound.levels))
            found[key] = Strength(levels=energy_sum([sound.levels for sound in sounds]), spread=loudest.spread)
    return found


def surroundings(model: Acoustics, machines: dict[str, Strength]) -> dict[str, Strength]:
    """Levels of the spaces that are not rooms: the noise stated for them, with that of the machines in them."""
    found = {}
    for key, space in model.plan.space.items():
        outdoors = model.plan.site.outdoor_noise if space.kind == "outside" else None
        stated = space.noise if space.noise is not None else outdoors
        levels = [np.array(stated)] if stated is not None else []
        machine = machines.get(key)
        if machine is not None:
            levels.append(machine.levels)
        if levels:
            width = {f"noise of {key}": np.full(9, 3.0)}
            found[key] = Strength(levels=energy_sum(levels), spread=joined(width, machine.spread if machine else {}))
    return found


def through_shells(model: Acoustics, place: str, levels: dict[str, Strength], cause: Cause) -> Iterator[Contribution]:
    """Sound of neighbouring places through the shells that part them from a room."""
    for name, shell in model.plan.shell.items():
        other = _other_side(shell, place)
        if other is None or other not in levels:
            continue
        absorption = model.fields[place].absorption
        yield Contribution(
            cause=cause,
            origin=other,
            via=name,
            station="",
            levels=levels[other].levels - diffuse_level_difference(shell.transmission_loss, shell.area, absorption),
            spread=joined(
                levels[other].spread,
                {shell.scatter_key: half_width(shell.scatter_key)},
                model.fields[place].spread,
            ),
        )


def shell_power(shell: Shell, level: Bands) -> Bands:
    """Sound power that a shell lets out of a place at `level` into the open, dB."""
    return level + 10.0 * np.log10(shell.area) + DIFFUSE_TO_PLANE - shell.transmission_loss


def _other_side(shell: Shell, place: str) -> str | None:
    first, second = shell.between
    return second if place == first else first if place == second else None
