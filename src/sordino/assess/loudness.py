"""From the sounds at a receiver to one figure with range: NC, NR or dBA, and the path and band that govern it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sordino.assess.contribution import Contribution
from sordino.assess.noise import Heard
from sordino.assess.spread import Ranged, band_range, ranged
from sordino.bands import OCTAVES, Array, Bands, energy_sum
from sordino.physics.sound.criteria import noise_criterion, noise_criterion_values, noise_rating, noise_rating_values
from sordino.physics.sound.weighting import a_level, a_weighting
from sordino.quantities import Target

NEGLIGIBLE = 20.0
"""Sounds this far under the whole in every band count in the sum but not in its range, dB."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Loudness:
    """The figure of one receiver in one mode, its spectrum with half-widths, and who is to blame."""

    heard: Heard
    scale: str
    rating: Ranged
    bound: str
    """`below` where the scale ends above the figure, `above` where it ends under it."""
    band: int
    levels: Bands
    below: Bands
    above: Bands
    governing: Contribution
    target: Target | None


def loudness(heard: Heard, target: Target | None) -> Loudness:
    """Rate what is heard, on the target's scale or NC."""
    scale = target.scale if target is not None else "NC"
    every = np.array([sound.levels for sound in heard.contributions])
    counts: Array = np.any(every > energy_sum(every) - NEGLIGIBLE, axis=1)
    sounds = [sound for sound, counted in zip(heard.contributions, counts, strict=True) if counted]
    rest = every[~counts]
    levels, spreads = [sound.levels for sound in sounds], [sound.spread for sound in sounds]
    if len(rest):
        levels, spreads = [*levels, energy_sum(rest)], [*spreads, {}]
    total = energy_sum(levels)
    band = governing_band(total, scale)
    below, above = band_range(levels, spreads)
    floor = 15.0 if scale == "NC" else 0.0 if scale == "NR" else -np.inf
    return Loudness(
        heard=heard,
        scale=scale,
        rating=ranged(levels, spreads, lambda bands: figure(bands, scale), floor),
        bound=_bound(total, scale),
        band=band,
        levels=total,
        below=below,
        above=above,
        governing=max(sounds, key=lambda sound: _share(sound.levels[band])),
        target=target,
    )


def figure(levels: Array, scale: str) -> Array:
    """NC, NR or dBA of spectra, (..., 9) -> (...)."""
    if scale == "NC":
        return noise_criterion_values(levels)
    return noise_rating_values(levels) if scale == "NR" else a_level(levels)


def governing_band(levels: Bands, scale: str) -> int:
    """Index of the band that sets the figure."""
    if scale == "NC":
        return noise_criterion(levels).band
    if scale == "NR":
        return noise_rating(levels).band
    return int(np.nanargmax(levels + a_weighting(OCTAVES)))


def _bound(levels: Bands, scale: str) -> str:
    if scale == "NC":
        return noise_criterion(levels).bound
    return noise_rating(levels).bound if scale == "NR" else ""


def _share(level: float) -> float:
    return -np.inf if np.isnan(level) else float(level)
