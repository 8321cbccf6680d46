"""What each room and each neighbour's window will hear: of the ventilation, and of the sound made in the rooms."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from sordino.assess.acoustics import Acoustics
from sordino.assess.airborne import (
    breakouts,
    breakouts_from,
    casings,
    machinery,
    shell_power,
    surroundings,
    through_shells,
)
from sordino.assess.airflow import AirState
from sordino.assess.contribution import Contribution
from sordino.assess.ducted import from_air, from_around, from_fans, from_places
from sordino.assess.places import window_gain
from sordino.assess.sources import Strength, room_level
from sordino.assess.spread import half_width, joined
from sordino.bands import Bands, energy_sum


@dataclass(frozen=True, kw_only=True, slots=True)
class Heard:
    """All sounds at one receiver in one mode."""

    place: str
    mode: str
    contributions: tuple[Contribution, ...]

    @property
    def levels(self) -> Bands:
        """Sound pressure level of them all together, dB, shape (9,)."""
        return energy_sum([sound.levels for sound in self.contributions])


def ventilation(model: Acoustics, state: AirState) -> dict[str, Heard]:
    """Steady noise in every room and at every window in one mode."""
    places = (*model.plan.room, *(key for key, space in model.plan.space.items() if space.kind == "window"))
    return steady(model, state, places)


def steady(model: Acoustics, state: AirState, places: Iterable[str]) -> dict[str, Heard]:
    """Steady noise in these rooms and at these windows in one mode."""
    machines = machinery(model, state)
    around = surroundings(model, machines)
    direct: dict[str, tuple[Contribution, ...]] = {}

    def own(room: str) -> tuple[Contribution, ...]:
        if room not in direct:
            direct[room] = tuple(_in_room(model, room, state, machines, around))
        return direct[room]

    found = {}
    for place in places:
        if place in model.plan.room:
            others = {room: _as_source(sounds) for room in _heard_from(model, place) if (sounds := own(room))}
            sounds = (*own(place), *_from_rooms(model, place, others))
        else:
            sounds = tuple(_at_window(model, place, state))
        found[place] = Heard(place=place, mode=state.mode, contributions=sounds)
    return found


def _heard_from(model: Acoustics, place: str) -> list[str]:
    """Other rooms from which a room hears by a shell or by ducts, also through a mover."""
    shells = {room for shell in model.plan.shell.values() if place in shell.between for room in shell.between}
    arriving = [route.start for route in model.to(place)]
    ducts = {start.place for start in arriving}
    movers = {start.place for start in arriving if start.kind == "mover"}
    ducts |= {route.start.place for route in model.routes if route.end.kind == "mover" and route.end.place in movers}
    return [room for room in model.plan.room if room != place and room in shells | ducts]


def crosstalk(model: Acoustics, mode: str) -> dict[str, Heard]:
    """The loudest sound of every other room in every room and at every window, by ducts, their walls and shells."""
    made = {
        key: strength
        for key, room in model.plan.room.items()
        if (strength := room_level(room, model.fields[key])) is not None
    }
    found = {}
    for key in model.plan.room:
        others = {other: strength for other, strength in made.items() if other != key}
        field = model.fields[key]
        sounds = [
            *from_places(model, key, _same(field.gain), field.spread, others),
            *from_around(model, key, _same(field.gain), field.spread, others),
            *breakouts_from(model, key, field.gain, others),
            *through_shells(model, key, others, "source"),
        ]
        found[key] = Heard(place=key, mode=mode, contributions=tuple(sounds))
    for key, space in model.plan.space.items():
        if space.kind == "window":
            found[key] = Heard(place=key, mode=mode, contributions=tuple(_rooms_at_window(model, key, made)))
    return found


def _in_room(
    model: Acoustics, room: str, state: AirState, machines: dict[str, Strength], around: dict[str, Strength]
) -> Iterator[Contribution]:
    field, background = model.fields[room], model.plan.room[room].background
    gain = _same(field.gain)
    yield from from_fans(model, room, gain, field.spread, state)
    yield from from_air(model, room, gain, field.spread, state)
    yield from from_around(model, room, gain, field.spread, around)
    yield from casings(model, room, field.gain, state)
    yield from breakouts(model, room, field.gain, state)
    yield from from_places(model, room, gain, field.spread, around)
    yield from through_shells(model, room, around if background is None else machines, "background")
    if background is not None:
        width = {f"background of {room}": np.full(9, 3.0)}
        yield Contribution(
            cause="background", origin=room, via="", station="", levels=np.array(background), spread=width
        )


def _from_rooms(model: Acoustics, room: str, others: dict[str, Strength]) -> Iterator[Contribution]:
    """Ventilation noise of other rooms that comes on by transfer ducts and through shells."""
    field = model.fields[room]
    for sound in (
        *from_places(model, room, _same(field.gain), field.spread, others),
        *through_shells(model, room, others, "through room"),
    ):
        yield replace(sound, cause="through room")


def _as_source(sounds: tuple[Contribution, ...]) -> Strength:
    """A room's ventilation noise as a source to its neighbours; its loudest part says how sure it is."""
    total = energy_sum([sound.levels for sound in sounds])
    loudest = max(sounds, key=lambda sound: float(np.nansum(10.0 ** (sound.levels[1:] / 10.0))))
    return Strength(levels=total, spread=loudest.spread)


def _at_window(model: Acoustics, key: str, state: AirState) -> Iterator[Contribution]:
    """Ventilation noise at a neighbour's window, from the outside ends of ducts and casings in the open."""
    gain = _window(model, key)
    for outside in _outdoors(model):
        yield from from_fans(model, outside, gain, {"sound outdoors": np.full(9, 3.0)}, state)
        yield from from_air(model, outside, gain, {"sound outdoors": np.full(9, 3.0)}, state)
        yield from casings(model, outside, gain(""), state)


def _rooms_at_window(model: Acoustics, key: str, made: dict[str, Strength]) -> Iterator[Contribution]:
    gain, width = _window(model, key), {"sound outdoors": np.full(9, 3.0)}
    for outside in _outdoors(model):
        yield from from_places(model, outside, gain, width, made)
        for name, shell in model.plan.shell.items():
            room = next((place for place in shell.between if place in made), None)
            if room is not None and outside in shell.between:
                yield Contribution(
                    cause="source",
                    origin=room,
                    via=name,
                    station="",
                    levels=shell_power(shell, made[room].levels) + gain(""),
                    spread=joined(made[room].spread, {shell.scatter_key: half_width(shell.scatter_key)}, width),
                )


def _outdoors(model: Acoustics) -> list[str]:
    return [key for key, space in model.plan.space.items() if space.kind == "outside"]


def _window(model: Acoustics, key: str) -> Callable[[str], Bands]:
    space = model.plan.space[key]
    nearest = min([space.distance or 1e9, *space.distances.values()])

    def gain(run: str) -> Bands:
        distance = space.distances.get(run, space.distance or nearest)
        return np.full(9, window_gain(distance if run else nearest))

    return gain


def _same(gain: Bands) -> Callable[[str], Bands]:
    return lambda run: gain
