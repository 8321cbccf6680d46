"""What the ducts do to a shell: the loss between two rooms by the wall, by the ducts, and by both."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import permutations

import numpy as np

from sordino.assess.acoustics import Acoustics
from sordino.assess.airborne import breakouts_from, through_shells
from sordino.assess.contribution import Contribution
from sordino.assess.ducted import from_around, from_places
from sordino.assess.sources import Strength
from sordino.assess.spread import moves
from sordino.bands import Bands, energy_sum

MARGIN = 10.0
"""The ducts should lose this much more than the shell, so that they cost it under half a decibel (arithmetic)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Isolation:
    """Level differences between two rooms, dB per octave; None where there is no such way."""

    source: str
    receiver: str
    shell: Bands | None
    ducts: Bands | None
    ways: tuple[tuple[str, Bands], ...]
    """Each way by duct with its level difference."""
    spread: Bands
    """Half-width of the lead, dB; 0 where there is none."""
    widest: tuple[str, ...]
    """The cause that widens it most, for each octave; empty where there is none."""

    @property
    def together(self) -> Bands | None:
        """Level difference by all ways."""
        known = [-loss for loss in (self.shell, self.ducts) if loss is not None]
        return -energy_sum(known) if known else None

    @property
    def lead(self) -> Bands | None:
        """How much more the ducts lose than the shell; negative where the ducts are the weaker way."""
        return None if self.shell is None or self.ducts is None else self.ducts - self.shell


def isolations(model: Acoustics) -> tuple[Isolation, ...]:
    """Every ordered pair of rooms that a shell or a duct joins."""
    pairs = (isolation(model, source, receiver) for source, receiver in permutations(model.plan.room, 2))
    return tuple(pair for pair in pairs if pair.shell is not None or pair.ducts is not None)


def isolation(model: Acoustics, source: str, receiver: str) -> Isolation:
    """From one room to another."""
    unit, field = {source: Strength(levels=np.zeros(9), spread={})}, model.fields[receiver]
    by_duct = [
        *from_places(model, receiver, lambda run: field.gain, {}, unit),
        *from_around(model, receiver, lambda run: field.gain, {}, unit),
        *breakouts_from(model, receiver, field.gain, unit),
    ]
    by_shell = [*through_shells(model, receiver, unit, "source")]
    spread, widest = _lead_spread(by_duct, by_shell)
    return Isolation(
        source=source,
        receiver=receiver,
        shell=-energy_sum([sound.levels for sound in by_shell]) if by_shell else None,
        ducts=-energy_sum([sound.levels for sound in by_duct]) if by_duct else None,
        ways=tuple((sound.via, -sound.levels) for sound in by_duct),
        spread=spread,
        widest=widest,
    )


def _lead_spread(by_duct: list[Contribution], by_shell: list[Contribution]) -> tuple[Bands, tuple[str, ...]]:
    """Half-width of the ducts' loss less the shell's, and its widest cause; what moves both alike cancels."""
    if not by_duct or not by_shell:
        return np.zeros(9), ("",) * 9
    moved = [_moved(sounds) for sounds in (by_duct, by_shell)]
    causes = tuple(dict.fromkeys(cause for each in moved for cause in each))
    if not causes:
        return np.zeros(9), ("",) * 9
    still = np.zeros(9)
    apart = np.array([np.abs(moved[0].get(cause, still) - moved[1].get(cause, still)) for cause in causes])
    known = np.nan_to_num(apart)
    return np.sqrt((known**2).sum(axis=0)), tuple(causes[int(at)] for at in known.argmax(axis=0))


def _moved(sounds: list[Contribution]) -> dict[str, Bands]:
    """By how much the sum of sounds rises with each cause, dB."""
    levels = [sound.levels for sound in sounds]
    causes, shifted = moves(levels, [sound.spread for sound in sounds])
    whole = energy_sum(levels)
    return {cause: up - whole for cause, up in zip(causes, shifted[0], strict=True)}
