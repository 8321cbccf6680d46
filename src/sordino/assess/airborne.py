"""Sound that reaches a place through surfaces: casings, duct walls letting sound out, and the shells between places."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.acoustics import Acoustics
from sordino.assess.airflow import AirState
from sordino.assess.contribution import Cause, Contribution
from sordino.assess.ducted import fan_strength, made
from sordino.assess.sources import Strength, port_power
from sordino.assess.spread import half_width, joined
from sordino.bands import Bands, add, energy_sum
from sordino.elements.element import Wall
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
    seen: set[int] = set()
    for carried in model.carriages:
        if carried.route.start.kind != "mover":
            continue
        strength = fan_strength(model, carried.route.start, setting)
        for index, station in enumerate(carried.stations):
            part = station.part
            wall = part.wall() if part is not None and part.within == place else None
            if wall is None or id(part) in seen:
                continue
            seen.add(id(part))
            inside = strength.levels + carried.arriving[index]
            own = made(model, station, state)
            inside = inside if own is None else add(inside, own)
            yield Contribution(
                cause="breakout",
                origin=station.run,
                via=station.run,
                station=station.label,
                levels=escaping(inside, wall, carried.drops[index]) + gain,
                spread=joined(
                    strength.spread,
                    {wall.scatter: half_width(wall.scatter)},
                    carried.spread,
                    model.fields[place].spread if place in model.fields else {},
                ),
            )


def escaping(inside: Bands, wall: Wall, drop: Bands) -> Bands:
    """Sound power through a duct wall: Lw - TL + 10 lg(Ao/Ai), the outer area shortened by the loss along the way.

    L_eff/L = (1 - 10^(-D/10)) 10 / (D ln 10) for a loss of D dB over the section; never more than what is inside.
    """
    loss = np.maximum(drop, 1e-3)
    share = (1.0 - 10.0 ** (-loss / 10.0)) * 10.0 / (loss * np.log(10.0))
    out = inside - wall.breakout + 10.0 * np.log10(wall.outer_area * share / wall.inner_area)
    return np.minimum(out, inside)


def surroundings(model: Acoustics, state: AirState) -> dict[str, Strength]:
    """Levels of the spaces that are not rooms: their own noise, casings in them, and ducts that leak into them."""
    found = {}
    for key, space in model.plan.space.items():
        field = model.fields.get(key)
        sounds: list[Contribution] = []
        if field is not None:
            sounds = [*casings(model, key, field.gain, state), *breakouts(model, key, field.gain, state)]
        levels = [sound.levels for sound in sounds]
        if space.noise is not None:
            levels.append(np.array(space.noise))
        elif space.kind == "outside" and model.plan.site.outdoor_noise is not None:
            levels.append(np.array(model.plan.site.outdoor_noise))
        if levels:
            width = {f"noise of {key}": np.full(9, 3.0)}
            found[key] = Strength(levels=energy_sum(levels), spread=joined(width, *[s.spread for s in sounds[:1]]))
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
            levels=levels[other].levels - shell.transmission_loss + 10.0 * np.log10(shell.area / absorption),
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
