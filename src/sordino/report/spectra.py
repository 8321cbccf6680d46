"""Band by band: what each room will hear against its target, and the sounds that make it up."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.contribution import Contribution
from sordino.assess.loudness import Loudness
from sordino.assess.wording import rating_words, sound_words
from sordino.bands import Bands, energy_sum
from sordino.bands import name as band_name
from sordino.physics.sound.criteria import criterion_curve
from sordino.plan.statement import Plan
from sordino.quantities import Target
from sordino.report import layout
from sordino.report.phrases import heading_of

TOP = 5
"""Sounds shown by name for each receiver."""
LEAST_HEARD = 0.0
"""Level of a band that nobody hears, dB."""


def spectra(found: Assessment, modes: tuple[str, ...]) -> list[str]:
    """Noise of the ventilation in every room and at every window, and what it is made of."""
    lines = layout.heading("Noise of the ventilation, dB per octave")
    for (_, mode), heard in found.noise.items():
        if mode in modes:
            lines += [*_receiver(found, heard), ""]
    return lines[:-1]


def _receiver(found: Assessment, heard: Loudness) -> Iterator[str]:
    yield layout.band_head(f"{heading_of(found, heard)}: {rating_words(heard)}")
    yield from layout.band_row("  predicted", heard.levels)
    yield from layout.band_row("  could be as low as", heard.levels - heard.below)
    yield from layout.band_row("  could be as high as", heard.levels + heard.above)
    curve = target_curve(heard.target)
    if curve is not None:
        yield from layout.band_row(f"  target curve, {heard.target}", curve)
        yield from layout.band_row("  target minus predicted", curve - heard.levels, signed=True)
    elif heard.target is not None:
        yield f"  target: {heard.target}, which has no curve by bands"
    yield from _made_of(found.plan, heard)


def target_curve(target: Target | None) -> Bands | None:
    """Band levels of a target that has a curve."""
    return None if target is None else criterion_curve(target.scale, target.value)


def _made_of(plan: Plan, heard: Loudness) -> Iterator[str]:
    groups = grouped(plan, heard.heard.contributions)
    shown = shown_sounds(groups, heard.levels, heard.band)
    yield f"  made up of, loudest at {band_name(heard.band)} first:"
    for label in shown:
        yield from layout.band_row(f"    {label}", groups[label])
    rest = [levels for label, levels in groups.items() if label not in shown]
    if rest:
        yield from layout.band_row(f"    {len(rest)} others together", energy_sum(rest))


def shown_sounds(groups: dict[str, Bands], whole: Bands, band: int) -> list[str]:
    """The few sounds that make up most of some band, loudest in the band that governs first.

    Bands under LEAST_HEARD count only if all are; the loudest in the band that governs is always among them.
    """
    ranked = sorted(groups, key=lambda label: -_level(groups[label], band))
    if len(ranked) <= TOP + 1:
        return ranked
    heard = whole > LEAST_HEARD if np.any(whole > LEAST_HEARD) else np.isfinite(whole)
    share = {
        label: float(np.max(np.nan_to_num((levels - whole)[heard], nan=-np.inf))) for label, levels in groups.items()
    }
    chosen = {ranked[0], *sorted(ranked[1:], key=lambda label: -share[label])[: TOP - 1]}
    return [label for label in ranked if label in chosen]


def grouped(plan: Plan, sounds: tuple[Contribution, ...]) -> dict[str, Bands]:
    """Sounds by their words, the air noise of all stations heard at one opening taken together."""
    groups: dict[str, list[Bands]] = {}
    for sound in sounds:
        groups.setdefault(_group(plan, sound), []).append(sound.levels)
    return {label: energy_sum(levels) for label, levels in groups.items()}


def _group(plan: Plan, sound: Contribution) -> str:
    if sound.cause == "air":
        return f"air noise out of {sound.via}"
    if sound.cause == "break-in":
        return f"noise of {plan.spoken(sound.origin)} breaking into the ducts of {sound.via}"
    if sound.cause == "breakout":
        return f"sound through the duct walls of {sound.via}"
    return sound_words(plan, sound)


def _level(levels: Bands, band: int) -> float:
    return float(np.nan_to_num(levels[band], nan=-np.inf))
