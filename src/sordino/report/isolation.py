"""Sound from other rooms: what the shell loses, what the ducts lose, and what is heard of the loudest sources."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sordino.assess.assessment import Assessment
from sordino.assess.isolation import Isolation
from sordino.assess.loudness import Loudness
from sordino.assess.wording import rating_words
from sordino.report import layout
from sordino.report.spectra import grouped


def isolation(found: Assessment) -> list[str]:
    """Level differences between rooms, and the loudest sounds of the others in each."""
    lines: list[str] = []
    if found.isolations:
        lines += layout.heading("Loss between rooms by level difference, dB per octave")
    for pair in found.isolations:
        lines += [*_pair(found, pair), ""]
    if found.crosstalk:
        lines = [*lines[:-1], *layout.heading("Heard of the loudest sources in other rooms, dB per octave")]
    for heard in found.crosstalk.values():
        lines += [*_heard(found, heard), ""]
    return lines[:-1]


def _pair(found: Assessment, pair: Isolation) -> Iterator[str]:
    names = f"{found.plan.place_name(pair.source)} to {found.plan.place_name(pair.receiver)}"
    yield layout.band_head(names)
    if pair.shell is not None:
        yield from layout.band_row("  by the shell alone", pair.shell)
    if pair.ducts is not None:
        yield from layout.band_row("  by the ducts alone", pair.ducts)
    if pair.together is not None and pair.shell is not None and pair.ducts is not None:
        yield from layout.band_row("  by both together", pair.together)
        yield from layout.band_row("  what the ducts cost the shell", pair.shell - pair.together)
    if len(pair.ways) > 1:
        worst = _worst_band(pair)
        via, loss = min(pair.ways, key=lambda way: float(np.nan_to_num(way[1][worst], nan=np.inf)))
        yield from layout.band_row(f"  weakest duct way: {via}", loss)


def _worst_band(pair: Isolation) -> int:
    """Where the ducts are weakest beside the shell, or weakest at all; 31.5 Hz is left out."""
    measure = pair.lead if pair.lead is not None else pair.ducts
    return 1 if measure is None else int(np.nanargmin(measure[1:])) + 1


def _heard(found: Assessment, heard: Loudness) -> Iterator[str]:
    yield layout.band_head(f"{found.plan.place_name(heard.heard.place)}: {rating_words(heard)}")
    yield from layout.band_row("  predicted", heard.levels)
    yield from layout.band_row("  could be as low as", heard.levels - heard.below)
    yield from layout.band_row("  could be as high as", heard.levels + heard.above)
    ways = grouped(found.plan, heard.heard.contributions).items()
    for label, levels in sorted(ways, key=lambda item: -float(np.nan_to_num(item[1][heard.band], nan=-np.inf)))[:3]:
        yield from layout.band_row(f"    {label}", levels)
